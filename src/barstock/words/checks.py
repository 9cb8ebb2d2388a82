"""Checks in words: what is measured and how it is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.methods.cuts import Check
from barstock.route import Expect, HowRead, ReadingWay
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader
from barstock.words.remedies import all_of
from barstock.words.size_figures import limits, minus, stack


@dataclass(frozen=True)
class CheckLine:
    """One dimension to measure. size, limits: as drawn; gauges: blocks to lay together.

    hold: the closer limits that it must have here, "" where the drawing's do; besides: what else
    it takes for every copy to hold.
    """

    name: str
    size: str
    limits: str
    how: str
    gauges: tuple[str, ...] = ()
    note: str = ""
    hold: str = ""
    besides: str = ""


def check_line(check: Expect, reader: Reader) -> CheckLine:
    """A check as it is printed."""
    sized = check.low < check.high or not check.text  # a thread is tried by its gauge
    unit, angle = reader.unit, check.angle
    gauges = []
    if check.stack_low:
        gauges.append(f"enters: {stack(check.stack_low, unit)}")
    if check.stack_high:
        gauges.append(f"does not enter: {stack(check.stack_high, unit)}")
    told = [one for one in check.read if not (gauges and one.kind is ReadingWay.STACKS)]
    held = limits(check.hold_low, check.hold_high, unit, angle) if check.hold_high else ""
    return CheckLine(
        name=named(check),
        size=drawn(check) if sized else "",
        limits=limits(check.low, check.high, unit, angle) if sized else check.text,
        how=checked_with(check),
        gauges=tuple(gauges),
        note="; ".join(read(one, reader) for one in told),
        hold=held,
        besides=all_of(check.besides, reader),
    )


def named(check: Expect | Check) -> str:
    """The name of the dimension as it is printed.

    Where a feature has two of one name, the route numbers them; here the sizes beside tell them
    apart. An outline's radii are numbered by its points.
    """
    name = check.name.replace("/", ": ", 1)
    if not check.nth:
        return name
    if check.sort is CheckSort.RADIUS:
        return f"{name.removesuffix(f' {check.nth}')} at point {check.nth} of the outline"
    return name.removesuffix(f" ({check.nth})")


def drawn(check: Expect) -> str:
    """The size as the drawing has it."""
    return minus(check.text) + "°" * (check.angle and "°" not in check.text)


def checked_with(check: Expect) -> str:
    """The words for what is measured, and by which instrument."""
    return f"{measured(check)}, {check.with_}" if check.with_ else measured(check)


# -- what is measured ------------------------------------------------------------------------------

_OF_THE_PART = {
    (EndKind.FACE, EndKind.FACE): "{along} over the faces",
    (EndKind.SQUARED_END, EndKind.SQUARED_END): "{along} over the squared ends",
    (EndKind.FILED_FACE, EndKind.FILED_FACE): "{along} over the filed faces",
}
_FROM_A_FACE = {
    EndKind.HOLE: "centre from the {face}",
    EndKind.MIDDLE: "from the {face}",
    EndKind.CORNER: "from the {face}",
    EndKind.SURFACE: "from the {face}",
    EndKind.NEAR_WALL: "near wall from the {face}",
    EndKind.NEAR_END: "near end from the {face}",
    EndKind.FLOOR: "below the {face} face",
    EndKind.WALL: "from the {face} face to the wall",
    EndKind.PEAK: "from the {face} face to the peak",
}
_FROM_A_CENTRE_LINE = {
    EndKind.HOLE: "centre from the centre of {along}",
    EndKind.MIDDLE: "from the centre of {along}",
    EndKind.CORNER: "from the centre of {along}",
    EndKind.SURFACE: "from the centre",
}
_FROM_THE_MOUTH = {
    EndKind.FULL_DIAMETER: "full diameter, at the wall",
    EndKind.TAPPING_DRILL: "full diameter, at the wall, before the tap",
    EndKind.FULL_THREAD: "full thread",
    EndKind.COUNTERBORE: "from the face",
    EndKind.CONE: "from the face",
}
_OF_A_FEATURE = {
    (EndKind.WALL, EndKind.FACE): "wall to the {face} face",
    (EndKind.END, EndKind.END): "over all",
    (EndKind.END, EndKind.FACE): "over all",
    (EndKind.ROUND_END, EndKind.ROUND_END): "between the centres of the round ends",
    (EndKind.FLAT, EndKind.FACE): "flat to the {face} face",
    (EndKind.FLOOR, EndKind.FACE): "floor to the face it is cut in",
    (EndKind.RIM, EndKind.RIM): "across the top",
    (EndKind.HOLE, EndKind.NEXT_HOLE): "centre to centre along the {along}",
    (EndKind.HOLE, EndKind.LAST_HOLE): "first to last along the {along}",
}
MEASURED: Mapping[tuple[EndKind, EndKind], str] = {
    **_OF_THE_PART,
    **{(EndKind.FACE, to): words for to, words in _FROM_A_FACE.items()},
    **{(EndKind.CENTRE_LINE, to): words for to, words in _FROM_A_CENTRE_LINE.items()},
    **{(EndKind.MOUTH, to): words for to, words in _FROM_THE_MOUTH.items()},
    **_OF_A_FEATURE,
}
"""What is measured, by what it runs between."""

BY_SORT: Mapping[tuple[CheckSort, EndKind], str] = {
    (CheckSort.INSIDE, EndKind.CUTTER): "by the cutter's own radius",
    (CheckSort.ANGLE, EndKind.CUTTER): "by the cutter",
    (CheckSort.INSIDE, EndKind.WALL): "inside",
    (CheckSort.DIAMETER, EndKind.WALL): "diameter",
    (CheckSort.DIAMETER, EndKind.COUNTERBORE): "diameter",
    (CheckSort.OUTSIDE, EndKind.WALL): "between the walls",
    (CheckSort.DEPTH, EndKind.PEAK): "depth",
}
"""The same where the sort of size tells it apart, by what it runs to."""


def measured(check: Expect) -> str:
    """The words for what is measured, as the trade has them."""
    if check.sort is CheckSort.THREAD:
        return f"{check.text} screw or plug gauge"
    if check.sort is CheckSort.BEVEL:
        return "leg of the bevel"
    if check.runs is None:
        return check.sort.value
    one, other = check.runs
    if one.kind is other.kind is EndKind.FLOOR:
        return "from floor to floor" + (f" at the {one.face} end" if one.face else "")
    by_sort = BY_SORT.get((check.sort, other.kind))
    words = by_sort or MEASURED.get((one.kind, other.kind), check.sort.value)
    return words.format(face=one.face or other.face, along=one.along or other.along)


# -- how it is read --------------------------------------------------------------------------------


def _from(told: HowRead, reader: Reader) -> str:
    """The reading from a face to what stands for the hole's centre, and the sum of it."""
    lengths = {name: reader.length(mm) for name, mm in told.lengths.items()}
    limits_ = reader.limits(told.lengths["low"], told.lengths["high"])
    face, sum_ = f"the {told.names.get('face')}", "place"
    if "axis" in told.names:
        axis = told.names["axis"]
        face = f"the nearer face, the {axis} being {lengths['whole']},"
        sum_ = f"half the {axis} less the place"
    if told.kind is ReadingWay.FROM_WALL:
        where, sum_ = "the hole's near wall", f"{sum_} less half the hole"
    else:
        pin = told.kind is ReadingWay.OVER_PIN
        stands = f"a {lengths['pin']} pin" if pin else "the drill's own shank"
        where, sum_ = f"the far side of {stands} in it", f"{sum_} and half the pin"
    return f"from {face} to {where} {lengths['reading']} ({limits_}): {sum_}, {lengths['added']}"


