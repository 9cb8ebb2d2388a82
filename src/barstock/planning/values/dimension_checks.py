"""How each dimension an operation makes is checked with the instruments this shop owns."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from barstock.drawing.build import Part
from barstock.measuring.instruments import able, tells
from barstock.methods.cuts import FULL_THREAD, Check
from barstock.planning.values.hole_checks import depth_read, hole_read, too_narrow
from barstock.quantities import Dimension, Unit, show
from barstock.route import Expect
from barstock.workshop.shop import Instrument, Workshop

LACKING = "the pins owned cannot tell these limits: buy"
BY_THE_CUTTER = "by the cutter"
"""What the cutter's own form makes, and nothing measures."""


def expect(part: Part, feature: str, check: Check, workshop: Workshop, step: float) -> Expect:
    """The check of one dimension: instrument, limits, and the stack where blocks are used.

    step: the least difference the machine's axes can be set to [mm].
    """
    d = check.dimension
    own = check.how.startswith(BY_THE_CUTTER)
    tool = None if own else _instrument(check, workshop.instruments)
    low_stack: tuple[float, ...] = ()
    high_stack: tuple[float, ...] = ()
    note = ""
    if tool is not None and tool.kind == "gauge blocks" and check.of == "inside":
        low_stack, high_stack, note = _stacks(d.low, d.high, tool.sizes, part.unit)
    if own:
        pass
    elif tool is None and check.of == "thread":
        note = "try the mating screw, or a thread gauge"
    elif tool is None and check.of == "angle" and workshop.sine_bar:
        note = f"sine bar {workshop.sine_bar:g} mm on blocks, a dial indicator run along the floor"
    elif tool is None and check.of == "bevel":
        note = "a rule laid along it"
    elif tool is None and check.of == "radius":
        note = f"held against a washer or a bar {show(2 * d.middle, part.unit)} across"
    elif tool is None:
        note = "no instrument listed in workshop.yaml measures this"
    elif tool.kind == "pins" and tool.sizes:
        note = _go(d, tool.sizes, part.unit)
    elif 0 < d.high - d.low < 2 * tells(tool) - 1e-9:
        note = f"tells no closer than ±{show(tells(tool), part.unit)}: coarse for these limits"
    read = ""
    if check.hole and check.of == "depth":
        read = depth_read(check, tool, part.unit)
    elif check.hole:
        read = hole_read(check, part, workshop.instruments)
    notes = [read, note, _too_fine(check, workshop, step, part.unit)]
    return Expect(
        name=f"{feature}/{check.name}",
        how=check.how or check.of,
        with_=tool.name if tool else "",
        low=round(d.low, 5),
        nominal=round(d.nominal, 5),
        high=round(d.high, 5),
        text=d.text,
        angle=check.of == "angle",
        stack_low=low_stack,
        stack_high=high_stack,
        note="; ".join(n for n in notes if n),
    )


def _too_fine(check: Check, workshop: Workshop, step: float, unit: Unit) -> str:
    """Says where the limits ask more than the machine or the stop repeats."""
    band = check.dimension.high - check.dimension.low
    if check.of in ("angle", "thread", "countersink") or band <= 0:
        return ""
    if check.of in ("position", "outside", "depth") and band < 2 * step:
        finest = show(step, unit)
        return f"the limits are finer than the dial's {finest}: creep up, measure every cut"
    if check.of == "position" and band < 2 * workshop.stop_repeat:
        repeat = f"the stop repeats to ±{show(workshop.stop_repeat, unit)} only"
        return f"{repeat}: find the edge afresh on each copy"
    return ""


def _instrument(check: Check, owned: Sequence[Instrument]) -> Instrument | None:
    """The first suited instrument whose range holds the size and whose step suits the limits.

    What a hole does not let in comes last; a caliper's rod then, along what stands in the hole.
    """
    d = check.dimension
    found = able(check.of, d.middle, owned, ("caliper",) if check.how == FULL_THREAD else ())
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


def _go(d: Dimension, sizes: Sequence[float], unit: Unit) -> str:
    """Which pin enters a good hole and which does not, or what the pins cannot tell."""
    if d.high <= d.low:
        return ""
    go, not_go = _pins(d, sizes)
    if go < not_go:
        return f"the {show(go, unit)} pin enters, the {show(not_go, unit)} does not"
    want = f"a pin of {show(d.low, unit)} that enters and one of {show(d.high, unit)} that does not"
    return f"{LACKING} {want}, or a plug gauge"


def _stacks(
    low: float, high: float, sizes: Sequence[float], unit: Unit
) -> tuple[tuple[float, ...], tuple[float, ...], str]:
    """Stacks for both limits, standing at once where the set allows, and what to say of them."""
    from barstock.measuring.stacks import StackError, limit_pair

    note = "the low stack enters, the high one does not"
    for together in (True, False):
        try:
            go, not_go = limit_pair(round(low, 5), round(high, 5), sizes, together=together)
        except StackError:
            continue
        if go.error or not_go.error:
            made = f"{show(go.made, unit)} and {show(not_go.made, unit)}"
            note += f"; they are {made}, the nearest inside the limits that the set makes"
        if not together:
            note += "; they share blocks: build one after the other"
        return go.blocks, not_go.blocks, note
    return (), (), "the set makes no stack between the limits"
