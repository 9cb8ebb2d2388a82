"""Small parts of awkward shapes: each once led the plan to fail its own proof."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Route

from .conftest import bought, find, only, sample

HERE = Path(__file__).parent


@pytest.fixture(scope="module")
def trials(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    """The trial parts, planned with the wagon's shop."""
    folder = tmp_path_factory.mktemp("trials")
    shutil.copy(HERE / "trials.yaml", folder / "build.yaml")
    build = read_build(folder, KINDS).build
    assert build is not None
    return build, plan_build(build, sample("wagon")[1])


@pytest.mark.parametrize(
    "name",
    [
        "upright",
        "lever",
        "long bar",
        "swallowed slot",
        "hole in a dish",
        "dish in a pocket",
        "rounded ridge",
    ],
)
def test_the_plan_stands_up_to_its_proof(trials: tuple[Build, Route], name: str) -> None:
    build, route = trials
    proof = prove(route, only(build, name))
    assert [str(v) for v in proof.violations if v.severity == "error"] == []


def test_a_cross_hole_starts_on_the_wall_a_step_has_left(trials: tuple[Build, Route]) -> None:
    setup, spot = find(trials[1], "upright/cross screw/spot")
    _, rebate = find(trials[1], "upright/back rebate/mill")
    at = [o.id for s in trials[1].setups for o in s.operations]
    assert at.index(rebate.id) < at.index(spot.id)
    assert setup.holding.up in ("back", "front")
    # From the back, the step 8 wide has left its wall 8 below; from the front nothing is gone.
    below = 8 if setup.holding.up == "back" else 0
    assert spot.moves[0].kind == "plunge"
    assert -below - 1.2 < spot.moves[0].z < -below


def test_what_the_rack_has_too_little_of_is_to_be_bought(trials: tuple[Build, Route]) -> None:
    # 3 pieces of 150 + 1.5 and the saw's kerfs from one bar of 330: two go, one does not.
    assert any("mild steel 10 x 10" in line for line in bought(trials[1]))


def test_long_work_has_its_ends_squared_by_themselves(trials: tuple[Build, Route]) -> None:
    setup, _ = find(trials[1], "long bar/right end/square")
    assert len(setup.operations) == 1
    assert setup.holding.jaws_to < 150
