"""Handwheels and readouts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.measuring.handwheel import (
    AxisError,
    Turns,
    approach,
    dial,
    distance,
    least_step,
    turns,
)
from barstock.quantities import INCH, Unit
from barstock.workshop.shop import Axis

METRIC = Axis(200, per_turn=1.5, divisions=60, backlash=0.15)
TENTH_INCH = Axis(250, per_turn=0.1 * INCH, divisions=100, unit=Unit.INCH)
READOUT = Axis(200, readout=0.005)


def test_a_screw_of_ten_threads_an_inch() -> None:
    # 5/8 in at 0.1 in a turn of 100 divisions: 6 turns and 25.
    assert dial(0.625 * INCH, TENTH_INCH) == "+6 turns 25 div"
    assert dial(-0.1005 * INCH, TENTH_INCH) == "−1 turn ½ div"
    assert least_step(TENTH_INCH) == pytest.approx(0.0005 * INCH)


def test_a_readout_shows_its_decimals() -> None:
    assert dial(12.3449, READOUT) == "+12.345"
    assert dial(-0.0001, READOUT) == "+0.000"
    assert dial(25.4, Axis(200, readout=0.0127, unit=Unit.INCH)) == "+1.0000"


@pytest.mark.parametrize("axis", [METRIC, TENTH_INCH])
@given(reading=st.floats(-190, 190))
def test_wheel_and_reading_go_round(axis: Axis, reading: float) -> None:
    place = turns(reading, axis)
    whole = place.turns + place.divisions / axis.divisions
    back = round(place.sign * whole * axis.per_turn, 9)
    assert abs(back - reading) <= least_step(axis) / 2 + 1e-9
    assert turns(back, axis) == place
    assert 0 <= place.divisions < axis.divisions


@given(start=st.floats(0, 100), target=st.floats(0, 100), side=st.sampled_from([1, -1]))
def test_the_wheel_always_ends_on_the_same_side(start: float, target: float, side: int) -> None:
    words = approach(start, target, METRIC, side)
    assert words.endswith(dial(target, METRIC))
    assert words.startswith("back past it") == ((target - start) * side < 0)


def test_going_back_takes_up_the_backlash() -> None:
    # 10.5 mm is 7 turns; half a turn past it is 6 turns 30, more than twice the 0.15 backlash.
    assert (
        approach(20, 10.5, METRIC) == "back past it to +6 turns 30 div, then on to +7 turns 0 div"
    )
    worn = Axis(200, per_turn=1.5, divisions=60, backlash=0.75)  # twice that is a whole turn
    assert "+6 turns 0 div" in approach(20, 10.5, worn)
    assert approach(20, 10.5, READOUT) == "to +10.500"


def test_what_is_left_in_divisions() -> None:
    # 1.5 mm a turn in 60: a division is 0.025.
    assert distance(0.1, METRIC) == "4 div"
    assert distance(-1.5125, METRIC) == "1 turn ½ div"
    assert distance(0.0254 * 2, Axis(200, readout=0.0127, unit=Unit.INCH)) == "0.0020 in"


def test_faults_are_told() -> None:
    with pytest.raises(AxisError, match="beyond the axis; it travels 200 mm"):
        dial(201, READOUT)
    with pytest.raises(AxisError, match="no handwheel"):
        turns(5, READOUT)
    assert str(Turns(1, 0, 0)) == "0"
    assert str(Turns(-1, 0, 20)) == "−20 div"
