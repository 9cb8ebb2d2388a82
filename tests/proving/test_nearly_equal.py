"""Holes that lie where the readings' rounding puts them: nearly, but not quite, the drawn ones."""

from math import cos, pi, radians, sin

import pytest

from barstock.proving.compare import compare
from barstock.proving.wanted import Wanted
from barstock.solids.shapes import box, cylinder

COUNT = 6
CIRCLE = 5.0
RADIUS = 2.0
HIGH = 22.0


def holes(steps, radius=RADIUS, count=COUNT):
    """Holes on a circle, their places rounded to so small steps [mm]."""
    for n in range(count):
        x, y = (
            round((middle + CIRCLE * turn(radians(360 / COUNT * n))) / steps) * steps
            for middle, turn in ((9.75, cos), (9.5, sin))
        )
        yield cylinder((x, y, -1.0), (0.0, 0.0, 1.0), radius, HIGH + 2)


@pytest.fixture
def want():
    block, drawn = box((0, 0, 0), (19.5, 19, HIGH)), list(holes(1e-9))
    return Wanted("plate", block.cut(*drawn), {"holes": drawn[0].fuse(*drawn[1:])})


def test_places_rounded_to_the_readout_are_as_drawn(want):
    block = box((0, 0, 0), (19.5, 19, HIGH))
    found = compare(want, block.cut(*holes(0.005)), [])
    assert not found.violations
    assert found.deviation <= 0.0036  # half a step along both axes: 0.0025 times the root of 2


def test_a_hole_left_out_among_them_is_seen(want):
    block = box((0, 0, 0), (19.5, 19, HIGH))
    found = compare(want, block.cut(*holes(0.005, count=COUNT - 1)), [])
    assert any("never made" in v.what or "left on" in v.what for v in found.violations)
    # what is left is that hole's whole cylinder
    assert found.left == pytest.approx(pi * RADIUS**2 * HIGH, rel=0.01)
    assert RADIUS / 2 < found.deviation <= RADIUS  # the deepest of the places looked at


@pytest.mark.parametrize("by", [0.05, 0.3])
def test_holes_too_wide_by_more_than_their_limits_are_seen(want, by):
    block = box((0, 0, 0), (19.5, 19, HIGH))
    found = compare(want, block.cut(*holes(0.005, RADIUS + by)), [])
    assert found.violations
    assert found.deviation == pytest.approx(by, abs=0.01)
