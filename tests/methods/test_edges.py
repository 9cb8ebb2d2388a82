"""Several edges bevelled or rounded alike, on the block 32 x 28 x 22."""

import math

import pytest

from barstock.methods import KINDS

EDGES = KINDS["edges"]


def test_the_edges_round_a_face(taken, made, block):
    """Prisms of half a square over the four edges 28 and 22 long, less what they share: at each of
    the four corners two bevels of 2 meet in a prism's end, 2 x 2 x 2 / 3."""
    bevelled = taken("{kind: edges, around: right, bevel: 2}")
    assert bevelled == pytest.approx(2 * 2 / 2 * 2 * (28 + 22) - 4 * 2**3 / 3)
    (milled,) = (way for way in EDGES.ways(made("{kind: edges, around: right, bevel: 2}"), block)
                 if way.name == "milled")  # fmt: skip
    assert len(milled.cuts) == 4
    assert all("right" in cut.faces for cut in milled.cuts)


def test_rounded_edges_round_one_face_of_a_tall_part(taken):
    """Along one edge a radius of 3 takes (1 - pi/4) 9 for each mm; four about the height, none of
    which meet."""
    upright = (
        "{kind: edges, around: [left, right], radius: 3}",
        "{kind: edges, around: [left, right], radius: 3, finish: filed}",
    )
    first, second = (taken(written) for written in upright)
    assert first == pytest.approx(second)
    most = (1 - math.pi / 4) * 9 * 4 * (28 + 22)
    assert 0.9 * most < first < most


def test_all_edges_are_twelve_each_checked_by_its_own_name(made, block):
    edges = made("{kind: edges, around: all, bevel: 0.5}")
    filed, milled = EDGES.ways(edges, block)
    assert (filed.name, milled.name) == ("filed", "milled")
    assert len({cut.faces for cut in filed.cuts}) == 12
    names = [check.name for cut in filed.cuts for check in cut.checks]
    assert names[:2] == ["bevel", "bevel (2)"]
    assert len(set(names)) == 12
    (drawn,) = EDGES.drawn(edges, block)
    assert (drawn.prefix, drawn.suffix) == ("12 × ", " × 45°")


@pytest.mark.parametrize("leg", ["1 x 45°", "1x45", "1 × 45 deg", "C1", "1 x 45° ±0.1"])
def test_a_bevel_with_its_angle_beside_it(made, leg):
    edges = made(f'{{kind: edges, around: all, bevel: "{leg}"}}').each
    one = made(f'{{kind: edge, between: [left, top], bevel: "{leg}"}}')
    assert edges[0].size == one.size == (1, 1)


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        ("{kind: edges, around: all}", None, "neither bevel nor radius"),
        ("{kind: edges, around: all, bevel: 1, radius: 1}", None, "both a bevel and a radius"),
        ("{kind: edges, around: all, radius: 1, finish: milled}", "finish", "45 degrees"),
        ("{kind: edges, around: top, bevel: 11}", "bevel", "meet on 22 mm"),
    ],
)
def test_faults(faults, written, field, said):
    ((grade, at, what),) = faults(written)
    assert (grade, at) == ("error", field)
    assert said in what
