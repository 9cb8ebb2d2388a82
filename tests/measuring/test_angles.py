"""Sine bar and indicator against published settings."""

from collections.abc import Callable
from math import cos, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.handbook.gauge_blocks import gauge_set
from barstock.measuring.angles import (
    AngleError,
    rise,
    sine_angle,
    sine_error,
    sine_height,
    sine_setting,
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
        micron = degrees(0.001 / (centres * cos(radians(angle)))) * 3600  # in seconds of arc
        assert abs(found.error) <= 0.26 * micron


def test_a_slope_of_one_in_forty() -> None:
    # 1 mm in 40 is 1 degree 25 minutes 56 seconds, a usual table of tapers (from memory).
    assert rise(1 + 25 / 60 + 56 / 3600, 40) == pytest.approx(1, abs=40 * radians(0.5 / 3600))


def test_a_small_rise_is_the_arc() -> None:
    # To 1 in 5000 at 1.3 degrees, and above the sine.
    shown = rise(1.3, 50)
    assert degrees(shown / 50) == pytest.approx(1.3, rel=1 / 5000)
    assert shown > 50 * sin(radians(1.3))


@pytest.mark.parametrize(
    ("fails", "words"),
    [
        (lambda: sine_height(91, 100), "0 to 90"),
        (lambda: sine_height(10, 0), "above zero"),
        (lambda: sine_angle(101, 100), "do not go under"),
        (lambda: rise(90, 10), "indicator"),
    ],
)
def test_faults_are_told(fails: Callable[[], object], words: str) -> None:
    with pytest.raises(AngleError, match=words):
        fails()
