"""How far points lie inside, by the way a solid is constructed: closed forms, and the kernel's own
word where nothing touches."""

import pickle

import numpy as np
import pytest

from barstock.methods.places import rounded, swept
from barstock.solids.shapes import Placement, Solid, box, cone, cylinder, nothing, profile

UP = (0.0, 0.0, 1.0)
BLOCK = box((0, 0, 0), (10, 20, 30))
TURN = Placement(((0, -1, 0), (1, 0, 0), (0, 0, 1)), (1, 2, 3))
HALF = [((10, 0, 0), 0.0), ((10, 10, 0), 1.0), ((0, 10, 0), 0.0), ((0, 0, 0), 0.0)]


@pytest.mark.parametrize(
    ("solid", "place", "inside"),
    [
        (BLOCK, (5, 10, 28), 2.0),
        (BLOCK, (5, 10, 30), 0.0),
        (BLOCK, (-0.3, 10, 30.4), -0.5),  # 3, 4, 5 off an edge
        (cylinder((0, 0, 0), UP, 5, 10), (3, 0, 5), 2.0),
        (cylinder((0, 0, 0), (1, 0, 0), 5, 10), (9, 0, 3), 1.0),
        (cylinder((0, 0, 0), UP, 5, 10), (5.3, 0, 10.4), -0.5),
        (cone((0, 0, 0), UP, 4, 0, 3), (0, 0, 1), 1.0),  # the height bears it, the slope is 1.2 off
        (cone((0, 0, 0), UP, 4, 0, 3), (0, 0, 2), 0.8),  # a metre below the tip: 4 / 5 of it
        (profile((0, 0, 0), HALF, (0, 0, 4)), (14, 5, 2), 1.0),  # in the half round of radius 5
        (profile((0, 0, 0), HALF, (0, 0, 4)), (10, 5, 2), 2.0),  # on the chord, under the top
        (BLOCK.cut(cylinder((5, 10, -1), UP, 2, 40)), (5, 7.5, 15), 0.5),
        (BLOCK.cut(cylinder((5, 10, -1), UP, 2, 40)).moved(TURN), (-6.5, 7, 18), 0.5),
    ],
)
def test_how_far_inside(solid, place, inside):
    assert solid.deep(np.array([place], dtype=float)) == pytest.approx([inside])


@pytest.mark.parametrize(
    "solid",
    [
        cylinder((1, 2, 3), (0.6, 0, 0.8), 2, 5),
        cone((1, 2, 3), (0, 0, -1), 3, 1, 5),
        *(profile((0, 0, 0), HALF, (0, 0, along)) for along in (5, -5)),
        *(swept(axis, rounded((0, 0), (10, 8), (2, 3, 0, 4)), 1, 4) for axis in range(3)),
        BLOCK.moved(TURN).fuse(cylinder((5, 5, -1), UP, 1, 12)).common(box((-9, 0, 0), (6, 6, 9))),
    ],
)
def test_inside_and_outside_as_the_kernel_says(solid):
    low, high = np.array(solid.bounds)
    points = np.random.default_rng(3).uniform(low - 1, high + 1, (200, 3))
    deep = solid.deep(points)
    sure = np.abs(deep) > 1e-5
    inside = [solid.contains(tuple(p)) for p in points[sure].tolist()]
    assert (deep[sure] > 0).tolist() == inside
    assert 0 < sum(inside) < len(inside)


def test_what_the_kernel_alone_knows_and_what_went_to_another_process():
    found = Solid(BLOCK.shape).cut(cylinder((5, 10, -1), UP, 2, 40))
    places = np.array([(5.0, 10, 15), (5, 7.5, 15), (5, 21, 15)])
    assert (found.deep(places) > 0).tolist() == [False, True, False]
    again = pickle.loads(pickle.dumps(found))
    assert (again.deep(places) > 0).tolist() == [False, True, False]
    assert (nothing().deep(places) < 0).all()
