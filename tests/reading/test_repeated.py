"""Places of a file that are marked and repeated."""

from __future__ import annotations

from pathlib import Path

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.reading.editing import put
from barstock.reading.nodes import plain, read_text

HANDED = """\
build: Trial
parts:
  left frame:
    material: brass
    length: 40
    width: 20
    height: 5
    features: &frame
      hole: {kind: hole, face: top, at: {left: 5, front: 5}, diameter: 4, depth: through}
      slot: &slot {kind: slot, face: top, along: width, position: {left: 20}, width: 4, depth: 2}
  right frame:
    material: brass
    length: 40
    width: 20
    height: 5
    features:
      <<: *frame
      hole: {kind: hole, face: top, at: {right: 5, front: 5}, diameter: 4, depth: through}
      second: *slot
"""


def test_a_part_takes_over_another_s_features_but_for_its_own(tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_text(HANDED, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    left, right = build.parts
    assert [feature.name for feature in left.features] == ["hole", "slot"]
    assert [feature.name for feature in right.features] == ["hole", "slot", "second"]
    assert [part.features[0].spec.at[0][0] for part in build.parts] == [5, 35]
    assert right.features[2].spec == right.features[1].spec == left.features[1].spec


def test_what_is_its_own_goes_before_what_is_taken_over() -> None:
    table, faults = read_text("a: &a {x: 1, y: 2}\nb: {y: 3, <<: *a}\nc: {<<: [*a, {z: 4}]}\n", "f")
    assert faults == []
    assert table is not None
    assert plain(table) == {
        "a": {"x": "1", "y": "2"},
        "b": {"x": "1", "y": "3"},
        "c": {"x": "1", "y": "2", "z": "4"},
    }


def test_a_file_that_repeats_itself_without_end_is_refused() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    table, faults = read_text("\n".join(lines), "f")
    assert table is None
    assert [fault.what for fault in faults] == ["the file repeats too much of itself"]


def test_a_file_with_repeated_places_can_be_edited() -> None:
    changed = put(HANDED, ("parts", "left frame", "length"), "42")
    assert changed == HANDED.replace("length: 40", "length: 42", 1)
