"""Projection of solids to strokes, and what stands before what, against closed forms."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barstock.solids.area_outlines import hatching, outlines
from barstock.solids.shapes import Solid, box, cone, cylinder, nothing
from barstock.solids.skin import edges, patches
from barstock.solids.strokes import Arc, Segment, Stroke, less, tidy
from barstock.solids.viewpoint import Eye, Plate, silhouettes
from barstock.solids.views import project

FRONT = ((0, -1, 0), (1, 0, 0))
TOP = ((0, 0, 1), (1, 0, 0))


def block() -> Solid:
    """32 x 28 x 22: a 10 mm hole through, a blind 7 mm hole in the right end, a slot in front."""
    return box((0, 0, 0), (32, 28, 22)).cut(
        cylinder((15, 14, 0), (0, 0, 1), 5, 22),
        cylinder((32, 8, 11), (-1, 0, 0), 3.5, 6),
        box((0, 0, 7), (32, 3, 15)),
    )


def near(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return math.dist(a, b) < 1e-3


def has(strokes: tuple[Stroke, ...], start: tuple[float, float], end: tuple[float, float]) -> bool:
    return any(
        isinstance(s, Segment)
        and any(near(a, start) and near(b, end) for a, b in (s.points, s.points[::-1]))
        for s in strokes
    )


def length(strokes: tuple[Stroke, ...]) -> float:
    return sum(math.dist(*ends) for s in strokes for ends in pairwise(s.points))


def test_a_circle_seen_face_on_is_an_arc_of_its_own_radius() -> None:
    arcs = [s for s in project(block(), *TOP).visible if isinstance(s, Arc)]
    assert [(round(a.radius, 6), a.sweep) for a in arcs] == [(5.0, 360.0)]
    assert near(arcs[0].centre, (15, 14))


def test_what_the_front_hides_is_hidden() -> None:
    view = project(block(), *FRONT)
    for x in (10, 20):  # the hole's sides
        assert has(view.hidden, (x, 0), (x, 22))
    assert has(view.hidden, (26, 7.5), (26, 14.5))  # the blind hole's bottom
    assert has(view.visible, (0, 7), (32, 7))  # the slot
    assert view.bounds == ((pytest.approx(0), pytest.approx(0)), (32, 22))


def test_an_edge_shared_by_two_views_of_depth_is_drawn_once() -> None:
    # front and back edges fall on one another: four lines in all
    view = project(box((0, 0, 0), (4, 5, 6)), *FRONT)
    assert len(view.visible) == 4
    assert view.hidden == ()


def test_smooth_joins_are_not_drawn() -> None:
    rounded = box((0, 0, 0), (20, 10, 10)).fuse(cylinder((20, 5, 0), (0, 0, 1), 5, 10))
    assert not has(project(rounded, *FRONT).visible, (20, 0), (20, 10))


def test_nothing_cannot_be_drawn() -> None:
    with pytest.raises(ValueError, match="nothing to draw"):
        project(nothing(), *FRONT)


spans = st.lists(st.tuples(st.integers(0, 40), st.integers(1, 20)), min_size=1, max_size=8)


def line(low: int, long: int) -> Segment:
    """A piece of the line y = x / 2 + 3."""
    return Segment((low, low / 2 + 3), (low + long, (low + long) / 2 + 3))


def cells(pieces: list[tuple[int, int]]) -> set[int]:
    return {i for low, long in pieces for i in range(low, low + long)}


@settings(max_examples=60)
@given(spans, spans)
def test_pieces_of_a_line_are_joined_and_taken_away_like_sets(
    over: list[tuple[int, int]], under: list[tuple[int, int]]
) -> None:
    slope = math.hypot(1, 0.5)
    joined = tidy([line(*s) for s in over])
    assert length(joined) == pytest.approx(slope * len(cells(over)), abs=0.02)
    left = less([line(*s) for s in under], [line(*s) for s in over])
    assert length(left) == pytest.approx(slope * len(cells(under) - cells(over)), abs=0.02)


def laid(solid: Solid, eye: Eye, cell: float) -> Plate:
    plate = Plate(eye, 100, 100, cell)
    for label, patch in enumerate(patches(solid, 0.01)):
        plate.lay(patch, [label] * len(patch.corners))
    return plate


def test_the_area_seen_from_above_is_the_plan_less_the_hole() -> None:
    solid = box((0, 0, 0), (32, 28, 22)).cut(cylinder((15, 14, 0), (0, 0, 1), 5, 22))
    plate = laid(solid, Eye(0, 90, 2.0, (10, 80)), 0.1)
    seen = (plate.label >= 0).sum() * 0.1**2 / 2.0**2
    assert seen == pytest.approx(32 * 28 - math.pi * 5**2, rel=2e-3)


@pytest.mark.parametrize("around", [30.0, -30.0])
def test_lines_found_on_the_plate_agree_with_exact_hidden_line_removal(around: float) -> None:
    solid = block()
    corners = np.array([p.points for p in patches(box(*solid.bounds), 1)]).reshape(-1, 3)
    eye = Eye(around, 36.0).fitted(corners, (5, 5, 95, 95))
    plate = laid(solid, eye, 0.1)
    lines = edges(solid, 0.005)
    lines += [s for patch in patches(solid, 0.01) for s in silhouettes(patch, eye.toward)]
    found = [part for one in lines for part in plate.visible(one)]
    seen = sum(float(np.hypot(*np.diff(part, axis=0).T).sum()) for part in found) / eye.scale
    right = tuple(float(n) for n in eye.axes[0])
    exact = length(project(solid, eye.toward, right).visible)
    assert seen == pytest.approx(exact, rel=0.02)


def test_a_cone_has_an_edge_round_its_foot_and_two_silhouettes() -> None:
    solid = cone((0, 0, 0), (0, 0, 1), 10, 0, 20)
    assert len(edges(solid, 0.01)) == 1
    lines = [s for patch in patches(solid, 0.01) for s in silhouettes(patch, (0, -1, 0))]
    ends = np.array([p for one in lines for p in one])
    # seen from the front, from the tip to the foot on either side
    assert np.ptp(ends[:, 0]) == pytest.approx(20, abs=0.3)
    assert np.ptp(ends[:, 2]) == pytest.approx(20, abs=0.3)


masks = st.integers(0, 2**30 - 1).map(
    lambda n: np.array([[bool(n >> (6 * r + c) & 1) for c in range(6)] for r in range(5)])
)


@settings(max_examples=80)
@given(masks)
def test_outlines_hold_the_area_of_their_cells(mask: np.ndarray) -> None:
    rings = outlines(mask, 0.5, 0.0)
    area = sum(
        (ax * by - bx * ay) / 2
        for ring in rings
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True)
    )
    assert abs(area) == pytest.approx(mask.sum() * 0.25)


def test_hatching_covers_a_square_evenly() -> None:
    mask = np.ones((200, 200), dtype=bool)
    lines = hatching(mask, 0.1, 45.0, 1.0)
    # a square of 20 mm hatched 1 mm apart needs 20 x 20 / 1 mm of line
    assert sum(math.dist(a, b) for a, b in lines) == pytest.approx(400, rel=0.03)
