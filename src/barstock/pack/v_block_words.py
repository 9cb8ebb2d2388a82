"""How round work is held in a V-block, in words."""

from __future__ import annotations

from barstock.pack.printed_figures import settable
from barstock.quantities import Unit, show
from barstock.route import Body, BodyKind, Holding
from barstock.words.size_figures import stack


def _clamped(h: Holding, vee: Body) -> str:
    (clamp,) = h.of(BodyKind.CLAMP)
    share = (clamp.low[0] - vee.low[0]) / vee.size[0]
    middle = clamp.middle[0] - vee.middle[0]
    if abs(middle) < 1.0:
        return "in its middle"
    return "at its left end" if share < 0.5 else "at its right end"


def words(h: Holding, vee: Body, stop: str, unit: Unit) -> tuple[tuple[str, str], ...]:
    """The holding as (label, words) pairs. stop: what touches it, in words."""
    mouth = show(vee.mouth, unit)
    on = f"parallels {stack(h.parallels, unit)}" if h.parallels else "the vise bed"
    if vee.bears == "back":
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
                    f"the stop; the clamp {_clamped(h, vee)}"),
        ("Up", h.up.value),
        ("Fixed jaw", h.fixed_jaw.value),
        ("Stop", stop),
    )  # fmt: skip