def _between_walls(told: HowRead, reader: Reader) -> str:
    reading, added = (reader.length(told.lengths[name]) for name in ("reading", "added"))
    limits_ = reader.limits(told.lengths["low"], told.lengths["high"])
    return f"between the holes' near walls {reading} ({limits_}): centres less one hole, {added}"


def _stacks(told: HowRead, reader: Reader) -> str:
    words = "the low stack enters, the high one does not"
    if told.lengths:
        low, high = (reader.length(told.lengths[name]) for name in ("made_low", "made_high"))
        words += f"; they are {low} and {high}, the nearest inside the limits that the set makes"
    return words + ("; they share blocks: build one after the other" if told.numbers else "")


READ: Mapping[ReadingWay, Sentence[HowRead]] = {
    ReadingWay.FROM_WALL: _from,
    ReadingWay.OVER_PIN: _from,
    ReadingWay.OVER_DRILL: _from,
    ReadingWay.BETWEEN_WALLS: _between_walls,
    ReadingWay.SCREW: "turn a screw of known length in by hand until it stops: its length less "
    "what stands out of the hole",
    ReadingWay.STANDING_DRILL: "its rod, {rod}, does not enter: stand the drill in the hole, shank "
    "down, or a pin as wide as the hole; its length less what stands out of the hole",
    ReadingWay.STACKS: _stacks,
    ReadingWay.NO_STACK: "the set makes no stack between the limits",
    ReadingWay.PINS: "the {go} pin enters, the {not_go} does not",
    ReadingWay.PINS_LACKING: "the pins owned cannot tell these limits: buy a pin of {go} that "
    "enters and one of {not_go} that does not, or a plug gauge",
    ReadingWay.MATING_SCREW: "try the mating screw, or a thread gauge",
    ReadingWay.SINE_BAR: "sine bar {bar} on blocks, a dial indicator run along the floor",
    ReadingWay.RULE: "a rule laid along it",
    ReadingWay.ROUND_BAR: "held against a washer or a bar {across} across",
    ReadingWay.NOTHING_LISTED: "no instrument listed in workshop.yaml measures this",
    ReadingWay.COARSE: "tells no closer than ±{tells}: coarse for these limits",
    ReadingWay.COARSE_TO_HOLD: "closer than the {instrument} tells, ±{tells}: dial it exactly from "
    "a zero found twice, and hold the drawing's limits by the {instrument}",
    ReadingWay.COARSE_DIAL: "the limits are finer than the dial's {step}: creep up, measure every "
    "cut",
    ReadingWay.STOP_REPEATS: "the stop repeats to ±{repeats} only: find the edge afresh on each "
    "copy",
}


def read(told: HowRead, reader: Reader) -> str:
    """The words for one thing to know of how a check is read."""
    return filled(READ[told.kind], told, reader)
