"""One part's or one feature's refusal stops nothing else."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from barstock import api
from barstock.route import LeftHow

ROOT = Path(__file__).parents[2]
SHOP = (ROOT / "src/barstock/samples/wagon/workshop.yaml").read_text(encoding="utf-8")
JOINED = ROOT / "tests/joining/small"
BUILD = """\
build: Trial
unit: mm
parts:
"""
STRAP = """\
  strap:
    {material: brass, length: 40, width: 12, height: 12, as bought: [front, back, top, bottom],
    features: {hole: {kind: hole, face: top, at: {left: 10, width: centre}, depth: through,
      diameter: 4}}}
"""
BOSS = STRAP.replace("strap", "boss").replace("length: 40", "length: 24")
SLAB = STRAP.replace("strap", "slab").replace("width: 12", "width: 60")
LONG_THREAD = """\
  post:
    {material: brass, length: 40, width: 12, height: 12, as bought: [front, back, top, bottom],
    features: {
    hole: {kind: hole, face: top, at: {left: 10, width: centre}, depth: through, diameter: 4},
    thread: {kind: hole, face: left, at: {front: 6, top: 6}, depth: through, thread: M2},
    rebate: {kind: step, face: top, edge: right, width: 8, depth: 3},
    eye: {kind: hole, face: top, at: {right: 4, width: centre}, starts below: 3, depth: 5,
      diameter: 3}}}
"""


def written(place: Path, build: str) -> Path:
    (place / "build.yaml").write_text(build, encoding="utf-8")
    (place / "workshop.yaml").write_text(SHOP, encoding="utf-8")
    return place


def test_one_refused_part_among_three_leaves_two_planned_and_proven(tmp_path: Path) -> None:
    made = api.plan(written(tmp_path, BUILD + STRAP + SLAB + BOSS), pictures=False)
    (left,) = made.left
    assert (left.part, left.features, left.how) == ("slab", (), LeftHow.LEFT)
    assert "no brass bar holds 60 x 12 mm" in left.tried[0].refusal
    assert made.proof.ok
    assert {bar.part for bar in made.route.bars} == {"strap", "boss"}
    assert {part.part for part in made.proof.parts if not part.taken} == {"strap", "boss"}
    assert list((made.folder / "parts").glob("slab*")), "it is drawn all the same"


def test_a_refused_feature_leaves_the_rest_of_the_part_planned_and_proven(tmp_path: Path) -> None:
    made = api.plan(written(tmp_path, BUILD + LONG_THREAD), pictures=False)
    (left,) = made.left
    assert left.features == ("thread",)
    assert "tap" in left.tried[0].refusal
    assert made.proof.ok
    (proof,) = made.proof.parts
    assert proof.finished is not None
    # a bar of 40 x 12 x 12, less a hole of 4 right through, a rebate of 8 x 3, and a hole of 3 and
    # 5 deep with its drill's point of 118 degrees
    hole, rebate, eye = 3.14159 * 4 * 12, 8 * 3 * 12, 3.14159 * 2.25 * (5 + 0.9 / 3)
    assert proof.finished.volume == pytest.approx(40 * 144 - hole - rebate - eye, abs=1.5)
    told = api.why(tmp_path, "post/thread")
    assert told == left
    assert api.prove(tmp_path).ok
    made_by = {one.asked.operation.id for one in api.guarantees(tmp_path)}
    assert any("/rebate/" in name for name in made_by)
    assert not any("/thread/" in name for name in made_by)


def test_what_hangs_on_a_feature_made_by_hand_is_left_with_it(tmp_path: Path) -> None:
    by_hand = LONG_THREAD.replace("depth: 3}", "depth: 3, finish: by hand}")
    made = api.plan(written(tmp_path, BUILD + by_hand), pictures=False)
    found = {name: one for one in made.left for name in one.features}
    assert found["rebate"].how is LeftHow.BY_HAND
    assert found["eye"].how is LeftHow.LEFT
    assert "rebate" in found["eye"].tried[0].refusal
    assert set(found) == {"rebate", "eye", "thread"}
    assert made.proof.ok


def test_a_piece_that_is_left_is_joined_as_drawn(tmp_path: Path) -> None:
    place = Path(shutil.copytree(JOINED, tmp_path / "small"))
    build = place / "build.yaml"
    text = build.read_text(encoding="utf-8")
    assert "  bridge:\n" in text
    build.write_text(text.replace("  bridge:\n", "  bridge:\n    made: bought\n"), encoding="utf-8")
    made = api.plan(place, pictures=False)
    assert [(one.part, one.how) for one in made.left] == [("bridge", LeftHow.BOUGHT)]
    assert made.proof.ok
    assert [one.part for one in made.route.fabrications] == ["stand"]
    works = {setup.work for setup in made.route.setups}
    assert "stand" in works
    assert not {"bridge", "bar for bridge"} & works


def test_pins_that_cannot_hold_are_left_out_and_told(tmp_path: Path) -> None:
    pins = "pins:\n  before: [[strap/hole/drill, strap/hole/spot]]\n  first: [strap/hole/ream]\n"
    made = api.plan(written(tmp_path, BUILD + STRAP + pins), pictures=False)
    assert not made.left
    assert made.proof.ok
    assert made.route.summary.pins == ()
    told = {fault.place.line: fault.what for fault in made.faults}
    assert "strap/hole/drill before strap/hole/spot" in told[9]
    assert "there is no operation 'strap/hole/ream'" in told[10]
