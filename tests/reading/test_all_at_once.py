"""Every fault of every part is told in one run, and none that exists only because of another."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.reading.faults import Fault
from tests.leaving.small_build import SAMPLES, SHOP, written

SOUND = """
  sound:
    material: brass
    length: 40
    width: 3/4
    height: 1/8
"""
TWO_HALVES = """
  halved:
    material: brass
    length: 40
    width: 20
    height: 10
    features:
      cut: {kind: slot, face: top, along: width, position: {left: 20}, width: 4, depth: 9}
      low: {kind: slot, face: bottom, along: width, position: {left: 20}, width: 4, depth: 9}
"""


def told(folder: Path, parts: str, more: str = "", shop: str = SHOP) -> list[Fault]:
    found = api.check(written(folder, parts + more, shop))
    return [fault for fault in found if fault.grade == "error"]


def about(faults: Sequence[Fault]) -> list[tuple[str, str]]:
    return [(fault.part, fault.feature) for fault in faults]


def test_one_parts_fault_hides_no_others(tmp_path: Path) -> None:
    """One of each sort: of form, of size, of the bar, of the part as a whole."""
    parts = (
        SOUND.replace("sound", "misspelt").replace("brass", "brasss")
        + SOUND.replace("sound", "lacking").replace("    material: brass\n", "")
        + SOUND.replace("sound", "unsized").replace("length: 40", "length: 40 ±")
        + SOUND.replace("sound", "too long").replace(
            "length: 40", "length: 9000\n    bar: 3/4 x 1/8"
        )
        + TWO_HALVES
        + SOUND
    )
    faults = told(tmp_path, parts)
    assert {fault.part for fault in faults} == {
        "misspelt",
        "lacking",
        "unsized",
        "too long",
        "halved",
    }
    assert [f.what for f in faults if f.part == "halved"] == ["the part falls into 2 pieces"]


def test_one_features_fault_hides_no_others(tmp_path: Path) -> None:
    features = """    features:
      kindless: {kind: slat, face: top}
      faceless: {kind: hole, face: tp, at: {left: 5, width: centre}, diameter: 3, depth: 2}
      sizeless: {kind: hole, face: top, at: {left: 10, width: centre}, diameter: No 999, depth: 2}
      outside: {kind: hole, face: top, at: {left: 95, width: centre}, diameter: 3, depth: 2}
      too deep: {kind: slot, face: top, along: width, position: {left: 20}, width: 4, depth: 5}
      good: {kind: hole, face: top, at: {left: 30, width: centre}, diameter: 3, depth: through}
"""
    for head in (SOUND, SOUND.replace("    material: brass\n", "")):
        faults = told(tmp_path, head + features)
        names = [feature for _, feature in about(faults) if feature]
        assert names == ["kindless", "faceless", "sizeless", "outside", "too deep"]


@pytest.mark.parametrize(
    "naming",
    [
        "fits: {one: {inside: broken/hole/bore, outside: sound/width, clearance: {least: 0.1}}}",
        "pins: {first: [broken/hole]}",
        "mechanism: {guides: {one: {block: {part: broken, up: top, ahead: right}, fixed: "
        "{plate: {part: sound, up: top, ahead: right, at: {bottom: 5}}}}}}",
        "fabrications: {whole: {length: 40, width: 3/4, height: 1/4, pieces: {low: {part: sound, "
        "at: {left: 0, front: 0, bottom: 0}}, high: {part: broken, at: {left: 0, front: 0, top: 0}}"
        "}, joints: {seam: {between: [low, high], form: lap, filler: Ag 155, gap: 0.05 to 0.1}}}}",
    ],
)
def test_what_names_a_broken_part_adds_no_fault_of_its_own(tmp_path: Path, naming: str) -> None:
    for size, depth in (("1/8 ±", "2"), ("1/8", "2 ±")):
        broken = SOUND.replace("sound", "broken").replace("1/8", size)
        at = "{left: 9, width: centre}"
        hole = f"{{kind: hole, face: top, at: {at}, diameter: 1, depth: {depth}}}"
        broken += f"    features: {{hole: {hole}}}\n"
        faults = told(tmp_path, SOUND + broken, naming)
        assert [fault.part for fault in faults] == ["broken"], faults


def test_a_hole_that_breaks_into_an_unread_one_is_not_told_that_it_is_not_there(
    tmp_path: Path,
) -> None:
    features = """    features:
      way: {kind: hole, face: left, at: {width: centre, height: centre}, diameter: 1 ±, depth: 9}
      oil: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 1, depth: 2,
        breaks into: way}
"""
    assert about(told(tmp_path, SOUND + features)) == [("sound", "way")]


def test_a_shops_fault_hides_no_parts_and_lacks_nothing_that_cannot_be_read(tmp_path: Path) -> None:
    shop = SHOP.replace("- 3/4 x 1/8 x 300", "- 3/4 x 1/8 x three hundred", 1)
    faults = told(tmp_path, TWO_HALVES + SOUND.replace("brass", "gunmetal"), shop=shop)
    assert [fault.part for fault in faults] == ["halved", ""]
    sound = told(tmp_path, SOUND.replace("brass", "gunmetal"))
    assert [fault.what for fault in sound] == ["the rack has no gunmetal"]


def test_a_build_that_cannot_be_read_is_not_told_that_its_shop_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_text("build: [\nworkshop: ../shop.yaml\n", encoding="utf-8")
    faults = api.check(tmp_path)
    assert faults
    assert all(Path(fault.place.file).name == "build.yaml" for fault in faults)


WAGON = (SAMPLES / "wagon" / "build.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "good", "slip"),
    [
        ("at: {length: centre -17.6, width: centre, bottom: ", "centre -17.6", "centre minus"),
        ("gap: 0.05 to 0.12", "0.05 to 0.12", "0.05 to wide"),
        ("filler: ", "filler: ", "filler: Ag 9999 # "),
    ],
)
def test_one_slip_in_joined_work_is_told_once(
    tmp_path: Path, line: str, good: str, slip: str
) -> None:
    """A place that cannot be read leaves its piece without a place, and others without a fellow."""
    assert line in WAGON
    before, found, after = WAGON.partition(line)
    text = before + found.replace(good, slip) + after
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (fault,) = [f for f in read_build(tmp_path, KINDS).faults if f.grade == "error"]
    assert fault.place.line == before.count("\n") + 1


def test_copies_that_cannot_be_read_are_not_too_few(tmp_path: Path) -> None:
    head, name, rest = WAGON.partition("  horn guide:\n")
    text = head + name + rest.replace("copies: 8", "copies: eight", 1)
    assert text != WAGON
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (fault,) = [f for f in read_build(tmp_path, KINDS).faults if f.grade == "error"]
    assert fault.what == "'copies' cannot be 'eight'"
