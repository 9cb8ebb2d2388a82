"""Small drills that the mill turns too slowly: spotted there, drilled on the drill press."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.errors import UnplannableError
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.proving.prove import Job, prove, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.quantities import Unit
from barstock.route import Operation, Plunge, Route, Setup
from barstock.words.cautions import of_setup
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.words.reasons import whys
from barstock.workshop.shop import BarStock, Machine, MachineKind, Workshop

from .conftest import find, sample

SIEVE = """
build: Sieve
unit: mm
parts:
  sieve: {material: brass, length: 60, width: 20, height: 6, bar: flat, copies: 2,
    as bought: [front, back, top, bottom], features: {
    holes: {kind: hole, face: top, diameter: 1.5, depth: through, at: [PLACES]},
    blind: {kind: hole, face: top, diameter: 1.5, depth: 3, at: {left: 54, front: 10}}}}
""".replace("PLACES", ", ".join(f"{{left: {x}, front: 10}}" for x in range(10, 48, 4)))


def built(folder: Path, places: str = SIEVE) -> Build:
    (folder / "build.yaml").write_text(places, encoding="utf-8")
    build = read_build(folder, KINDS).build
    assert build is not None
    return build


def shop(*mill_speeds: float) -> Workshop:
    """The wagon's shop, whose drill press turns up to 2900, with a mill of those speeds."""
    owned = sample("wagon")[1]
    mill, *others = owned.machines
    slow = replace(mill, speeds=mill_speeds, stepless=False)
    bar = BarStock("flat", "brass", "rectangle", 20, 6, 300)
    return replace(owned, machines=(slow, *others), rack=(bar,))


@pytest.fixture(scope="module")
def sieve(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = built(tmp_path_factory.mktemp("sieve"))
    return build, plan_build(build, shop(100, 200, 300))


def test_they_are_spotted_on_the_mill_and_drilled_on_the_press(
    sieve: tuple[Build, Route],
) -> None:
    build, route = sieve
    spotted, _ = find(route, "sieve/holes/spot")
    drilled, drill = find(route, "sieve/holes/drill")
    assert spotted.machine_kind is MachineKind.MILL
    assert drilled.machine_kind is MachineKind.DRILL_PRESS
    # The press's greatest step is well under what brass allows 1.5 mm (from memory, over 30 m/min).
    assert drill.rpm == 2900
    assert drill.surface_speed == pytest.approx(pi * 1.5 * 2900 / 1000, abs=0.1)
    assert prove(route, build).ok


def test_no_place_is_dialled_there(sieve: tuple[Build, Route]) -> None:
    setup, drill = find(sieve[1], "sieve/holes/drill")
    assert {setup.zero_x.find, setup.zero_y.find} == {"none"}
    (told,) = lines(drill, Reader(Unit.MM))
    assert not told.axes
    assert not told.other
    assert "each of the 10 spots" in told.words


def test_a_depth_is_drilled_on_the_mill(sieve: tuple[Build, Route]) -> None:
    setup, _ = find(sieve[1], "sieve/blind/drill")
    assert setup.machine_kind is MachineKind.MILL


def test_it_is_warned_of_holding_by_hand(sieve: tuple[Build, Route]) -> None:
    setup, _ = find(sieve[1], "sieve/holes/drill")
    assert any("Never hold work by hand" in caution for caution in of_setup(setup, Reader()))
    assert any("drill press" in reason for reason in whys(setup.why, Reader(), {}))


def test_a_mill_that_turns_fast_enough_drills_them_itself(tmp_path: Path) -> None:
    route = plan_build(built(tmp_path), shop(500, 1500, 2800))
    assert {s.machine_kind for s in route.setups} == {MachineKind.SAW, MachineKind.MILL}


def test_one_hole_is_not_worth_the_way(tmp_path: Path) -> None:
    few = SIEVE.replace(
        SIEVE[SIEVE.index("[{left") : SIEVE.index("]},") + 1], "{left: 10, front: 10}"
    )
    route = plan_build(built(tmp_path, few), shop(100, 600, 1800))
    assert find(route, "sieve/holes/drill")[0].machine_kind is MachineKind.MILL


def changed(sieve: tuple[Build, Route], by: float, *, spot: bool) -> str:
    """What the proof says with the spots, or the drill as brought by eye, moved along X."""
    build, route = sieve
    step = "sieve/holes/spot" if spot else "sieve/holes/drill"

    def moved(o: Operation) -> Operation:
        if o.id != step:
            return o
        moves = [m.model_copy(update={"x": m.x + by}) for m in o.moves if isinstance(m, Plunge)]
        return o.model_copy(update={"moves": tuple(moves)})

    def change(s: Setup) -> Setup:
        return s.model_copy(update={"operations": tuple(moved(o) for o in s.operations)})

    bars, setups = works_of(route, build.parts[0])
    job = Job(wanted(build.parts[0]), bars, tuple(map(change, setups)), 2, build.least_wall)
    return "\n".join(str(v) for v in prove_part(job).violations if v.severity == "error")


def test_the_drill_follows_the_spot_however_near_it_is_brought(
    sieve: tuple[Build, Route],
) -> None:
    assert changed(sieve, 0.4, spot=False) == ""
    # Half way between two spots, 4 mm apart, there is none to follow.
    assert "there is no spot near" in changed(sieve, 2.0, spot=False)


def test_a_spot_in_the_wrong_place_makes_the_hole_there(sieve: tuple[Build, Route]) -> None:
    assert "cut away that the drawing keeps" in changed(sieve, 0.5, spot=True)


def test_without_a_mill_it_is_said_plainly(tmp_path: Path) -> None:
    press = Machine("press", MachineKind.DRILL_PRESS, (500.0, 2900.0))
    with pytest.raises(UnplannableError, match=r"no mill.*drill press has no slides"):
        plan_build(built(tmp_path), replace(shop(300), machines=(press,)))


def test_its_own_minutes_decide(tmp_path: Path) -> None:
    far = replace(shop(100, 200, 300), times=replace(shop(300).times, press=500.0))
    route = plan_build(built(tmp_path), far)
    assert {s.machine_kind for s in route.setups} == {MachineKind.SAW, MachineKind.MILL}
