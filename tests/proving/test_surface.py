"""Distances to a skin and thickness under it, against closed forms and every triangle tried."""

from __future__ import annotations

import numpy as np
import pytest

from barstock.proving.surface import thickness, to_skin
from barstock.solids.shapes import box, cylinder

BLOCK = box((0, 0, 0), (20, 10, 5))
RADIUS = 4.0


def skin_of(solid, fine=0.01):
    points, corners = solid.mesh(fine)
    return points[corners]


@pytest.mark.parametrize(
    ("place", "away"),
    [
        ((10, 5, 7), 2.0),  # over a face
        ((10, 5, 1), 1.0),  # inside
        ((23, 14, 2), 5.0),  # beside an edge: 3, 4, 5
        ((-1, -2, -2), 3.0),  # off a corner: 1, 2, 2
    ],
)
def test_distance_to_a_block(place, away):
    assert to_skin(np.array([place], dtype=float), skin_of(BLOCK)) == pytest.approx([away])


def test_distance_is_the_least_over_all_triangles():
    skin = skin_of(BLOCK.cut(cylinder((10, 5, -1), (0, 0, 1), RADIUS, 7)))
    points = np.random.default_rng(1).uniform((-5, -5, -5), (25, 15, 10), (300, 3))
    each = [to_skin(points, one[None]) for one in skin]
    assert to_skin(points, skin) == pytest.approx(np.min(each, axis=0))


def test_thickness_of_a_block_and_beside_its_bore():
    bored = BLOCK.cut(cylinder((10, 5, -1), (0, 0, 1), RADIUS, 7))
    places = np.array([(1.0, 1.1, 5.0), (10.0, 0.0, 2.2), (10.0, 10.0, 2.2), (0.0, 0.5, 1.7)])
    inward = np.array([(0, 0, -1.0), (0, 1.0, 0), (0, -1.0, 0), (1.0, 0, 0)])
    wall = 5 - RADIUS
    found = thickness(places, inward, skin_of(bored))
    assert found == pytest.approx([5.0, wall, wall, 20.0], abs=0.011)


def test_a_face_not_opposite_is_no_wall():
    wedge = skin_of(BLOCK)
    slanting = np.array([[0.8, 0.6, 0.0]])  # leaves through the back at 53 degrees to it
    assert np.isinf(thickness(np.array([[0.0, 5.0, 2.2]]), slanting, wedge)).all()
    assert thickness(np.zeros((0, 3)), np.zeros((0, 3)), wedge).shape == (0,)
