"""How the place and depth of a made hole are read: no instrument finds its centre, so from a wall
or a pin; no rod goes down a narrow hole, so by what stands in it.
"""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import AXES, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.methods.cuts import Check
from barstock.route import HowRead, ReadingWay
from barstock.workshop.shop import Instrument

JAWS = 3.0
"""The least hole that a caliper's inside jaws measure well in [mm]. Common practice."""
LOOSE = 0.05
"""A pin so much smaller than the hole still stands for it [mm]. Common practice."""


def place_read(check: Check, part: Part, owned: Sequence[Instrument]) -> HowRead:
    """The reading of the instrument, with limits, where `check` is of a made hole's centre.

    The near wall stands half the hole nearer than the centre; the far side of a pin in it, half the
    pin farther. From a centre line it is the nearer face that is read from.
    """
    half = check.hole / 2
    low, middle, high = sorted((check.dimension.low, check.dimension.middle, check.dimension.high))
    if check.runs is None or check.has(EndKind.NEXT_HOLE, EndKind.LAST_HOLE):
        return _reads(ReadingWay.BETWEEN_WALLS, (low, middle, high), -2 * half, {}, {})
    origin = check.runs[0]
    names: dict[str, str] = {}
    others: dict[str, float] = {}
    if origin.kind is EndKind.CENTRE_LINE and origin.axis is not None:
        names["axis"], others["whole"] = AXES[origin.axis], part.size[origin.axis]
        low, middle, high = sorted(others["whole"] / 2 - abs(at) for at in (low, middle, high))
    elif origin.face is not None:
        names["face"] = origin.face.value
    if check.hole >= JAWS and low - half > 0:
        kind, add = ReadingWay.FROM_WALL, -half
    elif pin := _pin(check.hole, owned):
        kind, add, others["pin"] = ReadingWay.OVER_PIN, pin / 2, pin
    else:
        kind, add = ReadingWay.OVER_DRILL, half
    return _reads(kind, (low, middle, high), add, others, names)


def _reads(
    kind: ReadingWay,
    limits: tuple[float, float, float],
    add: float,
    others: dict[str, float],
    names: dict[str, str],
) -> HowRead:
    """The reading and its limits, so much more or less than the place [mm]."""
    low, middle, high = (value + add for value in limits)
    lengths = {"low": low, "reading": middle, "high": high, "added": abs(add), **others}
    return HowRead(kind=kind, lengths=lengths, names=names)


def too_narrow(check: Check, one: Instrument) -> bool:
    """Does the hole whose depth is checked not let the instrument's rod in?"""
    return check.sort is CheckSort.DEPTH and 0 < check.hole < one.rod


def depth_read(check: Check, tool: Instrument | None) -> HowRead | None:
    """How the depth of a narrow hole or of a thread is found with what an instrument measures.

    A pin as wide as the hole stands where its full diameter ends, whatever the drill's point left
    below; the drilled hole is deeper than its thread, but a screw stops where the full thread does.
    Common practice.
    """
    if check.has(EndKind.FULL_THREAD):
        return HowRead(kind=ReadingWay.SCREW)
    if tool is None or not too_narrow(check, tool):
        return None
    return HowRead(kind=ReadingWay.STANDING_DRILL, lengths={"rod": tool.rod})


def _pin(hole: float, owned: Sequence[Instrument]) -> float | None:
    """The greatest pin owned that stands in the hole without shake [mm]."""
    sizes = [size for i in owned if i.kind == "pins" for size in i.sizes]
    return max((s for s in sizes if hole - LOOSE <= s <= hole + 1e-6), default=None)
