"""Round work in its V-block: what is drawn of the vise round it, and how it is held, in words."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.pack.printed_figures import settable
from barstock.proving.holding.in_v_block import block, clamp
from barstock.quantities import Unit, show
from barstock.route import Holding, Vee
from barstock.solids.shapes import Solid, box
from barstock.words.size_figures import stack

JAW = 10.0  # of a jaw's thickness drawn [mm]
BESIDE = 6.0  # of the jaws drawn beside the block [mm]
UNDER = 4.0  # drawn under the block where it stands on parallels [mm]


def bodies(holding: Holding, vee: Vee) -> Iterator[tuple[str, Solid]]:
    """The vise, the block and its clamp, each with what it is."""
    left = max(holding.jaws_from, vee.low[0] - BESIDE)
    right = min(holding.jaws_to, vee.high[0] + BESIDE)
    floor = floor_of(vee)
    front, back = vee.low[1], 0.0 if vee.upright else vee.high[1]
    yield "fixed jaw", box((left, back, floor), (right, back + JAW, holding.jaw_top))
    yield "moving jaw", box((left, front - JAW, floor), (right, front, holding.jaw_top))
    yield "V-block", block(vee)
    if not vee.upright:
        yield "clamp", clamp(vee)
    if floor >= 0:
        wide, rest = holding.parallel_thickness, sum(holding.parallels)
        carried = (back,) if vee.upright else (back, front + wide)
        for y in carried:
            yield "parallels", box((left + 1, y - wide, floor), (right - 1, y, rest))
    else:
        yield "bed", box((left, front - JAW, floor), (right, back + JAW, 0.0))


def floor_of(vee: Vee) -> float:
    """Where the picture is broken off below [mm]: just under the block or, on the bed, the bed."""
    return vee.low[2] - UNDER


def _clamped(vee: Vee) -> str:
    share = (vee.clamp[0] - vee.low[0]) / (vee.high[0] - vee.low[0])
    middle = (vee.clamp[0] + vee.clamp[1] - vee.low[0] - vee.high[0]) / 2
    if abs(middle) < 1.0:
        return "in its middle"
    return "at its left end" if share < 0.5 else "at its right end"


def words(h: Holding, vee: Vee, stop: str, unit: Unit) -> tuple[tuple[str, str], ...]:
    """The holding as (label, words) pairs. stop: what touches it, in words."""
    mouth = show(vee.mouth, unit)
    on = f"parallels {stack(h.parallels, unit)}" if h.parallels else "the vise bed"
    if vee.upright:
        return (
            ("Held in", f"{h.device}, a V-block between the work and the moving jaw"),
            ("V-block", f"its {mouth} V upright, on the vise bed"),
            ("Up", h.up.value),
            ("Fixed jaw", h.fixed_jaw.value),
            ("Rests on", on),
            ("Grip", settable(h.grip, unit)),
        )
    way = "right" if vee.low[0] >= 0 else "left"
    return (
        ("Held in", f"a V-block with its clamp, gripped in {h.device} on {on}"),
        ("V-block", f"its {mouth} V up; its left end {show(abs(vee.low[0]), unit)} to the {way} of "
                    f"the stop; the clamp {_clamped(vee)}"),
        ("Up", h.up.value),
        ("Fixed jaw", h.fixed_jaw.value),
        ("Stop", stop),
    )  # fmt: skip
