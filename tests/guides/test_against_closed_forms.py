"""The plain rectangle between parallel guides, by formulas worked out beside each check."""

from __future__ import annotations

from math import asin, atan2, degrees, hypot, radians, sin

import numpy as np
import pytest

from barstock.mechanism.guides.guide_faces import Faces, faces
from barstock.mechanism.guides.guide_play import MOTIONS, reach
from barstock.mechanism.guides.guide_sizes import variants
from barstock.mechanism.guides.motion_over_limits import by_chance, throw, weights, worst

from .conftest import PLAIN, Written

LONG, WIDE, GAP = 40.0, 20.0, 20.45
"""20.4 +0.1/0 apart, drawn in the middle of its limits as parts are."""


@pytest.fixture
def plain(written: Written) -> Faces:
    build = written(PLAIN)
    assert build.mechanism
    return faces(build.mechanism.guides[0], variants(build))


def turn(long: float, wide: float, gap: float) -> float:
    """Where wide cos t + long sin t = gap: the rectangle's diagonal spans the gap [radians]."""
    return asin(gap / hypot(long, wide)) - atan2(wide, long)


def test_pitch_until_opposite_corners_touch(plain: Faces) -> None:
    for way in (MOTIONS["pitch"], MOTIONS["pitch"].back()):
        assert reach(plain, way).amount[0] == pytest.approx(turn(LONG, WIDE, GAP), abs=1e-9)


def test_twist_goes_by_the_height_of_the_block(plain: Faces) -> None:
    assert reach(plain, MOTIONS["twist"]).amount[0] == pytest.approx(turn(16, WIDE, GAP), abs=1e-9)


def test_shift_is_half_the_play_and_nothing_stops_tilt_or_rise(plain: Faces) -> None:
    assert reach(plain, MOTIONS["ahead"]).amount[0] == pytest.approx((GAP - WIDE) / 2, abs=1e-9)
    for name in ("tilt", "sideways", "rise"):
        assert np.isinf(reach(plain, MOTIONS[name]).amount[0])


def test_a_block_that_stands_out_of_a_short_guide(written: Written) -> None:
    # the guide's corners now touch the block: wide + long sin t = gap cos t, its length 30
    short = PLAIN.replace("length: 90", "length: 30")
    build = written(short)
    assert build.mechanism
    found = reach(faces(build.mechanism.guides[0], variants(build)), MOTIONS["pitch"]).amount[0]
    # on the block's own axes the guide's corners, 30 along and GAP apart, must clear its width
    expected = asin(WIDE / hypot(30.0, GAP)) - atan2(GAP, 30.0)
    assert found == pytest.approx(abs(expected), abs=1e-9)


def test_what_the_pitch_gains_is_its_derivative(plain: Faces) -> None:
    motion = MOTIONS["pitch"]
    found = {w.name: w for w in weights(plain, motion, reach(plain, motion))}
    step = 1e-6
    by_gap = (turn(LONG, WIDE, GAP + step) - turn(LONG, WIDE, GAP - step)) / (2 * step)
    by_width = (turn(LONG, WIDE + step, GAP) - turn(LONG, WIDE - step, GAP)) / (2 * step)
    assert found["guide/apart"].gain == pytest.approx(degrees(by_gap), rel=1e-4)
    assert found["block/width"].gain == pytest.approx(degrees(by_width), rel=1e-4)
    assert found["guide/apart"].spread == pytest.approx(0.1 * degrees(by_gap), rel=1e-4)


def test_the_worst_case_is_the_narrowest_gap_the_widest_and_longest_block(plain: Faces) -> None:
    # lengths have ISO 2768-m: 40 ±0.3
    expected = turn(40.3, 20.02, 20.4)
    assert worst(plain, MOTIONS["pitch"]) == pytest.approx(expected, abs=1e-6)


def test_many_assemblies_are_as_the_formula_has_them_one_by_one(plain: Faces) -> None:
    thrown = throw(plain, samples=500, seed=3)
    names = [size.name for size in plain.sizes]
    columns = {name: thrown[:, names.index(name)] for name in names}
    expected = [
        degrees(turn(LONG + a, WIDE + b, GAP + c))
        for a, b, c in zip(
            columns["block/length"], columns["block/width"], columns["guide/apart"], strict=True
        )
    ]
    spread, amounts = by_chance(plain, MOTIONS["pitch"], thrown, 0.5)
    assert amounts == pytest.approx(expected, abs=1e-6)
    assert spread.fails == pytest.approx(np.mean(np.array(expected) < 0.5), abs=1e-12)


def test_paint_and_wear_change_the_gap(written: Written) -> None:
    painted = PLAIN.replace("apart: 20.4 +0.1/0", "apart: 20.4 +0.1/0, coat: 0.05, wear: 0.02")
    build = written(painted)
    assert build.mechanism
    found = reach(faces(build.mechanism.guides[0], variants(build)), MOTIONS["pitch"]).amount[0]
    assert found == pytest.approx(turn(LONG, WIDE, GAP - 2 * 0.03), abs=1e-9)


def test_a_leaning_floor_lies_flat_at_its_lean_where_the_gap_is_wide(written: Written) -> None:
    from .conftest import HORNS

    # wide enough for the floor to lie flat on the stem: beyond the lean it is the far corner
    # of the one floor and the near corner of the other that span the gap, as of a trapezium:
    # half widths a at the wide end, b at the narrow: a + b = ... cos t + long sin t = gap
    build = written(HORNS.replace(", coat: 0.02 ±0.01", ""))
    assert build.mechanism
    found = degrees(
        reach(faces(build.mechanism.guides[0], variants(build)), MOTIONS["pitch"]).amount[0]
    )
    low = 23.0 / 2
    high = low - 32 * sin(radians(1.5)) / (1 - sin(radians(1.5)) ** 2) ** 0.5
    across = low + high  # from the low corner of one floor to the high corner of the other
    expected = degrees(asin(23.35 / hypot(32, across)) - atan2(across, 32))
    assert expected > 1.5
    assert found == pytest.approx(expected, abs=1e-6)
