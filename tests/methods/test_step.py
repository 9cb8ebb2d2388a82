"""Steps: volumes by closed form (width x depth x run), every way of giving width and depth."""

import pytest

from barstock.methods import KINDS

STEP = KINDS["step"]


@pytest.mark.parametrize(
    ("written", "volume"),
    [
        ("{kind: step, face: top, edge: front, width: 6, depth: 7}", 6 * 7 * 32),
        ("{kind: step, face: left, edge: back, width: 6, depth: 7}", 6 * 7 * 22),
        ("{kind: step, face: front, edge: right, width: 6, depth: 7}", 6 * 7 * 22),
        # the wall stands 20 from the back of a part 28 wide: 8 wide
        ("{kind: step, face: top, edge: front, wall from: {back: 20}, depth: 7}", 8 * 7 * 32),
        # half of a symmetric tongue: the wall 4 off the centre line at 14, so 10 wide
        ("{kind: step, face: top, edge: front, wall from: {width: centre -4}, depth: 7}", 2240),
        ("{kind: step, face: top, edge: front, leaves: 20, depth: 7}", 8 * 7 * 32),
        # a tongue of 8 between two steps in 28: each 10 wide
        ("{kind: step, face: top, edge: front, mirrored: true, leaves: 8, depth: 7}", 2 * 2240),
        # 5 left under the floor of a part 22 high: 17 deep
        ("{kind: step, face: top, edge: front, width: 6, floor from: {bottom: 5}}", 6 * 17 * 32),
    ],
)
def test_volume(taken, written, volume):
    assert taken(written) == pytest.approx(volume)


def test_two_ways_that_agree_are_taken(taken):
    written = "{kind: step, face: top, edge: front, width: 8, leaves: 20, depth: 7}"
    assert taken(written) == pytest.approx(8 * 7 * 32)


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        ("{kind: step, face: top, edge: front, depth: 7}", None, "width of the step is missing"),
        ("{kind: step, face: top, edge: front, width: 6}", None, "depth of the step is missing"),
        (
            "{kind: step, face: top, edge: front, width: 6, leaves: 20, depth: 7}",
            "leaves",
            "disagree by 2 mm",
        ),
        ("{kind: step, face: top, edge: bottom, width: 6, depth: 7}", "edge", "do not meet"),
        ("{kind: step, face: top, edge: front, width: 28, depth: 7}", "width", "28 mm in from"),
        ("{kind: step, face: top, edge: front, width: 6, depth: 23}", "depth", "23 mm deep"),
        (
            "{kind: step, face: top, edge: front, mirrored: true, width: 14, depth: 7}",
            "width",
            "the part has 14 mm",
        ),
    ],
)
def test_faults(faults, written, field, said):
    ((grade, at, what),) = faults(written)
    assert (grade, at) == ("error", field)
    assert said in what


def test_it_can_be_cut_from_the_face_or_from_the_edge(made, block):
    spec = made("{kind: step, face: top, edge: front, width: 6, depth: 7}")
    down, inward = (way.cuts[0] for way in STEP.ways(spec, block))
    assert (down.face, down.across_length, down.origin) == ("top", 6, (0, 0, 15))
    assert (inward.face, inward.across_length, inward.origin) == ("front", 7, (0, 6, 22))
    assert down.walls == inward.walls == {"across+"}


def test_the_tongue_is_checked_when_both_steps_are_cut(made, block):
    spec = made("{kind: step, face: top, edge: front, mirrored: true, leaves: 8, depth: 7}")
    first, second = STEP.ways(spec, block)[0].cuts
    assert [check.name for check in first.checks] == ["depth front"]
    assert [check.name for check in second.checks] == ["depth back", "leaves"]
    assert second.checks[-1].dimension.nominal == 8
    assert second.checks[-1].sort == "outside"


def test_the_sheet_shows_what_the_drawing_gave(made, block):
    spec = made("{kind: step, face: top, edge: front, wall from: {back: 20}, depth: 7}")
    wall, depth = STEP.drawn(spec, block)
    assert (wall.view, wall.start[1], wall.end[1]) == ("side", 8, 28)
    assert (depth.start[2], depth.end[2]) == (15, 22)
