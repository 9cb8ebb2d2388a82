"""How each dimension an operation makes is checked with the instruments this shop owns."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from barstock.drawing.build import Part
from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.measuring.instruments import able, tells
from barstock.methods.cuts import Check
from barstock.planning.values.hole_checks import depth_read, place_read, too_narrow
from barstock.quantities import Dimension
from barstock.route import Expect, HowRead, ReadingWay
from barstock.workshop.shop import Instrument, Workshop

Stacks = tuple[tuple[float, ...], tuple[float, ...]]


def expect(part: Part, feature: str, check: Check, workshop: Workshop, step: float) -> Expect:
    """The check of one dimension: instrument, limits, and the stack where blocks are used.

    step: the least difference the machine's axes can be set to [mm].
    """
    d = check.dimension
    by_cutter = check.has(EndKind.CUTTER)
    tool = None if by_cutter else _instrument(check, workshop.instruments)
    stacks: Stacks = ((), ())
    with_it: HowRead | None = None
    if by_cutter:
        pass
    elif tool is None:
        with_it = _without(check, workshop)
    elif tool.kind == "gauge blocks" and check.sort is CheckSort.INSIDE:
        stacks, with_it = _stacks(d.low, d.high, tool.sizes)
    elif tool.kind == "pins" and tool.sizes:
        with_it = _pins_read(d, tool.sizes)
    elif 0 < d.high - d.low < 2 * tells(tool) - 1e-9:
        with_it = HowRead(kind=ReadingWay.COARSE, lengths={"tells": tells(tool)})
    found = None
    if check.hole and check.sort is CheckSort.DEPTH:
        found = depth_read(check, tool)
    elif check.hole:
        found = place_read(check, part, workshop.instruments)
    read = (found, with_it, _too_fine(check, workshop, step))
    return Expect(
        name=f"{feature}/{check.name}",
        nth=check.nth,
        sort=check.sort,
        runs=check.runs,
        low=round(d.low, 5),
        nominal=round(d.nominal, 5),
        high=round(d.high, 5),
        text=d.text,
        with_=tool.name if tool else "",
        with_kind=tool.kind if tool else "",
        read=tuple(one for one in read if one is not None),
        stack_low=stacks[0],
        stack_high=stacks[1],
    )


def _without(check: Check, workshop: Workshop) -> HowRead:
    """How a dimension is told that no instrument owned measures."""
    if check.sort is CheckSort.THREAD:
        return HowRead(kind=ReadingWay.MATING_SCREW)
    if check.sort is CheckSort.ANGLE and workshop.sine_bar:
        return HowRead(kind=ReadingWay.SINE_BAR, lengths={"bar": workshop.sine_bar})
    if check.sort is CheckSort.BEVEL:
        return HowRead(kind=ReadingWay.RULE)
    if check.sort is CheckSort.RADIUS:
        across = {"across": 2 * check.dimension.middle}
        return HowRead(kind=ReadingWay.ROUND_BAR, lengths=across)
    return HowRead(kind=ReadingWay.NOTHING_LISTED)


def _too_fine(check: Check, workshop: Workshop, step: float) -> HowRead | None:
    """Says where the limits ask more than the machine or the stop repeats."""
    band = check.dimension.high - check.dimension.low
    if band <= 0:
        return None
    dialled = (CheckSort.POSITION, CheckSort.OUTSIDE, CheckSort.DEPTH)
    if check.sort in dialled and band < 2 * step:
        return HowRead(kind=ReadingWay.COARSE_DIAL, lengths={"step": step})
    if check.sort is CheckSort.POSITION and band < 2 * workshop.stop_repeat:
        repeats = {"repeats": workshop.stop_repeat}
        return HowRead(kind=ReadingWay.STOP_REPEATS, lengths=repeats)
    return None


def _instrument(check: Check, owned: Sequence[Instrument]) -> Instrument | None:
    """The first suited instrument whose range holds the size and whose step suits the limits.

    What a hole does not let in comes last; a caliper's rod then, along what stands in the hole.
    """
    d = check.dimension
    kinds = ("caliper",) if check.has(EndKind.FULL_THREAD) else ()
    found = able(check.sort, d.middle, owned, kinds)
    entering = [i for i in found if not too_narrow(check, i)]
    found = entering or [i for i in found if i.kind == "caliper"] or found
    fine = [i for i in found if _fine(i, d)]
    return (fine or found or [None])[0]  # type: ignore[list-item]


def _fine(one: Instrument, d: Dimension) -> bool:
    """Does it tell a size within the limits from one outside them?"""
    if one.kind == "pins" and one.sizes:
        go, not_go = _pins(d, one.sizes)
        return go < not_go
    return not one.step or one.step <= (d.high - d.low) / 5


def _pins(d: Dimension, sizes: Sequence[float]) -> tuple[float, float]:
    """The least pin that is no smaller than the low limit, the greatest no larger than the high.

    The first not less than the second where the limits cannot be told by two of the pins [mm].
    """
    go = min((size for size in sizes if size >= d.low - 1e-6), default=inf)
    return go, max((size for size in sizes if size <= d.high + 1e-6), default=0.0)


def _pins_read(d: Dimension, sizes: Sequence[float]) -> HowRead | None:
    """Which pin enters a good hole and which does not, or what pins would tell the limits."""
    if d.high <= d.low:
        return None
    go, not_go = _pins(d, sizes)
    if go < not_go:
        return HowRead(kind=ReadingWay.PINS, lengths={"go": go, "not_go": not_go})
    wanted = {"go": d.low, "not_go": d.high}
    return HowRead(kind=ReadingWay.PINS_LACKING, lengths=wanted)


def _stacks(low: float, high: float, sizes: Sequence[float]) -> tuple[Stacks, HowRead]:
    """Stacks for both limits, standing at once where the set allows, and what to know of them.

    made_low, made_high: what they are where the set makes the limits only nearly.
    """
    from barstock.measuring.stacks import StackError, limit_pair

    for together in (True, False):
        try:
            go, not_go = limit_pair(round(low, 5), round(high, 5), sizes, together=together)
        except StackError:
            continue
        near = bool(go.error or not_go.error)
        made = {"made_low": go.made, "made_high": not_go.made} if near else {}
        in_turn = {} if together else {"in turn": 1.0}
        read = HowRead(kind=ReadingWay.STACKS, lengths=made, numbers=in_turn)
        return (go.blocks, not_go.blocks), read
    return ((), ()), HowRead(kind=ReadingWay.NO_STACK)
