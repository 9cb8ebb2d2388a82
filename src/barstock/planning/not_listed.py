"""What the setups ask for and workshop.yaml does not list: taps for fixture blocks, what work is
set true or tilted by, boards under thin work."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from barstock.machines.dial import Dial
from barstock.planning.holding.ways import WAYS
from barstock.planning.tasks.tooling import taps
from barstock.quantities import INCH, Unit
from barstock.route import BodyKind, Holding, ReadingWay, Setup, TiltBy
from barstock.route.statements import Item, ItemKind
from barstock.stocking.bar_choice import Lacking
from barstock.workshop.shop import Tool, ToolKind, Workshop

GAUGES = {Unit.MM: 10.0, Unit.INCH: 3 / 8 * INCH}
LEAST, MOST = 5.0, 20.0
"""Height of what a cutter is touched on above the packing: wanted, at least, at most [mm]; common
practice."""


def touch_gauge(workshop: Workshop, used: Sequence[float], dial: Dial) -> tuple[float, str]:
    """The gauge under a cutter to be touched: its height [mm] and what it is, of what is owned; ""
    where nothing is. used: the parallels under the work already [mm]; dial: which Z is set by.
    """
    wanted = GAUGES[workshop.unit]
    for name, sizes in (
        ("gauge block", [s for i in workshop.instruments if i.kind == "gauge blocks"
                         for s in i.sizes]),
        ("parallel", [p for p in workshop.parallels if p not in used]),
        ("pin", [s for i in workshop.instruments if i.kind == "pins" for s in i.sizes]),
    ):  # fmt: skip
        fit = [s for s in sizes if LEAST <= s <= MOST and abs(dial.snap("Z", s) - s) < 1e-6]
        if fit:
            return min(fit, key=lambda size: (abs(size - wanted), size)), name
    return wanted, ""


def tool_to_buy(tool: Tool) -> Item:
    """A tool as it is asked for in a shop: the flutes are what it is bought for."""
    if tool.kind in (ToolKind.END_MILL, ToolKind.DRILL):
        named, flute = {"tool": tool.name}, {"flute": tool.flute}
        return Item(kind=ItemKind.FLUTED, names=named, lengths=flute)
    return Item(kind=ItemKind.TOOL, names={"tool": tool.name})


def bar_to_buy(short: Lacking) -> Item:
    """A bar that the rack has too little of."""
    named = {"material": short.bar.material, "bar": short.bar.name}
    return Item(
        kind=ItemKind.BAR, names=named, lengths={"total": short.total}, pieces=short.lengths
    )


def unlisted(
    setups: Sequence[Setup], workshop: Workshop, parts: Mapping[str, str] = MappingProxyType({})
) -> list[Item]:
    """The things that the setups ask for besides tools and bars. parts: of each work,
    by its name.
    """
    wanted: list[tuple[Item, list[str]]] = []
    for setup in setups:
        for item in _asked(setup, workshop, parts.get(setup.work, setup.work)):
            ids = next((ids for other, ids in wanted if other == item), None)
            if ids is None:
                wanted.append((item, [setup.id]))
            elif setup.id not in ids:
                ids.append(setup.id)
    return [item.model_copy(update={"setups": tuple(ids)}) for item, ids in wanted]


def _asked(setup: Setup, workshop: Workshop, part: str) -> Iterator[Item]:
    """What one setup asks for and the shop does not own."""
    holding = setup.holding
    if any(body.made for body in holding.bodies):
        for thread in sorted({body.thread for body in holding.bodies if body.thread}):
            if not taps(workshop, thread):
                yield Item(kind=ItemKind.TAP, names={"thread": thread})
    zeros = (setup.zero_x, setup.zero_y, setup.zero_z)
    if any(z.gauge and not z.gauge_of for z in zeros):
        yield Item(kind=ItemKind.TOUCH_GAUGE, lengths={"size": GAUGES[workshop.unit]})
    finders = any(t.kind is ToolKind.EDGE_FINDER for t in workshop.tools)
    if not finders and any(z.find not in ("top", "rest", "none") for z in zeros):
        yield Item(kind=ItemKind.EDGE_FINDER)
    for check in (c for o in setup.operations for c in o.checks):
        for read in check.read:
            if read.kind is ReadingWay.PINS_LACKING:
                yield Item(kind=ItemKind.PINS, names={"part": part}, lengths=read.lengths)
    owned = {instrument.kind for instrument in workshop.instruments}
    for kind in _set_by(holding):
        if kind not in owned:
            yield Item(kind=ItemKind.INSTRUMENT, names={"instrument": kind})
    for board in holding.of(BodyKind.BOARD):
        size = dict(zip(("long", "wide", "thick"), board.size, strict=True))
        yield Item(kind=ItemKind.BOARD, lengths=size)


def _set_by(holding: Holding) -> Iterator[str]:
    """The instruments by which work, or what it stands against, is set true, and work tilted."""
    yield from WAYS[holding.way].trued_by
    if holding.tilt_set and holding.tilt_set.by is TiltBy.PROTRACTOR:
        yield TiltBy.PROTRACTOR
