"""Work that asks for no machine is planned, proved and printed in a shop that has none."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.api import builds
from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.errors import UnplannableError
from barstock.methods import KINDS
from barstock.pack.compose import compose
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.proving.step_by_step import finished
from barstock.route import FileSquare, Route
from barstock.stocking.bar_choice import CLEAN_UP
from barstock.tolerancing.guarantee import guarantees
from barstock.workshop.shop import Machine, MachineKind, Workshop
from barstock.workshop.shop_reading import read_workshop

from .conftest import find

HAND_WORK = """
build: Hand work
unit: mm
parts:
  spacer: {material: brass, length: 30, width: 12, height: 12, bar: 12 x 12, copies: 2,
    as bought: [front, back, top, bottom], features: {}}
  cam: {material: brass, length: 40, width: 20, height: 5, bar: 20 x 5,
    as bought: [front, back, top, bottom], features: {
    edge: {kind: edge, between: [top, right], bevel: 1},
    tail: {kind: outline, face: top, start: {left: 0, front: 0}, path: [
      {to: {left: 40, front: 0}}, {to: {left: 40, front: 12}}, {to: {left: 25, front: 20}},
      {to: {left: 0, front: 20}}, {to: {left: 0, front: 0}}]}}}
"""
SHED = """
workshop: Shed
holding: {}
tools: {files: [second cut], countersinks: [{size: 10, angle: 90}]}
measuring: {caliper: {reads: 0.01, range: 0 to 150}}
rack: {brass: [12 x 12 x 300, 20 x 5 x 300]}
"""


def written(folder: Path, build: str = HAND_WORK) -> tuple[Build, Workshop]:
    (folder / "build.yaml").write_text(build, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHED, encoding="utf-8")
    reading = read_build(folder, KINDS)
    shop, faults = read_workshop(folder / "workshop.yaml")
    assert reading.build is not None, reading.faults
    assert shop is not None, faults
    return reading.build, shop


Planned = tuple[Build, Workshop, Route]


@pytest.fixture(scope="module")
def by_hand(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    build, shop = written(tmp_path_factory.mktemp("by_hand"))
    return build, shop, plan_build(build, shop)


def test_it_is_sawn_and_filed(by_hand: Planned) -> None:
    assert not by_hand[1].machines
    kinds = {s.machine_kind for s in by_hand[2].setups}
    assert kinds == {MachineKind.SAW, MachineKind.BENCH}
    assert {s.machine for s in by_hand[2].setups} == {"hacksaw", "bench"}


def test_the_second_end_makes_the_length(by_hand: Planned) -> None:
    """The first is filed clean; the saw has left so much on either end."""
    moves = [find(by_hand[2], f"spacer/{end} end/square")[1].moves[0] for end in ("left", "right")]
    assert all(isinstance(move, FileSquare) for move in moves)
    assert [m.leaves for m in moves if isinstance(m, FileSquare)] == [30 + CLEAN_UP, 30]


def test_it_is_proved(by_hand: Planned) -> None:
    build, _, route = by_hand
    assert prove(route, build).ok
    spacer = finished([b for b in route.bars if b.part == "spacer"], route.setups, "spacer")
    assert spacer.volume == pytest.approx(30 * 12 * 12)


@pytest.mark.parametrize(
    ("end", "change", "fault"),
    [
        ("right", {"leaves": 29.0}, "cut away"),
        ("right", {"leaves": 30.5}, "left"),
        ("left", {"to_length": True}, "still as sawn"),
    ],
)
def test_an_end_filed_wrong_is_refused(
    by_hand: Planned, end: str, change: dict[str, object], fault: str
) -> None:
    build, _, route = by_hand
    setup, old = find(route, f"spacer/{end} end/square")
    moves = tuple(move.model_copy(update=change) for move in old.moves)
    new = old.model_copy(update={"moves": moves})
    operations = tuple(new if o is old else o for o in setup.operations)
    spoilt = setup.model_copy(update={"operations": operations})
    setups = tuple(spoilt if s is setup else s for s in route.setups)
    proof = prove(route.model_copy(update={"setups": setups}), build)
    assert not proof.ok
    assert any(fault in str(v) for v in proof.violations)


def test_its_length_is_as_true_as_a_line_is_filed_to(by_hand: Planned) -> None:
    build, shop, route = by_hand
    (length,) = (
        g
        for g in guarantees(route, build, shop)
        if g.asked.check.name == "right end/length" and g.asked.part == "spacer"
    )
    assert (length.low, length.high) == pytest.approx((29.85, 30.15))


def test_its_pages_say_how(by_hand: Planned) -> None:
    build, shop, route = by_hand
    pack = compose(route, build, shop, {}, {})
    told = "\n".join(str(page) for page in pack.setups)
    assert "File the left end square to two sides" in told
    assert "until the length is right" in told


def test_a_whole_pack_is_made_of_it(tmp_path: Path) -> None:
    written(tmp_path)
    made = builds.plan(tmp_path)
    assert made.proof.ok


def test_a_saw_that_is_owned_is_used(by_hand: Planned) -> None:
    build, shop, _ = by_hand
    saw = Machine("band saw", MachineKind.SAW, kerf=0.9)
    route = plan_build(build, replace(shop, machines=(saw,)))
    assert {s.machine for s in route.setups if s.saws} == {"band saw"}
    assert {s.saws.kerf for s in route.setups if s.saws} == {0.9}


def test_what_asks_for_a_machine_names_it(tmp_path: Path) -> None:
    slot = "kind: slot, face: top, along: width, position: {left: 10}, width: 4, depth: 2"
    slotted = HAND_WORK.replace("features: {}", f"features: {{groove: {{{slot}}}}}")
    build, shop = written(tmp_path, slotted)
    with pytest.raises(UnplannableError, match=r"'spacer', mill groove: .* lists no mill"):
        plan_build(build, shop)
