"""Pins in the fixture's block: where they stand, what they locate, and planted mistakes refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Build
from barstock.handbook.heat import elongation
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.reading.faults import fault_line
from barstock.route import FixtureBlock, FixtureStop, Route
from barstock.words.fixture_lines import block_lines
from barstock.words.reader import Reader

from .test_fabrication_at_heat import SHOP
from .test_fixture_seat import LAMP_STAND, written
from .test_planted_mistakes import FIXTURE_OF_ONES_OWN, SMALL, faults

TEE = """build: Tee
parts:
  rail:
    material: mild steel
    length: 60
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
    features:
      screw hole: {kind: hole, face: top, at: {left: 12, width: centre}, diameter: 3.4,
                   depth: through}
  rib:
    material: mild steel
    length: 36
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, top, bottom]
fabrications:
  tee:
    length: 60
    width: 56
    height: 12
    pieces:
      rail: {part: rail, at: {left: 0, back: 0, bottom: 0}}
      rib: {part: rib, turned: {left: front, top: top}, at: {length: centre, front: 0, bottom: 0}}
    joints:
      root: {between: [rail, rib], form: tee, filler: Ag 155, gap: 0.05 to 0.10, fillet: 1}
    fixing screws:
      down: {through: rail/screw hole, into: fixture, thread: M3}
    fixture: {under: bottom}
