"""Outlines: areas of straights and arcs by closed form, and lines that cannot be."""

import math

import pytest

from barstock.methods import KINDS

OUTLINE = KINDS["outline"]
STADIUM = """
{{kind: outline, face: {face}, start: {{left: 22, {low}: 2}}, path: [
  {{to: {{left: 22, {low}: 18}}, arc: 8, turn: {turn}}},
  {{to: {{left: 10, {low}: 18}}}},
  {{to: {{left: 10, {low}: 2}}, arc: 8, turn: {turn}}},
  {{to: {{left: 22, {low}: 2}}}}]}}
"""


@pytest.mark.parametrize(
    ("face", "low", "through"),
    [("top", "front", 22), ("bottom", "back", 22), ("front", "bottom", 28), ("back", "top", 28)],
)
def test_volume_outside_a_line_with_round_ends(taken, face, low, through):
    """Seen on bottom from the front, or on back from above, left and right change places."""
    turn = "left"
    kept = 12 * 16 + math.pi * 8**2  # a rectangle and two halves of a circle
    whole = 32 * (28 if face in ("top", "bottom") else 22)
    written = STADIUM.format(face=face, low=low, turn=turn)
    assert taken(written) == pytest.approx((whole - kept) * through)


def test_hollow_ends(taken, made, block):
    """Turning right, the same arcs bite into the rectangle; the cutter must fit them."""
    written = STADIUM.format(face="top", low="front", turn="right").replace("arc: 8", "arc: 10")
    # a chord of 16 in a circle of 10: segment r2 (a - sin a) / 2 with a = 2 asin 0.8
    angle = 2 * math.asin(0.8)
    kept = 12 * 16 - 2 * 50 * (angle - math.sin(angle))
    assert taken(written) == pytest.approx((32 * 28 - kept) * 22)
    (cut,) = OUTLINE.ways(made(written), block)[0].cuts
    assert cut.least_inside == pytest.approx(10)
    assert cut.way == "filed"


def test_more_than_half_a_circle(taken):
    written = """
    {kind: outline, face: top, start: {left: 10, front: 8}, path: [
      {to: {left: 10, front: 20}, arc: 10, turn: left, more than half: true},
      {to: {left: 10, front: 8}}]}
    """
    # chord 12 of a circle of 10: the big segment, centre 8 to the right of it
    angle = 2 * math.pi - 2 * math.asin(0.6)
    kept = 50 * (angle - math.sin(angle))
    assert taken(written) == pytest.approx((32 * 28 - kept) * 22)


@pytest.mark.parametrize(
    ("path", "field", "said"),
    [
        (
            "[{to: {left: 30, front: 2}}, {to: {left: 30, front: 20}}, {to: {left: 2, front: 20}}]",
            "to",
            "not closed: it ends 18 mm",
        ),
        (
            "[{to: {left: 30, front: 20}}, {to: {left: 30, front: 2}}, {to: {left: 2, front: 20}}, "
            "{to: {left: 2, front: 2}}]",
            None,
            "piece 1 meets piece 3",
        ),
        (
            "[{to: {left: 30, front: 2}}, {to: {left: 30, front: 20}, arc: 8, turn: left}, "
            "{to: {left: 2, front: 2}}]",
            "arc",
            "cannot span the 18 mm",
        ),
        (
            "[{to: {left: 30, front: 2}}, {to: {left: 30, front: 20}, arc: 9, turn: left}, "
            "{to: {left: 2, front: 2}}]",
            None,
            "out of the part",
        ),
        (
            "[{to: {left: 30, front: 2}}, {to: {left: 30, front: 20}, arc: 9}, "
            "{to: {left: 2, front: 2}}]",
            None,
            "may turn two ways",
        ),
    ],
)
def test_faults(faults, path, field, said):
    found = faults(f"{{kind: outline, face: top, start: {{left: 2, front: 2}}, path: {path}}}")
    ((_, at, what),) = found
    assert said in what
    assert at == field
