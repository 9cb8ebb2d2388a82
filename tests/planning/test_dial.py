"""Readings brought to what an axis can be set to, and shown as it shows them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barstock.machines.dial import Dial
from barstock.quantities import INCH, Unit
from barstock.words.reader import Reader
from barstock.workshop.shop import Axis, Machine, MachineKind

READOUT = Machine("m", MachineKind.MILL, x=Axis(400, 0.005), y=Axis(150, 0.01), z=Axis(300, 0.005))
INCH_WHEEL = Axis(300, None, per_turn=0.1 * INCH, divisions=100, unit=Unit.INCH)
WHEELS = Machine("w", MachineKind.MILL, x=INCH_WHEEL, y=INCH_WHEEL, z=INCH_WHEEL)


def shown(machine: Machine, axis: str, value: float) -> str:
    return " ".join(run.text for run in Reader(Unit.MM, machine).place(axis, value))


def test_a_readout_shows_its_own_decimals() -> None:
    assert shown(READOUT, "X", 12.3449) == "+12.345"
    assert shown(READOUT, "Y", -3.0) == "−3.00"
    assert shown(READOUT, "Z", -0.0001) == "+0.000"


def test_a_handwheel_shows_turns_and_divisions() -> None:
    # 5/8 inch on a screw of ten threads to the inch: 6 turns and a quarter, 25 of 100 divisions.
    assert shown(WHEELS, "X", 0.625 * INCH) == "+6 turns 25 div"
    assert shown(WHEELS, "X", -0.1005 * INCH) == "−1 turn ½ div"


@given(value=st.floats(-200, 200), name=st.sampled_from("XYZ"))
@pytest.mark.parametrize("machine", [READOUT, WHEELS])
def test_snapping_is_near_and_settles(machine: Machine, value: float, name: str) -> None:
    dial = Dial(machine)
    snapped = dial.snap(name, value)
    assert abs(snapped - value) <= dial.step(name) / 2 + 1e-6
    assert dial.snap(name, snapped) == snapped
    assert shown(machine, name, snapped) == shown(machine, name, value)
