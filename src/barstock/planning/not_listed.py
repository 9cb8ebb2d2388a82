"""What the setups ask for and workshop.yaml does not list: taps for fixture blocks, what work is
set true or tilted by, boards under thin work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from types import MappingProxyType

from barstock.planning.tasks.tooling import taps
from barstock.planning.values.dial import Dial
from barstock.quantities import INCH, Unit, show
from barstock.route import BodyKind, ReadingWay, Setup
from barstock.workshop.shop import ToolKind, Workshop

SET_BY = ("dial indicator", "protractor")
GAUGES = {Unit.MM: 10.0, Unit.INCH: 3 / 8 * INCH}
LEAST, MOST = 5.0, 20.0
"""Height of what a cutter is touched on above the packing: wanted, at least, at most [mm]; common
practice."""


def touch_gauge(workshop: Workshop, used: Sequence[float], dial: Dial) -> tuple[float, str]:
    """What stands under a cutter to be touched: its height [mm] and what it is, of what is owned;
    "" where nothing is. used: the parallels under the work already [mm]; dial: which Z is set by.
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


def unlisted(
    setups: Sequence[Setup], workshop: Workshop, units: Mapping[str, Unit] = MappingProxyType({})
) -> list[str]:
    """What to buy or borrow, in words, with the setups it is for. units: of each work's drawing."""
    owned = {instrument.kind for instrument in workshop.instruments}
    finders = any(t.kind is ToolKind.EDGE_FINDER for t in workshop.tools)
    wanted: dict[str, list[str]] = {}
    for setup in setups:
        made = any(body.made for body in setup.holding.bodies)
        threads = {body.thread for body in setup.holding.bodies if made and body.thread}
        found = [f"tap {thread}" for thread in sorted(threads) if not taps(workshop, thread)]
        zeros = (setup.zero_x, setup.zero_y, setup.zero_z)
        if any(z.gauge and not z.gauge_of for z in zeros):
            size = show(GAUGES[workshop.unit], workshop.unit)
            found.append(f"gauge to touch cutters on, {size}: a block or a pin of that size")
        if not finders and any(z.find not in ("top", "rest", "none") for z in zeros):
            found.append("edge finder")
        found += [
            _pins(read.lengths, units.get(setup.work, workshop.unit))
            for operation in setup.operations
            for check in operation.checks
            for read in check.read
            if read.kind is ReadingWay.PINS_LACKING
        ]
        told = " ".join([setup.holding.tilt_by, *(step.words for step in setup.steps)])
        found += [kind for kind in SET_BY if kind in told and kind not in owned]
        for board in setup.holding.of(BodyKind.BOARD):
            long, wide, thick = board.size
            size = f"{10 * ceil(long / 10)} x {10 * ceil(wide / 10)}"
            found.append(f"flat board to cut into, {size} x {thick:g} mm")
        for name in dict.fromkeys(found):
            wanted.setdefault(name, []).append(setup.id)
    return [
        f"{name}, for setup{'s' * (len(ids) > 1)} {', '.join(ids)}" for name, ids in wanted.items()
    ]


def _pins(limits: Mapping[str, float], unit: Unit) -> str:
    """The two pins that would tell a hole's limits."""
    go, not_go = (show(limits[name], unit) for name in ("go", "not_go"))
    return f"a pin of {go} that enters and one of {not_go} that does not, or a plug gauge"
