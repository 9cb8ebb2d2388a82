"""Which dimensions hand work can hold: those whose limits are wide enough for it."""

from __future__ import annotations

from barstock.drawing.dimension_runs import CheckSort
from barstock.handbook.hand_limits import FILED, FILED_ANGLE, MARKED_HOLE
from barstock.methods.cuts import Check

GIVEN_BY_TOOL = (
    CheckSort.DIAMETER,
    CheckSort.THREAD,
    CheckSort.COUNTERSINK,
    CheckSort.BEVEL,
    CheckSort.RADIUS,
)


def wide_enough(check: Check, hole: bool) -> bool:
    """Are the limits of a dimension wide enough for work by hand? hole: is it of a hole?"""
    if check.sort in GIVEN_BY_TOOL:
        return True
    half = (check.dimension.plus - check.dimension.minus) / 2
    if check.sort is CheckSort.ANGLE:
        return half >= FILED_ANGLE - 1e-9
    placed = hole and check.sort is CheckSort.POSITION
    return half >= (MARKED_HOLE if placed else FILED) - 1e-9
