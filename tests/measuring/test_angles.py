"""Sine bar and tilting table against published settings."""

from collections.abc import Callable
from math import degrees, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.gauge_blocks import gauge_set
from barstock.measuring.angles import (
    AngleError,
    angle_of_rise,
    rise,
    seconds_per_micron,
    sine_angle,
    sine_between,
    sine_error,
    sine_height,
    sine_setting,
    table_setting,
)

M112 = gauge_set("112 piece").mm
ANGLES = st.floats(0.01, 89)
CENTRES = st.sampled_from([100.0, 127.0, 200.0, 63.5])


# Worked examples for sine bars 5 and 2.5 inches long, printed to the figures given: gauging texts
# (27 degrees: 2.270; 23 degrees 41 minutes: 2.0084; 30: 2.5000), a shop trigonometry table (18:
# 1.545), a handbook of machining calculations (34 degrees 25 minutes: 2.826), a home machinist's
# paper on the sine bar (12: 1.03956), a workshop forum's sum for a 2.5 inch bar (20: 0.8551).
@pytest.mark.parametrize(
    ("angle", "bar", "inches", "places"),
    [
        (27, 5, 2.270, 3),
        (23 + 41 / 60, 5, 2.0084, 4),
        (30, 5, 2.5000, 4),
        (18, 5, 1.545, 3),
        (34 + 25 / 60, 5, 2.826, 3),
        (12, 5, 1.03956, 5),
        (20, 2.5, 0.8551, 4),
    ],
)
def test_published_heights(angle: float, bar: float, inches: float, places: int) -> None:
    height = sine_height(angle, bar * 25.4) / 25.4
    assert height == pytest.approx(inches, abs=0.5001 * 10**-places)


# From the same paper on the sine bar: 1 inch under a 5 inch bar is 11.537 degrees, 1.040 is 12.005.
@pytest.mark.parametrize(("inches", "angle"), [(1.0, 11.537), (1.040, 12.005)])
def test_published_angles(inches: float, angle: float) -> None:
    assert sine_angle(inches * 25.4, 127) == pytest.approx(angle, abs=0.0005)


# A workshop forum's sum: 0.0001 inch too many under a 5 inch bar is 0.00132 degrees at 30 and
# 0.00229 at 60.
@pytest.mark.parametrize(("angle", "error"), [(30, 0.00132), (60, 0.00229)])
def test_published_errors_of_a_wrong_stack(angle: float, error: float) -> None:
    wrong = sine_height(angle, 127) + 0.00254
    assert sine_error(angle, wrong, 127) / 3600 == pytest.approx(error, abs=0.000005)
    assert seconds_per_micron(angle, 127) * 2.54 / 3600 == pytest.approx(error, abs=0.000005)


@given(angle=ANGLES, centres=CENTRES)
def test_height_and_angle_go_round(angle: float, centres: float) -> None:
    height = sine_height(angle, centres)
    assert sine_angle(height, centres) == pytest.approx(angle, abs=1e-6)
    assert height < sine_height(angle + 0.5, centres)


@given(angle=st.floats(1.5, 60), centres=CENTRES)
def test_the_bar_is_set_as_near_as_the_blocks_go(angle: float, centres: float) -> None:
    # The 112-piece set makes every half micrometre from 2.5 mm up or so: a quarter micrometre off.
    found = sine_setting(angle, centres, M112)
    assert sum(found.stack.blocks) == pytest.approx(found.stack.made)
    assert found.made == pytest.approx(sine_angle(found.stack.made, centres))
    if found.stack.size > 3:
        assert abs(found.error) <= 0.26 * seconds_per_micron(angle, centres)


@given(low=st.floats(1, 40), width=st.floats(0.02, 2), centres=CENTRES)
def test_the_fewest_blocks_within_limits(low: float, width: float, centres: float) -> None:
    found = sine_between(low, low + width, centres, M112)
    assert low - 1e-4 <= found.made <= low + width + 1e-4
    whole = sine_setting(low + width / 2, centres, M112)
    assert len(found.stack.blocks) <= len(whole.stack.blocks)


@given(angle=st.floats(-80, 80), travel=st.floats(1, 300))
def test_rise_goes_round(angle: float, travel: float) -> None:
    assert angle_of_rise(rise(angle, travel), travel) == pytest.approx(angle, abs=1e-9)


def test_a_slope_of_one_in_forty() -> None:
    # 1 mm in 40 is 1 degree 25 minutes 56 seconds, a usual table of tapers (from memory).
    assert angle_of_rise(1, 40) == pytest.approx(1 + 25 / 60 + 56 / 3600, abs=0.5 / 3600)


def test_a_table_set_by_quarter_degrees() -> None:
    # 1.3 degrees lies 0.05 above the mark at 1.25: 180 seconds.
    found = table_setting(1.3, 0.25, 45, 50)
    assert (found.mark, found.error) == (1.25, pytest.approx(-180))
    # Small angles: the rise is the arc, to 1 in 5000 at 1.3 degrees.
    assert degrees(found.rise / found.travel) == pytest.approx(1.3, rel=1 / 5000)
    assert found.rise > found.travel * sin(1.3 / 57.29578)


@pytest.mark.parametrize(
    ("fails", "words"),
    [
        (lambda: sine_height(91, 100), "0 to 90"),
        (lambda: sine_height(10, 0), "above zero"),
        (lambda: sine_angle(101, 100), "do not go under"),
        (lambda: seconds_per_micron(90, 100), "less than 90"),
        (lambda: rise(90, 10), "indicator"),
        (lambda: angle_of_rise(1, 0), "travel"),
        (lambda: table_setting(50, 1, 45, 10), "tilts to 45"),
        (lambda: table_setting(5, 0, 45, 10), "division"),
    ],
)
def test_faults_are_told(fails: Callable[[], object], words: str) -> None:
    with pytest.raises(AngleError, match=words):
        fails()
