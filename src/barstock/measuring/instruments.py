"""Which instruments measure a sort of dimension, and how closely they tell it."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.dimension_runs import CheckSort
from barstock.workshop.shop import Instrument

SUITED = {
    CheckSort.OUTSIDE: ("micrometer", "caliper"),
    CheckSort.INSIDE: ("gauge blocks", "pins", "inside micrometer", "caliper"),
    CheckSort.DEPTH: ("depth micrometer", "caliper"),
    CheckSort.POSITION: ("caliper",),
    CheckSort.THREAD: ("thread gauge", "screw"),
    CheckSort.ANGLE: ("sine bar", "protractor"),
    CheckSort.DIAMETER: ("plug gauge", "pins", "inside micrometer", "caliper"),
    CheckSort.COUNTERSINK: ("caliper",),
    CheckSort.BEVEL: ("caliper",),
    CheckSort.RADIUS: ("radius gauge",),
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
    sort: CheckSort, size: float, owned: Sequence[Instrument], kinds: Sequence[str] = ()
) -> list[Instrument]:
    """The instruments owned that measure a sort of dimension and take that size [mm], the surest
    first; kinds: of these alone.
    """
    return [
        i
        for kind in kinds or SUITED[sort]
        for i in owned
        if i.kind == kind and (i.high <= 0 or i.low - 1e-9 <= size <= i.high + 1e-9)
    ]


def tells(one: Instrument) -> float:
    """How closely an instrument tells a size, either way [mm]; 0 of one that is only tried."""
    return max(one.step, CLOSE.get(one.kind, 0.0)) if one.step else 0.0
