"""Which instruments measure a sort of dimension, and how close they tell it."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.workshop.shop import Instrument

SUITED = {
    "outside": ("micrometer", "caliper"),
    "inside": ("gauge blocks", "pins", "inside micrometer", "caliper"),
    "depth": ("depth micrometer", "caliper"),
    "position": ("caliper",),
    "thread": ("thread gauge", "screw"),
    "angle": ("sine bar", "protractor"),
    "diameter": ("plug gauge", "pins", "inside micrometer", "caliper"),
    "countersink": ("caliper",),
    "bevel": ("caliper",),
    "radius": ("radius gauge",),
}
"""What can measure each sort of dimension, the surest first; common practice."""

CLOSE = {
    "caliper": 0.02,
    "micrometer": 0.005,
    "depth micrometer": 0.005,
    "inside micrometer": 0.01,
}
"""How far off, either way, an instrument in good order may tell a size [mm]; common practice."""


def able(
    of: str, size: float, owned: Sequence[Instrument], kinds: Sequence[str] = ()
) -> list[Instrument]:
    """The instruments owned that measure a sort of dimension and take that size [mm], the surest
    first; kinds: of these alone."""
    return [
        i
        for kind in kinds or SUITED.get(of, ("caliper",))
        for i in owned
        if i.kind == kind and (i.high <= 0 or i.low - 1e-9 <= size <= i.high + 1e-9)
    ]


def tells(one: Instrument) -> float:
    """How close an instrument tells a size, either way [mm]; 0 of one that is only tried."""
    return max(one.step, CLOSE.get(one.kind, 0.0)) if one.step else 0.0
