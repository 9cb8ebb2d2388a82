"""Holes: cylinders, cones and points by closed form; sizes, depths, mouths and their faults."""

import math

import pytest

from barstock.methods import KINDS

HOLE = KINDS["hole"]
AT = "kind: hole, face: top, at: {left: 15, width: centre}"
TIP = 1 / math.tan(math.radians(59))  # height of a 118 degree point for each mm of radius


@pytest.mark.parametrize(
    ("written", "volume"),
    [
        (f"{{{AT}, diameter: 10, depth: through}}", math.pi * 25 * 22),
        (f"{{{AT}, diameter: 10, depth: 6, bottom: flat}}", math.pi * 25 * 6),
        (f"{{{AT}, diameter: 10, depth: 6}}", math.pi * 25 * (6 + 5 * TIP / 3)),
        # reamed or bored to a depth: the drill's point below is not part of the drawing
        (f"{{{AT}, diameter: 10, depth: 6, finish: reamed}}", math.pi * 25 * 6),
        # countersunk from 10 to 14 across at 90 degrees, 2 deep: frustum less the hole in it
        (
            f"{{{AT}, diameter: 10, depth: through, countersink: {{diameter: 14}}}}",
            math.pi * (25 * 22 + 2 / 3 * (49 + 35 + 25) - 25 * 2),
        ),
        (
            f"{{{AT}, diameter: 10, depth: through, countersink: {{depth: 2, angle: 90}}}}",
            math.pi * (25 * 22 + 2 / 3 * (49 + 35 + 25) - 25 * 2),
        ),
        (
            f"{{{AT}, diameter: 10, depth: through, counterbore: {{diameter: 14, depth: 3}}}}",
            math.pi * (25 * 19 + 49 * 3),
        ),
    ],
)
def test_volume(taken, written, volume):
    assert taken(written) == pytest.approx(volume)


def test_a_hole_that_starts_on_a_floor_is_measured_from_there(made, block):
    spec = made(f"{{{AT}, diameter: 4, depth: 6, bottom: flat, starts below: 7}}")
    (cut,) = HOLE.ways(spec, block)[0].cuts
    assert (cut.at, cut.depth) == (((15, 14, 15),), 6)
    hole = HOLE.removes(spec, block)
    assert hole.contains((15, 14, 9.1))
    assert not hole.contains((15, 14, 8.9))


def test_below_a_reamed_blind_hole_its_drill_may_go_deeper(made, block):
    spec = made(f"{{{AT}, diameter: 10, depth: 6, finish: reamed, drill depth: 9}}")
    extra = HOLE.may_remove(spec, block)
    assert extra is not None
    assert extra.contains((15, 14, 22 - 9 - 5 * TIP + 0.1))
    assert not extra.contains((15, 14, 22 - 9 - 5 * TIP - 0.1))


def test_nothing_more_may_go_beside_a_through_or_drilled_hole(made, block):
    for written in ("depth: through, finish: reamed", "depth: 6"):
        assert HOLE.may_remove(made(f"{{{AT}, diameter: 10, {written}}}"), block) is None


def test_a_reamed_hole_may_be_bored_instead(made, block):
    ways = HOLE.ways(made(f"{{{AT}, diameter: 10, depth: through, finish: reamed}}"), block)
    assert [way.cuts[0].finish for way in ways] == ["reamed", "bored"]
    names = [check.name for check in ways[0].cuts[0].checks]
    assert names == ["bore", "from left"]


def test_places_given_alike_are_checked_once(made, block):
    at = "at: [{left: 4, front: 3}, {left: 4, back: 3}, {right: 4, front: 3}, {right: 4, back: 3}]"
    spec = made(f"{{kind: hole, face: top, {at}, diameter: 2, depth: through}}")
    (cut,) = HOLE.ways(spec, block)[0].cuts
    assert len(cut.at) == 4
    assert [check.name for check in cut.checks] == [
        "bore",
        "from left",
        "from front",
        "from back",
        "from right",
    ]


def _places(part):
    (way, *_), (feature,) = HOLE.ways(part.features[0].spec, part), part.features
    checks = [c for cut in way.cuts for c in cut.checks if c.sort == "position"]
    drawn = [(d.dimension.text, d.prefix) for d in HOLE.drawn(feature.spec, part)[1:]]
    return {c.name: c.dimension for c in checks}, drawn


def test_a_row_about_a_centre_line_is_checked_and_drawn_by_its_pitch(part):
    row = """{kind: hole, face: top, diameter: 3, depth: through, at: {row: {count: 3, pitch: 9,
        along: length}, centre: {length: centre, front: 8}}}"""
    checks, drawn = _places(part(32, 28, 22, hole=row))
    assert checks["pitch length"].nominal == 9
    assert checks["pitch length"].plus == 0.2  # ISO 2768-1 table 1, class m: 9 mm
    assert drawn == [("8", ""), ("9", "2 × ")]


