"""Features left to hand work and parts made elsewhere, as they are written and taken out again."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from barstock.drawing.bars_wanted import check_against
from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.drawing.other_hands import HandFinish, Source
from barstock.methods import KINDS
from barstock.methods.drawn_solid import drawn_solid
from barstock.methods.part_checks import check_part
from barstock.planning.other_ways import made_otherwise, to_plan
from barstock.workshop.shop import Workshop

WRITTEN = {
    "step": "face: top, edge: left, width: 6, depth: 3",
    "slot": "face: top, along: width, position: {left: 12}, width: 4, depth: 3",
    "pocket": "face: top, at: {left: 20, width: centre}, length: 8, width: 6, depth: 3, "
    "corner radius: 2",
    "hole": "face: top, at: {left: 30, width: centre}, diameter: 5, depth: through",
    "ridge": "face: top, along: width, peak: {length: centre}, slope: 2",
    "edge": "between: [left, front], bevel: 1",
    "outline": "face: top, start: {left: 0, front: 0}, path: [{to: {right: 0, front: 0}}, "
    "{to: {right: 0, back: 2}}, {to: {left: 0, back: 0}}, {to: {left: 0, front: 0}}]",
}
PLANNED = {"edge": "filed", "outline": "filed"}
"""Kinds that the plan itself files."""


def read(folder: Path, part: str) -> Build:
    (folder / "build.yaml").write_text(f"build: Test\nparts:\n  block: {{{part}}}\n")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build


def block(feature: str) -> str:
    return (
        "material: brass, length: 40, width: 20, height: 12, features: {it: {" + feature + "}, "
        "dowel: {kind: hole, face: front, at: {left: 4, height: centre}, diameter: 3, depth: 5}}"
    )


@pytest.mark.parametrize("finish", list(HandFinish))
@pytest.mark.parametrize("kind", [name for name in WRITTEN if name != "ridge"])
def test_a_feature_of_any_kind_may_be_made_by_hand(
    tmp_path: Path, kind: str, finish: HandFinish
) -> None:
    written = f"kind: {kind}, {WRITTEN[kind]}, finish: {finish}"
    build = read(tmp_path, block(written))
    planned = PLANNED.get(kind) == finish
    feature = build.parts[0].features[0]
    assert feature.by_hand == (None if planned else finish)
    left = [f.name for f in to_plan(build).parts[0].features]
    assert left == (["it", "dowel"] if planned else ["dowel"])
    said = [(one.part, one.features, str(one.how)) for one in made_otherwise(build)]
    assert said == ([] if planned else [("block", ("it",), finish)])


def test_a_wrong_word_is_told_with_the_words_there_are(tmp_path: Path) -> None:
    written = f"kind: step, {WRITTEN['step']}, finish: polished"
    (tmp_path / "build.yaml").write_text(f"build: Test\nparts:\n  block: {{{block(written)}}}\n")
    (fault,) = read_build(tmp_path, KINDS).faults
    assert (fault.what, fault.feature) == ("'finish' cannot be 'polished'", "it")
    assert fault.mend == "give one of by hand, filed, with its mate"


def test_a_wrong_word_for_a_part_is_told_with_the_words_there_are(tmp_path: Path) -> None:
    part = "made: found, material: brass, length: 9, width: 5, height: 5"
    (tmp_path / "build.yaml").write_text(f"build: Test\nparts:\n  block: {{{part}}}\n")
    (fault,) = read_build(tmp_path, KINDS).faults
    assert fault.what == "'made' cannot be 'found'"
    assert fault.mend == "give one of bought, turned elsewhere, by hand, cast"


@pytest.mark.parametrize("made", list(Source))
def test_a_part_made_elsewhere_needs_no_bar_and_is_not_planned(
    tmp_path: Path, made: Source
) -> None:
    build = read(tmp_path, f"made: {made}, material: brass, length: 9, diameter: 7.3")
    bare = Workshop("shop", (), (), (), (), (), ())
    assert check_against(build, bare) == ()
    assert to_plan(build).parts == ()
    assert [(one.part, one.whole, str(one.how)) for one in made_otherwise(build)] == [
        ("block", True, made)
    ]
    planned = read(tmp_path, "material: brass, length: 9, diameter: 7.3")
    assert [fault.what for fault in check_against(planned, bare)] == ["the rack has no brass"]


def test_a_half_bore_is_drilled_with_its_mate(tmp_path: Path) -> None:
    bore = "kind: hole, face: front, at: {left: 20, top: 0}, diameter: 8 H7, depth: through"
    build = read(tmp_path, block(f"{bore}, finish: with its mate"))
    part = build.parts[0]
    whole, dowel = 40 * 20 * 12, math.pi * 1.5**2 * (5 + 1.5 / math.tan(math.radians(59)) / 3)
    half = math.pi * 4**2 / 2 * 20
    assert drawn_solid(part).volume == pytest.approx(whole - half - dowel)
    assert check_part(part) == []


def test_a_hole_centred_on_a_side_is_a_half_bore_and_that_is_told(tmp_path: Path) -> None:
    bore = "kind: hole, face: front, at: {left: 20, top: 0}, diameter: 8, depth: through"
    build = read(tmp_path, block(bore))
    assert build.parts[0].features[0].by_hand is HandFinish.WITH_MATE
    (fault,) = read_build(tmp_path, KINDS).faults
    assert (fault.grade, fault.feature) == ("lacking", "it")
    assert "finish: with its mate" in fault.mend


def test_a_hole_centred_elsewhere_runs_out_of_the_side(tmp_path: Path) -> None:
    bore = "kind: hole, face: front, at: {left: 20, top: 1}, diameter: 8, depth: through"
    (tmp_path / "build.yaml").write_text(f"build: T\nparts:\n  block: {{{block(bore)}}}\n")
    (fault,) = read_build(tmp_path, KINDS).faults
    assert "runs 3 mm out of the side of the part" in fault.what
    assert "finish: with its mate" in fault.mend


@pytest.mark.parametrize(
    ("feature", "volume"),
    [
        ("kind: pocket, face: top, at: {left: 20, width: centre}, length: 9, width: 6, depth: 3",
         9 * 6 * 3),
        ("kind: slot, face: top, along: length, position: {width: centre}, width: 4, depth: 2, "
         "length: 10, end from: {left: 12}, ends: square", 4 * 2 * 10),
    ],
)  # fmt: skip
def test_corners_filed_out_by_hand_may_be_sharp(
    tmp_path: Path, feature: str, volume: float
) -> None:
    part = read(tmp_path, block(f"{feature}, finish: by hand")).parts[0]
    spec = part.features[0].spec
    kind = KINDS[part.features[0].kind]
    assert kind.removes(spec, part).common(drawn_solid(part)).empty
    dowel = math.pi * 1.5**2 * (5 + 1.5 / math.tan(math.radians(59)) / 3)
    assert drawn_solid(part).volume == pytest.approx(40 * 20 * 12 - dowel - volume)
    assert "R" not in [each.prefix for each in kind.drawn(spec, part)]
