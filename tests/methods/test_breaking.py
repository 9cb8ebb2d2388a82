"""Holes that run out along their side, and those that are meant to meet others."""

import pytest

from barstock.methods.part_checks import check_part

HOLE = "{kind: hole, face: top, "
FORK = "{kind: slot, face: top, along: length, position: {width: centre}, width: 8, depth: 8}"


def said(part, **limits):
    return [(f.grade, f.feature, f.what, f.mend) for f in check_part(part, **limits)]


def test_two_patterns_that_collide(part):
    # rows 14 and 16 apart about one centre: their outer holes lie 1 apart, of 3 and 4 diameter,
    # so they overlap by 1.5 + 2 - 1 = 2.5
    row = "at: {centre: {length: centre, width: centre}, row: {count: 2, pitch: %s, along: length}}"
    plate = part(
        40,
        20,
        6,
        feet=f"{HOLE}{row % 14}, diameter: 3, depth: through}}",
        cover=f"{HOLE}{row % 16}, diameter: 4, depth: through}}",
    )
    ((grade, feature, what, mend),) = said(plate)
    assert (grade, feature) == ("error", "cover")
    assert what == "cover breaks into feet along its side, by 2.5 mm: no wall is left"
    assert "breaks into: feet" in mend


def test_a_pattern_closer_than_its_holes_are_wide(part):
    row = (
        "at: {centre: {length: centre, width: centre}, row: {count: 3, pitch: 2.5, along: length}}"
    )
    ((grade, _, what, _),) = said(part(40, 20, 6, vents=f"{HOLE}{row}, diameter: 3, depth: 4}}"))
    assert grade == "error"
    assert "the holes of vents break into each other by 0.5 mm" in what


@pytest.mark.parametrize(
    ("top", "found"),
    # the floor lies 8 down, the hole is 4 across: 9 down its crown is 9 - 2 = 7 down, 1 above it;
    # 7 down it reaches to 9; 4 down it ends at 6, whole in the slot; 11.5 down it starts at 9.5
    [(9, "by 1 mm"), (7, "along its side"), (4, ""), (11.5, "")],
)
def test_a_cross_hole_and_the_floor_of_a_fork(part, top, found):
    hole = f"{{kind: hole, face: front, at: {{left: 10, top: {top}}}, diameter: 4, depth: through}}"
    faults = said(part(40, 20, 16, fork=FORK, pivot=hole))
    assert len(faults) == bool(found)
    for grade, feature, what, _ in faults:
        assert (grade, feature) == ("error", "pivot")
        assert "breaks into fork" in what
        assert found in what


def test_one_that_is_meant_is_said_so(part):
    hole = "{kind: hole, face: front, at: {left: 10, top: 8}, diameter: 4, depth: through%s}"
    assert said(part(40, 20, 16, fork=FORK, gutter=hole % ""))
    assert not said(part(40, 20, 16, fork=FORK, gutter=hole % ", breaks into: fork"))
    misspelt = hole % ", breaks into: [fork, frok]"
    ((grade, _, what, mend),) = said(part(40, 20, 16, fork=FORK, gutter=misspelt))
    assert grade == "error"
    assert "'frok', which is no feature" in what
    assert "fork" in mend


@pytest.mark.parametrize(
    "oil",
    [
        # an oil hole into a bore, right across it, and as wide as it
        "{kind: hole, face: top, at: {left: 15, width: centre}, diameter: 2, depth: 10}",
        "{kind: hole, face: top, at: {left: 15, width: centre}, diameter: 2, depth: through}",
        "{kind: hole, face: top, at: {left: 15, width: centre}, diameter: 8, depth: through}",
        # a screw's head sunk into it, a wider bore over it
        "{kind: hole, face: right, at: {width: centre, height: centre}, diameter: 12, depth: 3, "
        "bottom: flat}",
    ],
)
def test_holes_that_are_meant_to_meet(part, oil):
    bore = (
        "{kind: hole, face: left, at: {width: centre, height: centre}, diameter: 8, depth: through}"
    )
    assert not said(part(30, 20, 20, bore=bore, oil=oil))


