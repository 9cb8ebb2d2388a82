"""How the place of a made hole is read: no instrument finds its centre, so from a wall or a pin."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.model import AXES, Part
from barstock.methods.cuts import Check
from barstock.quantities import show
from barstock.workshop.model import Instrument

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


def _pin(hole: float, owned: Sequence[Instrument]) -> float | None:
    """The greatest pin owned that stands in the hole without shake [mm]."""
    sizes = [size for i in owned if i.kind == "pins" for size in i.sizes]
    return max((s for s in sizes if hole - LOOSE <= s <= hole + 1e-6), default=None)
