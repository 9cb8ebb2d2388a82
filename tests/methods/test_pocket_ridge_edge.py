"""Pockets, ridges, bevelled and rounded edges: closed-form volumes on every face, and faults."""

import math

import pytest

from barstock.drawing.build import AXES, Face
from barstock.methods import KINDS

SIZE = (32, 28, 22)
IN_FACE = {axis: [i for i in range(3) if i != axis] for axis in range(3)}


@pytest.mark.parametrize("face", list(Face))
def test_pocket_volume(taken, face):
    u, v = (AXES[i] for i in IN_FACE[face.axis])
    place = f"at: {{{u}: centre, {v}: centre +1}}"
    square = f"{{kind: pocket, face: {face}, {place}, {u}: 12, {v}: 8, corner radius: 2, depth: 4}}"
    assert taken(square) == pytest.approx(4 * (12 * 8 - (4 - math.pi) * 2**2))
    assert taken(
        f"{{kind: pocket, face: {face}, {place}, diameter: 8, depth: 4}}"
    ) == pytest.approx(math.pi * 4**2 * 4)


def test_pocket_ways(made, block):
    kind = KINDS["pocket"]
    place = "kind: pocket, face: top, at: {left: 10, width: centre}, depth: 4"
    (way,) = kind.ways(made(f"{{{place}, length: 12, width: 8, corner radius: 2}}"), block)
    (cut,) = way.cuts
    assert (cut.origin, cut.run_length, cut.across_length, cut.corner) == ((4, 10, 18), 12, 8, 2)
    assert [check.name for check in cut.checks] == [
        "length",
        "width",
        "depth",
        "from left",
        "corner radius",
    ]
    ways = kind.ways(made(f"{{{place}, diameter: 8}}"), block)
    assert [(way.cuts[0].finish, way.cuts[0].flat) for way in ways] == [
        ("drilled", True),
        ("bored", True),
    ]


def test_a_corner_smaller_than_any_with_limits_may_be_half_as_large(made, block):
    pocket = "{kind: pocket, face: top, at: {left: 10, width: centre}, depth: 4, length: 12,"
    (way,) = KINDS["pocket"].ways(made(f"{pocket} width: 8, corner radius: 0.25}}"), block)
    assert way.cuts[0].sharpest == 0.125  # ISO 2768-1 table 2 begins at 0.5


@pytest.mark.parametrize("face", list(Face))
@pytest.mark.parametrize("turn", [0, 1])
def test_ridge_volume(taken, face, turn):
    along, across = IN_FACE[face.axis][turn], IN_FACE[face.axis][1 - turn]
    ridge = f"kind: ridge, face: {face}, peak along: {AXES[along]}, angle: 3"
    half = SIZE[across] / 2
    # on each side a rectangle under the depth at the peak and a triangle of the fall
    section = 2 * (half * 0.5 + half**2 * math.tan(math.radians(3)) / 2)
    place = f"position: {{{AXES[across]}: centre}}"
    assert taken(f"{{{ridge}, {place}, depth at peak: 0.5}}") == pytest.approx(
        section * SIZE[along]
    )
    height = SIZE[face.axis] - 0.5
    assert taken(f"{{{ridge}, {place}, peak height: {height}}}") == pytest.approx(
        section * SIZE[along]
    )


def test_the_flats_of_a_ridge_fall_away_from_the_peak(made, block):
    spec = made("{kind: ridge, face: top, peak along: width, position: {left: 12}, angle: 3}")
    low, high = KINDS["ridge"].ways(spec, block)[0].cuts
    sin, cos = math.sin(math.radians(3)), math.cos(math.radians(3))
    assert low.origin == high.origin == (12, 0, 22)
    assert low.run == pytest.approx((-cos, 0, -sin))
    assert high.run == pytest.approx((cos, 0, -sin))
    assert low.normal == pytest.approx((-sin, 0, cos))
    assert (low.run_length, high.run_length) == pytest.approx((12 / cos, 20 / cos))
    assert not low.walls


@pytest.mark.parametrize("first", list(Face))
def test_edge_volume(taken, first):
    for second in Face:
        if second.axis == first.axis:
            continue
        run = SIZE[3 - first.axis - second.axis]
        between = f"kind: edge, between: [{first}, {second}]"
        assert taken(f"{{{between}, bevel: {{{first}: 1, {second}: 2}}}}") == pytest.approx(run)
        assert taken(f"{{{between}, radius: 3}}") == pytest.approx(run * 9 * (1 - math.pi / 4))


def test_the_legs_of_a_bevel_lie_on_the_faces_named(made, block):
    spec = made("{kind: edge, between: [top, front], bevel: {front: 2, top: 1}}")
    solid = KINDS["edge"].removes(spec, block)
    assert solid.contains((16, 0.9, 22))
    assert not solid.contains((16, 1.1, 22))
    assert solid.contains((16, 0, 20.1))
    assert not solid.contains((16, 0, 19.9))


def test_only_an_even_bevel_is_milled(made, block):
    def ways(size):
        spec = made(f"{{kind: edge, between: [top, front], {size}}}")
        return [way.name for way in KINDS["edge"].ways(spec, block)]

    assert ways("bevel: 1") == ["filed", "milled"]
    assert ways("bevel: {top: 1, front: 2}") == ways("radius: 1") == ["filed"]
    assert ways("bevel: 1, finish: milled") == ["milled", "filed"]