def test_a_cross_hole_that_misses_the_middle_of_a_bore(part):
    bore = (
        "{kind: hole, face: left, at: {width: centre, height: centre}, diameter: 8, depth: through}"
    )
    oil = "{kind: hole, face: top, at: {left: 15, front: %s}, diameter: 4, depth: through}"
    # the bore reaches from 6 to 14 across: at 8.5 a 4 mm hole lies within it, at 7 it runs out
    assert not said(part(30, 20, 20, bore=bore, oil=oil % 8.5))
    ((grade, feature, what, _),) = said(part(30, 20, 20, bore=bore, oil=oil % 7))
    assert (grade, feature) == ("error", "oil")
    assert "breaks into bore along its side, by 3 mm" in what


def test_a_hole_on_the_floor_of_a_pocket_or_over_a_small_one(part):
    pocket = (
        "{kind: pocket, face: top, at: {length: centre, width: centre}, diameter: %s, depth: 3}"
    )
    hole = f"{HOLE}at: {{length: centre, width: centre}}, diameter: 6, depth: through}}"
    assert not said(part(30, 20, 10, recess=pocket % 10, hole=hole))
    assert not said(part(30, 20, 10, recess=pocket % 4, hole=hole.replace("through", "2")))


def test_a_hole_that_starts_half_on_the_floor_of_a_step(part):
    step = "{kind: step, face: top, edge: front, width: 6, depth: 4}"
    hole = f"{HOLE}at: {{left: 10, front: 5}}, diameter: 3, depth: through}}"
    ((grade, _, what, _),) = said(part(30, 20, 10, step=step, hole=hole))
    assert grade == "error"
    assert "hole breaks into step" in what


def test_a_wall_that_another_cut_takes_anyway_is_not_missed(part):
    """The hole's crown stands 1 above the fork's floor; a step takes all that is beside it."""
    hole = "{kind: hole, face: front, at: {left: 10, top: 9}, diameter: 4, depth: through}"
    ((grade, _, what, _),) = said(part(40, 20, 16, fork=FORK, pivot=hole))
    assert (grade, "breaks into fork" in what) == ("error", True)
    away = "{kind: step, face: top, edge: left, width: 20, depth: 12}"
    told = said(part(40, 20, 16, fork=FORK, pivot=hole, away=away))
    assert not [what for _, _, what, _ in told if "breaks into" in what]


def test_what_lies_outside_an_outline_is_no_wall(part):
    """The slot opens the hole's side only beyond the outline's leaning side."""
    outline = (
        "{kind: outline, face: top, start: {left: 0, front: 0}, path: [{to: {left: 20, front: 0}}, "
        "{to: {left: 20, back: 0}}, {to: {left: 0, back: 0}}, {to: {left: 0, front: 0}}]}"
    )
    slot = "{kind: slot, face: top, along: width, position: {left: 26}, width: 6, depth: 5}"
    hole = "{kind: hole, face: front, at: {left: 24, top: 7}, diameter: 5, depth: through}"
    told = said(part(40, 20, 10, slot=slot, hole=hole))
    assert [what for _, _, what, _ in told if "breaks into" in what]
    told = said(part(40, 20, 10, slot=slot, hole=hole, shape=outline))
    assert not [what for _, _, what, _ in told if "breaks into" in what]


@pytest.mark.parametrize(
    ("deep", "found"),
    # the step takes the top 7 or 2 mm of the right half, and the eye is from 1.5 to 5.5 below the
    # top: in the first it runs over the low part, in the second in it, across the hole off its side
    [(7, False), (2, True)],
)
def test_holes_that_would_meet_in_the_air_over_a_step(part, deep, found):
    low = f"{{kind: step, face: top, edge: right, width: 25, depth: {deep}}}"
    eye = "{kind: hole, face: left, at: {width: centre, top: 3.5}, diameter: 4, depth: through}"
    feet = f"{HOLE}at: {{right: 10, width: centre +2}}, diameter: 3, depth: through}}"
    told = said(part(40, 20, 12, low=low, eye=eye, feet=feet))
    assert any("feet breaks into eye" in what for _, _, what, _ in told) is found


def test_holes_side_by_side_through_the_low_part_still_break_out(part):
    """They overlap under the step's floor as well as over it."""
    low = "{kind: step, face: top, edge: right, width: 25, depth: 7}"
    feet = f"{HOLE}at: {{right: 10, width: centre}}, diameter: 3, depth: through}}"
    more = f"{HOLE}at: {{right: 12.5, width: centre}}, diameter: 3, depth: through}}"
    told = said(part(40, 20, 12, low=low, feet=feet, more=more))
    assert [what for _, _, what, _ in told if "more breaks into feet" in what]
