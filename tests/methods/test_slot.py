"""Slots: volumes by closed form, leaning ones as trapezium x width, every way of giving them."""

import math

import pytest

from barstock.methods import KINDS

SLOT = KINDS["slot"]
LEAN = math.tan(math.radians(1.5))
FRONT = "kind: slot, face: front, along: length, position: {height: centre}, width: 8"


@pytest.mark.parametrize(
    ("written", "volume"),
    [
        # width x depth x run
        (f"{{{FRONT}, depth: 3}}", 8 * 3 * 32),
        ("{kind: slot, face: top, along: width, wall from: {left: 4}, width: 6, depth: 3}", 504),
        (f"{{{FRONT}, floor from: {{back: 20}}}}", 8 * 8 * 32),
        (f"{{{FRONT}, floor from: {{width: centre -4}}}}", 8 * 10 * 32),
        (f"{{{FRONT}, mirrored: true, across floors: 20}}", 2 * 8 * 4 * 32),
        # open at one end: a straight and half a circle of radius 4
        (f"{{{FRONT}, depth: 3, open at: left, length: 15}}", 3 * (8 * 11 + math.pi * 8)),
        # closed: a straight and two halves; 15 over all is 7 between the centres
        (f"{{{FRONT}, depth: 3, length: 15, middle: {{length: centre}}}}", 3 * (56 + math.pi * 16)),
        (
            f"{{{FRONT}, depth: 3, between centres: 7, end from: {{left: 5}}}}",
            3 * (56 + math.pi * 16),
        ),
        # square ends with corners of radius 1: less (4 - pi) r2
        (
            f"{{{FRONT}, depth: 3, length: 15, end from: {{left: 5}}, ends: square, "
            "corner radius: 1}",
            3 * (8 * 15 - (4 - math.pi)),
        ),
    ],
)
def test_volume(taken, written, volume):
    assert taken(written) == pytest.approx(volume)


@pytest.mark.parametrize("wide", ["left", "right"])
@pytest.mark.parametrize(
    ("given", "shallow"),
    [
        ("mirrored: true, across wide end: 23", 2.5),  # (28 - 23) / 2
        ("mirrored: true, depth: 4", 4 - 32 * LEAN),
        ("mirrored: true, depth: 4, depth at: {wide}", 4),
        ("mirrored: true, floor from: {{back: 24}}", 4 - 32 * LEAN),
    ],
)
def test_a_leaning_slot(taken, given, shallow, wide):
    written = f"{{{FRONT}, lean: 1.5, wide end: {wide}, {given.format(wide=wide)}}}"
    # two slots, each a trapezium of mean depth shallow + half the fall
    assert taken(written) == pytest.approx(2 * 8 * 32 * (shallow + 32 * LEAN / 2))


@pytest.mark.parametrize(("face", "sign"), [("front", -1), ("back", 1)])
@pytest.mark.parametrize(("wide", "uphill"), [("left", -1), ("right", 1)])
def test_the_floor_of_a_leaning_slot_faces_the_deep_end(made, block, face, sign, wide, uphill):
    spec = made(f"{{{FRONT}, lean: 1.5, wide end: {wide}, depth: 4}}".replace("front", face))
    (cut,) = SLOT.ways(spec, block)[0].cuts
    assert cut.lean == 1.5
    # a floor that rises towards the wide end looks away from it
    assert cut.normal == pytest.approx(
        (-uphill * math.sin(math.radians(1.5)), sign * math.cos(math.radians(1.5)), 0)
    )
    assert sum(a * b for a, b in zip(cut.run, cut.normal, strict=True)) == pytest.approx(0)
    assert cut.run_length == pytest.approx(32 / math.cos(math.radians(1.5)))


def test_the_width_across_leaning_floors_is_made_by_the_second_slot(made, block):
    spec = made(f"{{{FRONT}, mirrored: true, lean: 1.5, wide end: left, across wide end: 23}}")
    first, second = SLOT.ways(spec, block)[0].cuts
    assert first.origin == pytest.approx((0, 2.5, 7))
    assert second.origin == pytest.approx((0, 25.5, 7))
    assert [check.name for check in first.checks] == ["width front", "lean front"]
    assert [check.name for check in second.checks] == ["width back", "lean back", "across wide end"]
    across = SLOT.drawn(spec, block)[1]
    assert (across.name, across.start[1], across.end[1]) == ("across wide end", 2.5, 25.5)


def test_a_round_end_allows_a_cutter_of_half_the_width(made, block):
    spec = made(f"{{{FRONT}, depth: 3, open at: right, length: 15}}")
    (cut,) = SLOT.ways(spec, block)[0].cuts
    assert (cut.origin[0], cut.run_length, cut.corner) == (17, 15, 4)
    assert cut.walls == {"run-", "across-", "across+"}


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        ("{kind: slot, face: top, along: height, width: 8, depth: 3}", "along", "cannot run along"),
        (f"{{{FRONT}}}", None, "depth of the slot is missing"),
        (f"{{{FRONT}, depth: 3, floor from: {{back: 24}}}}", "floor from", "disagree by 1 mm"),
        (f"{{{FRONT}, across floors: 20}}", "across floors", "needs two floors"),
        (f"{{{FRONT}, mirrored: true, depth: 14}}", "depth", "there is 14 mm"),
        (f"{{{FRONT}, lean: 1.5, depth: 3}}", None, "needs its 'wide end'"),
        (f"{{{FRONT}, lean: 1.5, wide end: top, depth: 3}}", "wide end", "does not end at top"),
        (
            f"{{{FRONT}, lean: 1.5, wide end: left, depth: 0.5}}",
            "depth",
            "would be -0.338 mm to 0.5 mm deep",  # 32 tan 1.5 = 0.838
        ),
        (
            f"{{{FRONT}, mirrored: true, across wide end: 23}}",
            "across wide end",
            "does not lean",
        ),
        (f"{{{FRONT}, depth: 3, middle: {{length: centre}}}}", "middle", "no closed end"),
        (f"{{{FRONT}, depth: 3, open at: left, length: 33}}", "length", "1 mm out"),
        (
            "{kind: slot, face: front, along: length, position: {bottom: 3}, width: 8, depth: 3}",
            "position",
            "1 mm out of the part's height",
        ),
        (
            "{kind: slot, face: front, along: length, wall from: {height: centre}, width: 8, "
            "depth: 3}",
            "wall from",
            "no telling which of the two walls",
        ),
    ],
)
def test_faults(faults, written, field, said):
    said_of = [(at, what) for grade, at, what in faults(written) if grade == "error"]
    assert any(at == field and said in what for at, what in said_of), said_of


def test_square_ends_without_a_radius_are_as_a_cutter_leaves_them(made, faults):
    """The slot is 8 mm wide: R 2, a quarter of that, or less."""
    for corner in ("", ", corner radius: 0"):
        written = f"{{{FRONT}, depth: 3, open at: left, length: 9, ends: square{corner}}}"
        ends = made(written).ends
        assert (ends.corner, ends.sharpest) == pytest.approx((2.0, 0.1))
        assert [grade for grade, _, _ in faults(written)] == ["warning" if corner else "lacking"]