POCKET = "kind: pocket, face: top, at: {length: centre, width: centre}"
RIDGE = "kind: ridge, face: top, peak along: width, position: {length: centre}"


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        (f"{{{POCKET}, length: 12, height: 8, depth: 4, corner radius: 2}}", "height", "no height"),
        (f"{{{POCKET}, length: 12, depth: 4, corner radius: 2}}", None, "width of the pocket is"),
        (f"{{{POCKET}, length: 12, diameter: 8, depth: 4}}", "length", "round pocket has no"),
        (
            f"{{{POCKET}, length: 12, width: 8, depth: 4, corner radius: 5}}",
            "corner radius",
            "half",
        ),
        (f"{{{POCKET}, length: 12, width: 8, depth: 22, corner radius: 2}}", "depth", "22 mm"),
        (f"{{{POCKET}, length: 34, width: 8, depth: 4, corner radius: 2}}", "at", "1 mm out"),
        (f"{{{RIDGE}}}", None, "'angle' is missing"),
        (f"{{{RIDGE}, angle: 3, depth at peak: 22}}", "depth at peak", "22 mm to 22.839"),
        (f"{{{RIDGE}, angle: 3, depth at peak: 1, peak height: 20}}", "depth at peak", "disagree"),
        (f"{{{RIDGE}, angle: 90}}", "angle", "no fall"),
        ("{kind: edge, between: [top, bottom], bevel: 1}", "between", "do not meet"),
        ("{kind: edge, between: [top, front]}", None, "neither bevel nor radius"),
        ("{kind: edge, between: [top, front], bevel: 1, radius: 1}", None, "both a bevel and"),
        ("{kind: edge, between: [top, front], bevel: 1 x 2}", "bevel", "which leg"),
        ("{kind: edge, between: [top, front], bevel: {top: 1, left: 2}}", "bevel", "other faces"),
        ("{kind: edge, between: [top, front], radius: 22}", "radius", "more than"),
        ("{kind: edge, between: [top, front], radius: 2, finish: milled}", "finish", "45 degrees"),
    ],
)
def test_faults(faults, written, field, said):
    said_of = [(at, what) for grade, at, what in faults(written) if grade == "error"]
    assert any(at == field and said in what for at, what in said_of), said_of


def test_corners_without_a_radius_are_as_a_cutter_leaves_them(made, block):
    """A quarter of the 8 mm width, R 2, or less."""
    kind = KINDS["pocket"]
    place = "kind: pocket, face: top, at: {left: 10, width: centre}, depth: 4"
    for corner in ("", ", corner radius: 0", ", corner radius: square"):
        (way,) = kind.ways(made(f"{{{place}, length: 12, width: 8{corner}}}"), block)
        assert (way.cuts[0].corner, way.cuts[0].sharpest) == pytest.approx((2.0, 0.1))


@pytest.mark.parametrize(
    ("corner", "grade", "field", "said"),
    [
        ("", "lacking", None, "does not say the radius"),
        (", corner radius: 0", "warning", "corner radius", "no sharp corner"),
        (", corner radius: sharp", "warning", "corner radius", "no sharp corner"),
        (", corner radius: 3", None, None, None),
    ],
)
def test_what_is_said_of_corners(faults, corner, grade, field, said):
    found = faults(f"{{{POCKET}, length: 12, width: 8, depth: 4{corner}}}")
    assert [(g, f) for g, f, _ in found] == ([(grade, field)] if grade else [])
    assert all(said in what and "R 2 mm or less" in what for _, _, what in found)


def test_pockets_alike_at_several_places(made, taken, block):
    """Two of 6 x 4, 3 deep, corners R 1: each 3 (24 - (4 - pi))."""
    place = "kind: pocket, face: top, depth: 3, length: 6, width: 4, corner radius: 1"
    two = f"{{{place}, at: [{{left: 6, front: 8}}, {{left: 20, front: 8}}]}}"
    assert taken(two) == pytest.approx(2 * 3 * (24 - (4 - math.pi)))
    (way,) = KINDS["pocket"].ways(made(two), block)
    assert [cut.origin for cut in way.cuts] == [(3, 6, 19), (17, 6, 19)]
    names = [check.name for cut in way.cuts for check in cut.checks]
    assert len(names) == len(set(names))
    assert {"length", "length (2)"} <= set(names)
    assert len([name for name in names if name.startswith("from left")]) == 2
    row = "{row: {count: 3, pitch: 9, along: length}, from: {left: 6, front: 8}}"
    assert taken(f"{{{place}, at: {row}}}") == pytest.approx(3 * 3 * (24 - (4 - math.pi)))


def test_a_pocket_of_several_that_runs_out_is_told(faults):
    place = "kind: pocket, face: top, depth: 3, length: 6, width: 4, corner radius: 1"
    said = faults(f"{{{place}, at: [{{left: 6, front: 8}}, {{left: 31, front: 8}}]}}")
    assert [(grade, field) for grade, field, _ in said] == [("error", "at")]
