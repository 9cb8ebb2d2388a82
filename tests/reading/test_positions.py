"""Positions and patterns on a face, by plain arithmetic on a block 40 x 20 x 10 mm."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS

BLOCK = """\
build: Trial
general tolerance: ±0.1
parts:
  block:
    material: brass
    length: 40
    width: 20
    height: 10
    features:
      holes: {{kind: hole, face: {face}, at: {at}, diameter: 1, depth: through}}
"""

MIDDLE = "centre: {length: centre, width: centre}"


def centres(folder: Path, at: str, face: str = "top") -> list[tuple[float, ...]]:
    (folder / "build.yaml").write_text(BLOCK.format(face=face, at=at), encoding="utf-8")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    spec = reading.build.parts[0].features[0].spec
    return [tuple(round(x, 6) for x in point) for point in spec.at]


@pytest.mark.parametrize(
    ("at", "x", "y"),
    [
        ("{left: 5, front: 4}", 5, 4),
        ("{right: 5, back: 4}", 35, 16),
        ("{length: centre, width: centre}", 20, 10),
        ("{length: centre +2.5, width: centre -3 ±0.05}", 22.5, 7),
        ("{length: centre + 1/4 in, front: 4 +0.1/0}", 26.35, 4.05),
        ("{left: 5, right: 35, front: 4}", 5, 4),
    ],
)
def test_one_place(tmp_path: Path, at: str, x: float, y: float) -> None:
    assert centres(tmp_path, at) == [(x, y, 10)]


@pytest.mark.parametrize(
    ("face", "at", "point"),
    [
        ("front", "{left: 5, bottom: 4}", (5, 0, 4)),
        ("back", "{right: 5, top: 4}", (35, 20, 6)),
        ("left", "{front: 5, height: centre}", (0, 5, 5)),
        ("right", "{back: 5, top: 4}", (40, 15, 6)),
        ("bottom", "{left: 5, back: 4}", (5, 16, 0)),
    ],
)
def test_each_face_has_its_own_two_axes(
    tmp_path: Path, face: str, at: str, point: tuple[float, ...]
) -> None:
    assert centres(tmp_path, at, face) == [point]


def test_a_list_of_places(tmp_path: Path) -> None:
    at = "[{left: 5, front: 4}, {right: 5, front: 4}]"
    assert centres(tmp_path, at) == [(5, 4, 10), (35, 4, 10)]


def test_a_row_round_its_middle(tmp_path: Path) -> None:
    at = f"{{row: {{count: 3, pitch: 10, along: length}}, {MIDDLE}}}"
    assert centres(tmp_path, at) == [(10, 10, 10), (20, 10, 10), (30, 10, 10)]


def test_a_row_by_its_span(tmp_path: Path) -> None:
    at = f"{{row: {{count: 3, span: 20, along: length}}, {MIDDLE}}}"
    assert centres(tmp_path, at) == [(10, 10, 10), (20, 10, 10), (30, 10, 10)]


def test_a_row_from_its_first_place_runs_away_from_the_face(tmp_path: Path) -> None:
    row = "row: {count: 2, pitch: 10, along: length}"
    assert centres(tmp_path, f"{{{row}, from: {{left: 5, front: 4}}}}") == [
        (5, 4, 10),
        (15, 4, 10),
    ]
    assert centres(tmp_path, f"{{{row}, from: {{right: 5, front: 4}}}}") == [
        (35, 4, 10),
        (25, 4, 10),
    ]


def test_a_grid(tmp_path: Path) -> None:
    grid = "grid: {length: {count: 2, pitch: 20}, width: {count: 2, pitch: 8}}"
    expected = [(10, 6, 10), (10, 14, 10), (30, 6, 10), (30, 14, 10)]
    assert sorted(centres(tmp_path, f"{{{grid}, {MIDDLE}}}")) == expected


def test_a_circle(tmp_path: Path) -> None:
    # the corners of a square with a diagonal of 12, and of a hexagon across 12 (sin 60 = 0.866025)
    at = f"{{circle: {{count: 4, diameter: 12, start: 90}}, {MIDDLE}}}"
    assert centres(tmp_path, at) == [(20, 16, 10), (14, 10, 10), (20, 4, 10), (26, 10, 10)]
    at = f"{{circle: {{count: 6, diameter: 12}}, {MIDDLE}}}"
    assert centres(tmp_path, at)[1] == (23, 15.196152, 10)


def test_mirrored_about_one_centre_line_and_about_both(tmp_path: Path) -> None:
    about = "{mirrored: {about: centre of length}, points: {left: 5, front: 4}}"
    assert centres(tmp_path, about) == [(5, 4, 10), (35, 4, 10)]
    about = "{mirrored: {about: [length, width]}, points: {left: 5, front: 4}}"
    expected = [(5, 4, 10), (5, 16, 10), (35, 4, 10), (35, 16, 10)]
    assert sorted(centres(tmp_path, about)) == expected


def test_limits_of_a_place_are_kept_and_a_pitch_shares_its_own(tmp_path: Path) -> None:
    at = f"{{row: {{count: 2, pitch: 10 ±0.04, along: length}}, {MIDDLE}}}"
    (tmp_path / "build.yaml").write_text(BLOCK.format(face="top", at=at), encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    places = [form.check.dimension for _, form in build.parts[0].features[0].spec.places]
    # each hole is half the pitch from the centre, and has half its limits
    assert [(p.nominal, p.minus, p.plus, p.stated) for p in places] == [(5, -0.02, 0.02, True)]


def test_a_size_outside_its_own_limits_is_worked_to_their_middle(tmp_path: Path) -> None:
    text = BLOCK.format(face="top", at="{left: 5, front: 4}")
    assert "width: 20," in text or "width: 20\n" in text
    text = text.replace("width: 20", "width: 20 -0.1/-0.3", 1)
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    reading = read_build(tmp_path, KINDS)
    assert reading.build is not None, reading.faults
    assert reading.build.parts[0].size[1] == pytest.approx(19.8)


@pytest.mark.parametrize("word", ["centre ±0.1", "centre +/-0.1", "centre +- 0.1"])
def test_limits_about_a_centre_line_are_its_own(tmp_path: Path, word: str) -> None:
    at = f"{{left: 5, width: {word}}}"
    assert centres(tmp_path, at) == [(5, 10, 10)]
    part = read_build(tmp_path, KINDS).build.parts[0]
    (way,) = KINDS["hole"].ways(part.features[0].spec, part)
    (place,) = (c for c in way.cuts[0].checks if c.name == "from centre of width")
    assert (place.dimension.minus, place.dimension.plus) == (-0.1, 0.1)
