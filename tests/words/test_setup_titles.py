"""What a setup is for, as it is told."""

from __future__ import annotations

import pytest

from barstock.drawing.build import Face
from barstock.route import Cutter, Holding, Operation, Process, Setup, Zero
from barstock.words.setup_titles import setup_title
from barstock.workshop.shop import MachineKind, ToolKind

NONE = Zero(find="none")
MILL = Cutter(name="end mill 10", kind=ToolKind.END_MILL, diameter=10)


def operation(name: str, does: Process = Process.MILL, **changes: object) -> Operation:
    """One operation on a feature, or on a face."""
    plain = Operation(id=name, does=does, features=(name,), cutter=MILL, moves=())
    return plain.model_copy(update=changes)


def setup(*operations: Operation, **changes: object) -> Setup:
    """A setup of those, on four pieces."""
    plain = Setup(
        id="1",
        work="lug",
        stage="piece",
        copies=4,
        machine="mill",
        machine_kind=MachineKind.MILL,
        holding=Holding(way="vise", device="vise", up=Face.TOP, fixed_jaw=Face.BACK),
        zero_x=NONE,
        zero_y=NONE,
        zero_z=NONE,
        operations=operations,
    )
    return plain.model_copy(update=changes)


SAWN = operation("saw", Process.SAW_OFF, features=())


@pytest.mark.parametrize(
    ("told", "title"),
    [
        (setup(operation("bore"), operation("slot"), operation("bore")), "bore, slot"),
        (setup(*map(operation, "abcde")), "a, b, c, 2 more"),
        (setup(SAWN, pieces=4), "saw 4 pieces"),
        (setup(operation("bore"), left=0), "bore, done"),
        (setup(operation("bore"), left=3), "bore, left to do on 3 of 4"),
        (setup(SAWN, pieces=4, left=1), "saw 4 pieces, left to do on 1 of 4"),
    ],
)
def test_a_setup_is_called_by_what_is_worked_on_in_it(told: Setup, title: str) -> None:
    assert setup_title(told) == title