def test_a_row_from_its_first_place_is_that_and_its_span(part):
    row = """{kind: hole, face: top, diameter: 3, depth: through, at: {row: {count: 4,
        span: 18 ±0.1, along: length}, from: {left: 7, width: centre}}}"""
    checks, drawn = _places(part(32, 28, 22, hole=row))
    assert list(checks) == ["from left", "span length"]
    assert (checks["span length"].low, checks["span length"].high) == (17.9, 18.1)
    assert drawn == [("7", ""), ("18 ±0.1", "")]


def test_a_pitch_circle_is_drawn_by_its_diameter_and_set_by_its_places(part):
    circle = """{kind: hole, face: top, diameter: 3, depth: through, at: {circle: {count: 4,
        diameter: 16 ±0.1, start: 45}, centre: {left: 15, width: centre}}}"""
    made = part(32, 28, 22, hole=circle)
    (first, *_) = HOLE.drawn(made.features[0].spec, made)
    assert first.suffix.endswith(", on a ⌀16 ±0.1 circle from 45°")
    checks, drawn = _places(made)
    assert drawn == [("15", "")]  # the centre of the circle, from the left
    # 8 cos 45° either side of 15, and of the centre line
    assert [round(d.nominal, 3) for d in checks.values()] == [20.657, 5.657, 9.343]


def test_close_limits_without_a_finish_are_lacking(faults):
    said = faults(f"{{{AT}, diameter: 10 ±0.007, depth: through}}")
    assert [(grade, field) for grade, field, _ in said] == [("lacking", "diameter")]
    assert not faults(f"{{{AT}, diameter: 10 ±0.007, depth: through, finish: reamed}}")


def test_a_tapped_hole_is_drawn_to_its_major_diameter(taken, made, block):
    written = f"{{{AT}, thread: M3, depth: 8, drill depth: 10}}"
    assert taken(written) == pytest.approx(math.pi * 1.5**2 * 8)
    extra = HOLE.may_remove(made(written), block)
    assert extra is not None
    # the tapping drill for M3 is 2.5 (ISO 2306)
    assert extra.contains((15 + 1.2, 14, 22 - 9.9))
    assert not extra.contains((15 + 1.3, 14, 22 - 9.9))
    assert extra.contains((15, 14, 22 - 10 - 1.25 * TIP + 0.05))


def test_a_tapped_hole_as_the_planner_sees_it(made, block):
    (way,) = HOLE.ways(made(f"{{{AT}, thread: 6 BA, depth: 8, drill depth: 10}}"), block)
    (cut,) = way.cuts
    # 6 BA is 2.8 mm over the thread (BS 93)
    assert (cut.finish, cut.thread, cut.diameter) == ("tapped", "6 BA", 2.8)
    assert (cut.depth, cut.thread_depth, cut.drill_depth) == (8, 8, 10)
    assert [check.sort for check in cut.checks] == ["thread", "depth", "depth", "position"]


def test_how_deep_the_tapping_drill_goes_is_lacking(faults):
    said = faults(f"{{{AT}, thread: M3, depth: 8}}")
    assert [(grade, field) for grade, field, _ in said] == [("lacking", None)]
    assert not faults(f"{{{AT}, thread: M3, depth: through}}")


def test_a_clearance_hole(taken):
    # ISO 273, medium series: 3.4 for M3
    written = f"{{{AT}, clearance for: M3, depth: through}}"
    assert taken(written) == pytest.approx(math.pi * 1.7**2 * 22)


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        (f"{{{AT}, depth: 6}}", None, "has no size"),
        (f"{{{AT}, thread: M33, depth: 6}}", "thread", "'M33' is no thread"),
        (f"{{{AT}, thread: M3, finish: reamed, depth: 6}}", "finish", "cannot be left reamed"),
        (f"{{{AT}, thread: M3, depth: 6, drill depth: 5}}", "drill depth", "1 mm short"),
        (f"{{{AT}, thread: M3, depth: 21}}", "depth", "point would come out"),
        (f"{{{AT}, diameter: 3, thread: M3, depth: 6}}", "thread", "sized twice"),
        (f"{{{AT}, diameter: 3}}", None, "depth of the hole is missing"),
        (f"{{{AT}, diameter: 3, finish: tapped, depth: 6}}", "finish", "needs its thread"),
        (f"{{{AT}, diameter: 3, depth: 22}}", "depth", "the part has 22 mm"),
        (f"{{{AT}, diameter: 10, depth: 20}}", "depth", "point would come out"),  # tip is 3.0
        (
            f"{{{AT}, diameter: 10, depth: 6, finish: reamed, drill depth: 20}}",
            "drill depth",
            "point would come out",
        ),
        (
            "{kind: hole, face: top, at: {left: 4, width: centre}, diameter: 10, depth: through}",
            "at",
            "1 mm out of the side",
        ),
        (
            f"{{{AT}, diameter: 10, depth: 6, countersink: {{diameter: 9}}}}",
            "diameter",
            "no wider than the hole",
        ),
        (
            f"{{{AT}, diameter: 10, depth: 6, countersink: {{diameter: 14, depth: 3}}}}",
            "depth",
            "disagree by 2 mm",
        ),
        (
            f"{{{AT}, diameter: 10, depth: 6, counterbore: {{diameter: 14, depth: 6}}}}",
            "depth",
            "as deep as the hole",
        ),
        (
            f"{{{AT}, diameter: 10, depth: 6, countersink: {{diameter: 14}}, "
            "counterbore: {diameter: 14, depth: 3}}",
            "counterbore",
            "both",
        ),
    ],
)
def test_faults(faults, written, field, said):
    said_of = [(at, what) for grade, at, what in faults(written) if grade == "error"]
    assert any(at == field and said in what for at, what in said_of), said_of


