"""How the place and depth of a made hole are read: no instrument finds its centre, so from a wall
or a pin; no rod goes down a narrow hole, so by what stands in it.
"""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import AXES, Part
from barstock.methods.cuts import FULL_THREAD, Check
from barstock.quantities import Unit, show
from barstock.workshop.shop import Instrument

JAWS = 3.0
"""The least hole that a caliper's inside jaws measure well in [mm]. Common practice."""
LOOSE = 0.05
"""A pin so much smaller than the hole still stands for it [mm]. Common practice."""


def hole_read(check: Check, part: Part, owned: Sequence[Instrument]) -> str:
    """What the instrument reads, with limits, where `check` is of a made hole's centre.

    The near wall stands half the hole nearer than the centre; the far side of a pin in it, half the
    pin farther.
    """
    half, unit = check.hole / 2, part.unit
    low, middle, high = sorted((check.dimension.low, check.dimension.middle, check.dimension.high))
    if "from" not in check.name.split():
        low, middle, high = low - 2 * half, middle - 2 * half, high - 2 * half
        return (
            f"between the holes' near walls {show(middle, unit)} ({show(low, unit)} to "
            f"{show(high, unit)}): centres less one hole, {show(2 * half, unit)}"
        )
    face, sums = check.how.removeprefix("centre from "), "place"
    centre = f"{check.name} ".startswith
    axis = next((i for i, word in enumerate(AXES) if centre(f"from centre of {word} ")), None)
    if axis is not None:
        whole = part.size[axis]
        low, middle, high = sorted(whole / 2 - abs(at) for at in (low, middle, high))
        face = f"the nearer face, the {AXES[axis]} being {show(whole, unit)},"
        sums = f"half the {AXES[axis]} less the place"
    if check.hole >= JAWS and low - half > 0:
        sums, where, add = f"{sums} less half the hole", "the hole's near wall", -half
    else:
        pin = _pin(check.hole, owned)
        stands = f"a {show(pin, unit)} pin" if pin else "the drill's own shank"
        half = (pin or check.hole) / 2
        sums, where, add = f"{sums} and half the pin", f"the far side of {stands} in it", half
    return (
        f"from {face} to {where} {show(middle + add, unit)} ({show(low + add, unit)} to "
        f"{show(high + add, unit)}): {sums}, {show(half, unit)}"
    )


def too_narrow(check: Check, one: Instrument) -> bool:
    """Does the hole whose depth is checked not let the instrument's rod in?"""
    return check.of == "depth" and 0 < check.hole < one.rod


def depth_read(check: Check, tool: Instrument | None, unit: Unit) -> str:
    """How the depth of a narrow hole or of a thread is found with what an instrument measures.

    A pin as wide as the hole stands where its full diameter ends, whatever the drill's point left
    below; the drilled hole is deeper than its thread, but a screw stops where the full thread does.
    Common practice.
    """
    if check.how == FULL_THREAD:
        return (
            "turn a screw of known length in by hand until it stops: its length less what stands "
            "out of the hole"
        )
    if tool is None or not too_narrow(check, tool):
        return ""
    return (
        f"its rod, {show(tool.rod, unit)}, does not enter: stand the drill in the hole, shank "
        "down, or a pin as wide as the hole; its length less what stands out of the hole"
    )


def _pin(hole: float, owned: Sequence[Instrument]) -> float | None:
    """The greatest pin owned that stands in the hole without shake [mm]."""
    sizes = [size for i in owned if i.kind == "pins" for size in i.sizes]
    return max((s for s in sizes if hole - LOOSE <= s <= hole + 1e-6), default=None)
