"""The part with all its features: the drawn solid, and what a draughtsman would say of it."""

import math
import subprocess
import sys

import pytest

from barstock.methods import KINDS
from barstock.methods.drawn_solid import drawn_solid, may_remove
from barstock.methods.part_checks import check_part

T_SECTION = {
    "front_rebate": "{kind: step, face: top, edge: front, width: 6, depth: 7}",
    "back_rebate": "{kind: step, face: top, edge: back, width: 6, depth: 7}",
}


def said(part, **limits):
    return [(fault.grade, fault.feature, fault.what) for fault in check_part(part, **limits)]


def test_drawn_solid(part):
    horn_guide = part(
        42,
        20,
        12,
        **T_SECTION,
        holes="{kind: hole, face: bottom, at: [{left: 7, front: 3}, {left: 7, back: 3}], "
        "diameter: 3, depth: through}",
    )
    # the T section along the bar, less two holes through its 5 mm flange
    volume = 42 * (20 * 12 - 2 * 6 * 7) - 2 * math.pi * 1.5**2 * 5
    assert drawn_solid(horn_guide).volume == pytest.approx(volume)
    assert may_remove(horn_guide).empty
    assert not check_part(horn_guide)


def test_a_thin_wall_between_features(part):
    cover = part(
        24,
        20,
        4,
        relief="{kind: slot, face: top, along: length, position: {width: centre}, width: 10, "
        "depth: 1.5}",
        hole="{kind: hole, face: top, at: {left: 4, front: 3}, diameter: 2.2, depth: through}",
    )
    # wall of the slot at 5, edge of the hole at 4.1
    ((grade, feature, what),) = said(cover)
    assert (grade, feature) == ("warning", "hole")
    assert "a wall of 0.9 mm to relief" in what
    assert not said(cover, least_wall=0.8)


def test_a_thin_wall_to_a_face(part):
    written = "{kind: hole, face: top, at: {left: 3.5, front: 8}, diameter: 6, depth: through}"
    ((_, feature, what),) = said(part(30, 16, 10, bore=written))
    assert feature == "bore"
    assert "a wall of 0.5 mm to the left face" in what


def test_a_thin_wall_within_a_pattern(part):
    at = "at: [{left: 10, front: 8}, {left: 16.4, front: 8}]"
    written = f"{{kind: hole, face: top, {at}, diameter: 6, depth: through}}"
    ((_, _, what),) = said(part(30, 16, 10, holes=written))
    assert "a wall of 0.4 mm to the next one" in what


def test_a_feature_in_the_air(part):
    # the front rebate has already gone 6 in and 7 down: 0.5 from the top nothing is thin there
    pin = "{kind: hole, face: front, at: {left: 21, top: 3.5}, diameter: 6, depth: 6, bottom: flat}"
    ((grade, feature, what),) = said(part(42, 20, 12, **T_SECTION, pin=pin))
    assert (grade, feature) == ("warning", "pin")
    assert "takes nothing off the part that other features leave" in what


def test_a_countersink_in_the_air(part):
    pocket = (
        "{kind: pocket, face: top, at: {length: centre, width: centre}, diameter: 12, depth: 3}"
    )
    hole = (
        "{kind: hole, face: top, at: {length: centre, width: centre}, diameter: 3, depth: through, "
        "countersink: {diameter: 6, angle: 90}%s}"
    )
    # 3 across the hole, 6 across the top at 90 degrees: 1.5 deep, and the pocket's floor is 3 down
    ((grade, feature, what),) = said(part(30, 20, 10, pocket=pocket, hole=hole % ""))
    assert (grade, feature) == ("error", "hole")
    assert "has its countersink where other features leave no metal" in what
    assert not said(part(30, 20, 10, pocket=pocket, hole=hole % ", starts below: 3"))


def test_a_drill_that_breaks_into_another_feature(part):
    pocket = "{kind: pocket, face: top, at: {left: 20, width: centre}, diameter: 8, depth: 6}"
    hole = (
        "{kind: hole, face: left, at: {width: centre, top: 3}, diameter: 4, depth: 14, "
        "finish: reamed}"
    )
    # the pocket begins at 16; 2 below the reamed depth its drill's full diameter is there
    deep = part(40, 20, 12, pocket=pocket, hole=hole)
    assert [(feature, grade) for grade, feature, _ in said(deep)] == [("hole", "warning")]
    assert "breaks into pocket" in said(deep)[0][2]
    assert not said(part(40, 20, 12, pocket=pocket, hole=hole.replace("14", "11")))


def test_a_part_cut_in_two(part):
    parted = part(
        30,
        16,
        10,
        first="{kind: slot, face: top, along: width, position: {left: 15}, width: 4, depth: 6}",
        second="{kind: slot, face: bottom, along: width, position: {left: 15}, width: 4, depth: 6}",
    )
    assert ("error", "", "the part falls into 2 pieces") in said(parted)


def test_limits_closer_than_can_be_measured(part):
    written = "{kind: step, face: top, edge: front, width: 6 ±0.001, depth: 7}"
    ((grade, _, what),) = said(part(42, 20, 12, rebate=written))
    assert grade == "warning"
    assert "0.0020 mm apart on its width" in what


def test_every_field_of_every_kind_is_described():
    for kind in KINDS.values():
        schema = kind.fields.model_json_schema(by_alias=True)
        tables = [schema, *schema.get("$defs", {}).values()]
        fields = {
            name: field for table in tables for name, field in table.get("properties", {}).items()
        }
        assert fields, kind.name
        assert [name for name, field in fields.items() if not field.get("description")] == []


def test_the_kinds_load_without_the_kernel():
    code = "import sys, barstock.methods; print([m for m in sys.modules if m.startswith('OCP')])"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_hole_cannot_start_on_a_floor_that_no_feature_makes(part):
    hole = "{kind: hole, face: top, at: {left: 10, front: 6}, diameter: 4, depth: 5, "
    below = hole + "starts below: 3}"
    slot = "{kind: slot, face: top, along: width, position: {left: 10}, width: 8, depth: 3}"
    ((grade, feature, what),) = said(part(30, 16, 12, well=below))
    assert (grade, feature) == ("error", "well")
    assert "3 mm below the top face, in solid metal" in what
    assert not said(part(30, 16, 12, slot=slot, well=below))
    leaning = slot.replace("width: 8, depth: 3", "width: 8, depth: 3.2, lean: 1.5, wide end: front")
    assert not said(part(30, 16, 12, slot=leaning, well=below))


def test_a_hole_starts_on_a_socket_s_floor_whatever_else_is_bored(part):
    """Bores along the part, one in another, that the socket and its way come out into."""
    end = "kind: hole, at: {width: centre, height: centre}"
    bored = part(
        78,
        24,
        24,
        thread=f"{{{end}, face: left, thread: M12 x 1, depth: 12}}",
        chamber=f"{{{end}, face: left, diameter: 11, depth: 18, bottom: flat}}",
        passage=f"{{{end}, face: left, diameter: 6, depth: through}}",
        bore=f"{{{end}, face: right, diameter: 13 H7, depth: 24, bottom: flat, finish: bored}}",
        cap=f"{{{end}, face: right, thread: M16 x 1, depth: 10}}",
        socket="{kind: hole, face: back, at: {left: 64, height: centre}, diameter: 9 H8, "
        "depth: 4, bottom: flat, finish: bored}",
        way="{kind: hole, face: back, at: {left: 64, height: centre}, starts below: 4, "
        "diameter: 5, depth: 3}",
    )
    assert not [what for _, _, what in said(bored) if "solid metal" in what]