"""
REAMERS = "tools: {reamers: [4], taps: [M3], drills: [1 to 10 by 0.1], spot drills: [3], "
REAMERS += "end mills: [6, 10, {size: 16, flute: 38}], edge finders: [10]}\n"
REAMERS += "holding: {vises: {vise: {jaw width: 100, jaw depth: 28, opening: 100}}, "
REAMERS += "parallels: [6 to 24 by 2]}\n"


@pytest.fixture(scope="module")
def tee(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    """A rib butted against a rail that one screw holds; nothing holds the rib."""
    folder = tmp_path_factory.mktemp("tee")
    (folder / "build.yaml").write_text(TEE, encoding="utf-8")
    shop = SHOP.replace("mild steel: [", "mild steel: [80 x 12 x 200, ") + REAMERS
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    build, workshop = api.read(folder)
    return build, plan_build(build, workshop)


def block_of(route: Route) -> FixtureBlock:
    """The fixture of the only fabrication."""
    block = route.fabrications[0].fixture
    assert block is not None
    return block


def test_what_has_no_screw_is_stopped_and_butted(tee: tuple[Build, Route]) -> None:
    """The tee stands in the middle of a block 72 x 80 (60 + 2 x 6; the bar's 80): its left front
    corner is 6 and 12 mm in. The rib is 20 wide about the middle: 26 to 46 from the left. Towards
    the front it would grow against a pin; there the rail and its gap locate it."""
    build, route = tee
    stops = block_of(route).stops
    rib = [s for s in stops if s.piece == "rib"]
    assert [s.left for s in rib] == [pytest.approx(26 - 2 if s.side.sign < 0 else 48) for s in rib]
    assert len(rib) == 2
    assert abs(rib[0].front - rib[1].front) > 20
    reamed = [f for f in build.part("tee fixture").features if f.name.startswith("pin hole")]
    assert {f.spec.bore.finish for f in reamed} == {"reamed"}
    assert len(reamed) == len(stops)
    said = next(line for line in block_lines(block_of(route), Reader()) if line.startswith("Rib: "))
    assert said.startswith("Rib: pushed against the pins at its ")
    assert said.endswith(", against rail with shims as thick as the gap.")
    heat = route.fabrications[0].heats[0]
    assert (heat.held, heat.up) == (("rail", "rib"), (0, 0, 1))


def test_no_pin_stands_in_the_flame_or_the_filler(tee: tuple[Build, Route]) -> None:
    """The joint runs across the block at 12 + 36 from its front, its fillet 1 mm; the cut-out for
    the flame is 5 to either side of it."""
    for stop in block_of(tee[1]).stops:
        if 26 - 2 <= stop.left <= 46 + 2:
            assert abs(stop.front - 48) >= 5 + stop.size / 2


def test_pins_and_block_are_planned_and_proved(tee: tuple[Build, Route]) -> None:
    build, route = tee
    made = {o.id for s in route.setups for o in s.operations if s.work == "tee fixture"}
    assert any(name.endswith("/ream") for name in made)
    assert [str(v) for v in prove(route, build).violations] == []


def _without(stop: FixtureStop) -> FixtureStop:
    return stop.model_copy(update={"left": stop.left + 3, "front": stop.front + 3})


def _off(stop: FixtureStop, by: float) -> FixtureStop:
    axis = "left" if stop.side.axis == 0 else "front"
    return stop.model_copy(update={axis: getattr(stop, axis) + by * stop.side.sign})


PLANTED: dict[str, tuple[Callable[[FixtureStop], FixtureStop], str]] = {
    "a pin where the block has no hole": (_without, "the fixture's block has no hole for the pin"),
    "a pin that stands in the work": (lambda s: _off(s, -0.4), "stands in the work"),
    "a pin that stops nothing": (lambda s: _off(s, 0.4), "touches nothing; set it against r"),
}


@pytest.mark.parametrize("mistake", PLANTED)
def test_a_pin_elsewhere_is_refused(tee: tuple[Build, Route], mistake: str) -> None:
    build, route = tee
    change, words = PLANTED[mistake]
    joined = route.fabrications[0]
    block = block_of(route)
    moved = block.model_copy(update={"stops": (change(block.stops[0]), *block.stops[1:])})
    other = joined.model_copy(update={"fixture": moved})
    proof = prove(route.model_copy(update={"fabrications": (other,)}), build)
    assert words in "\n".join(str(v) for v in proof.violations)


def test_a_block_that_lies_elsewhere_is_refused(tee: tuple[Build, Route]) -> None:
    build, route = tee
    joined, block = route.fabrications[0], block_of(route)
    x, y, z = block.shift
    lower = block.model_copy(update={"shift": (x, y, z - 1)})
    other = joined.model_copy(update={"fixture": lower})
    proof = prove(route.model_copy(update={"fabrications": (other,)}), build)
    assert "does not lie on the fixture's block" in "\n".join(map(str, proof.violations))


def test_what_its_screws_locate_gets_no_pin(tmp_path: Path) -> None:
    """Two screws in the block hold the post, two in the post the foot."""
    build, _ = api.read(written(tmp_path, LAMP_STAND.replace("BLOCK\n", "")))
    names = [f.name for f in build.part("lamp stand fixture").features]
    assert not [name for name in names if name.startswith("pin")]


def test_a_pin_that_the_work_grows_against_is_refused(tmp_path: Path) -> None:
    """The right cheek's right side lies 36 mm from the screw that locates, M2 in the middle of the
    left one's 8; its brass may be 5 % quick and the block 150 K behind, at 20 K above Ag 155's
    675 C (ISO 17672: 630 to 660; barstock takes the heat from its own table)."""
    own = FIXTURE_OF_ONES_OWN.replace(
        "left: 46, front: 10}, diameter: 2.1", "left: 46, front: 10}, diameter: 3"
    )
    # block 60 long about the middle of 43: the right side is at 8.5 + 1.5 + 40 = 50
    pin = "      pin: {kind: hole, face: top, at: {left: 51.5, front: 10}, diameter: 3, "
    own = own.replace("fabrications:", f"{pin}depth: through, finish: reamed}}\nfabrications:")
    told = faults(
        tmp_path, ("\nfabrications:", own), ("under: bottom}", "under: bottom, part: block}")
    )
    (said,) = [line for line in told if "fixture too tight" in line]
    by = float(said.split(" grows ")[1].split(" mm")[0])
    least = 36 * (elongation("brass", 680) * 1.05 - elongation("mild steel", 680 - 150))
    assert by == pytest.approx(least, abs=0.02)
    assert "against the pin at its right" in said


def test_a_pin_hole_under_the_work_is_told(tmp_path: Path) -> None:
    own = FIXTURE_OF_ONES_OWN.replace(
        "left: 46, front: 10}, diameter: 2.1", "left: 46, front: 10}, diameter: 3"
    )
    pin = "      pin: {kind: hole, face: top, at: {left: 14, front: 15}, diameter: 3, "
    own = own.replace("fabrications:", f"{pin}depth: through, finish: reamed}}\nfabrications:")
    told = faults(
        tmp_path, ("\nfabrications:", own), ("under: bottom}", "under: bottom, part: block}")
    )
    assert any("lies under the work: no pin can stand in it" in line for line in told)


def test_what_nothing_keeps_from_turning_is_said() -> None:
    """The stand's brass outgrows a block as wide as the work: no pin fits beside the right cheek,
    and the plan says to set it by hand."""
    build, workshop = api.read(SMALL)
    lines = block_lines(block_of(plan_build(build, workshop)), Reader())
    said = "Right cheek: by its screw in the block, free to turn or slide: set it with a square."
    assert said in lines
    assert not [fault_line(f) for f in api.check(SMALL)]