def test_a_thread_that_ends_before_its_drill_goes_through(made, taken, block):
    """M6 to 8 deep and its 5 mm drill through the 22: 9 pi 8 + 6.25 pi 14."""
    written = f"{{{AT}, thread: M6, depth: 8, drill depth: through}}"
    assert taken(written) == pytest.approx(math.pi * (9 * 8 + 6.25 * 14))
    (cut,) = HOLE.ways(made(written), block)[0].cuts
    assert (cut.through, cut.drilled_through, cut.thread_depth, cut.drill_depth) == (
        False,
        True,
        8,
        22,
    )


@pytest.mark.parametrize("word", ["through", "THRU", "thro'", "right through"])
def test_through_in_the_ways_it_is_written(taken, word):
    assert taken(f'{{{AT}, diameter: 10, depth: "{word}"}}') == pytest.approx(math.pi * 25 * 22)


@pytest.mark.parametrize(
    ("written", "deep", "flat"),
    [
        # 3 pitches of M6 below 10 of thread; of 17 what leaves 1 under the 5 mm drill's point, 1.5
        ("thread: M6, depth: 10", 13, False),
        ("thread: M6, depth: 17.5", 22 - 1 - 2.5 * TIP, False),
        # 1.5 pitches are the tap's lead; a point below them would leave less than 1
        ("thread: M6, depth: 19", 20.5, True),
        ("diameter: 10 H7, finish: reamed, depth: 8", 13, False),
        ("diameter: 10 H7, finish: reamed, depth: 19", 19, True),
        ("diameter: 10, depth: 12", 0, False),
    ],
)
def test_a_drill_goes_no_deeper_than_there_is_metal(made, faults, written, deep, flat):
    bore = made(f"{{{AT}, {written}}}").bore
    assert (bore.drill_depth, bore.flat) == (pytest.approx(deep), flat)
    said = [what for grade, _, what in faults(f"{{{AT}, {written}}}") if grade == "lacking"]
    assert any("flat bottom is taken" in what for what in said) == flat


def test_half_a_hole_is_made_with_its_mate(part, faults):
    written = "{kind: hole, face: top, at: {left: 0, width: centre}, diameter: 10, depth: through}"
    (feature,) = part(32, 28, 22, it=written).features
    assert feature.by_hand == "with its mate"
    ((grade, field, what),) = faults(written)
    assert (grade, field) == ("lacking", "at")
    assert "but half of it" in what


def test_a_through_hole_may_be_countersunk_at_its_far_end_too(made, taken, block, faults):
    """10 to 14 across at 90 degrees, 2 deep: as much at either end of the 22."""
    cone = math.pi * (2 / 3 * (49 + 35 + 25) - 25 * 2)
    hole = f"{AT}, diameter: 10, depth: through"
    far = f"{{{hole}, far countersink: {{diameter: 14}}}}"
    assert taken(far) == pytest.approx(math.pi * 25 * 22 + cone)
    both = f"{{{hole}, countersink: {{depth: 2}}, far countersink: {{depth: 2}}}}"
    assert taken(both) == pytest.approx(math.pi * 25 * 22 + 2 * cone)
    bore, mouth = HOLE.ways(made(far), block)[0].cuts
    assert (bore.face, bore.countersink) == ("top", None)
    assert (mouth.face, mouth.at, mouth.countersink) == ("bottom", ((15, 14, 0),), (14, 90))
    assert [check.name for check in mouth.checks] == ["far countersink"]
    blind = f"{{{AT}, diameter: 10, depth: 6, far countersink: {{diameter: 14}}}}"
    assert [(field, what) for grade, field, what in faults(blind) if grade == "error"] == [
        ("far countersink", "a blind hole has no far end")
    ]
