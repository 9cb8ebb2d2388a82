"""Measures distances to a solid's skin and thickness under it, on meshes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Triangles = NDArray[np.float64]  # (m, 3 corners, 3)
MOST = 250  # vertices, and places between, weighed at most
WEIGHTS = ((1, 1, 2), (1, 2, 1), (2, 1, 1), (0, 2, 2), (2, 0, 2), (2, 2, 0), (3, 1, 0), (1, 3, 0))
BATCH = 60_000  # point and triangle pairs at a time
ROUNDING = 1e-6  # of a distance worked out from squares [mm]
EDGE = 1e-7  # a ray this far past a triangle's side meets it, as a share of the side


def some(count: int, most: int) -> NDArray[np.int64]:
    """A choice of at most `most` of the first `count` whole numbers, evenly picked."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).astype(np.int64))


def spread(points: Points, corners: NDArray[np.int64], most: int = MOST) -> Points:
    """Points over a mesh: its vertices, and places inside its triangles and along their edges.

    most: of each.
    """
    skin = points[corners]
    inner = np.concatenate([np.einsum("k,tkj->tj", np.array(w) / 4, skin) for w in WEIGHTS])
    places = points[some(len(points), most)], inner[some(len(inner), most)]
    return np.concatenate(places)


def to_skin(points: Points, skin: Triangles) -> Points:
    """Least distance of each point from the triangles [mm]."""
    if not len(points) or not len(skin):
        return np.zeros(len(points))
    middle = skin.mean(axis=1)
    reach = np.linalg.norm(skin - middle[:, None], axis=2).max(axis=1)
    found = [_to_nearest(some, skin, middle, reach) for some in _batches(points, len(skin))]
    return np.concatenate(found)


def _batches(points: Points, triangles: int) -> list[Points]:
    step = max(1, BATCH // max(1, triangles))
    return [points[i : i + step] for i in range(0, len(points), step)]


def _to_nearest(points: Points, skin: Triangles, middle: Points, reach: Points) -> Points:
    """As `to_skin`; `middle` of the triangles and the `reach` of their corners from there [mm]."""
    away = np.sqrt(np.maximum(_squared(points, middle), 0.0))
    near = away - reach <= away.min(axis=1, keepdims=True) + ROUNDING
    point, triangle = np.nonzero(near)  # by point, and each has one at least
    exact = _to_triangles(points[point], skin[triangle])
    first = np.flatnonzero(np.diff(point, prepend=-1))
    nearest: Points = np.minimum.reduceat(exact, first)
    return nearest


def _squared(p: Points, q: Points) -> Points:
    """Squares of the distances of each from each [mm2]."""
    own = np.einsum("ij,ij->i", p, p)[:, None] + np.einsum("ij,ij->i", q, q)
    squares: Points = own - 2.0 * p @ q.T
    return squares


def _to_triangles(p: Points, skin: Triangles) -> Points:
    """Distance of each point from the triangle beside it [mm]."""
    a, b, c = skin[:, 0], skin[:, 1], skin[:, 2]
    normal = np.cross(b - a, c - a)
    size = np.maximum(_dot(normal, normal), 1e-30)
    best = np.minimum(_to_lines(p, a, b), np.minimum(_to_lines(p, b, c), _to_lines(p, c, a)))
    over = np.ones(len(p), dtype=bool)
    for u, v in ((a, b), (b, c), (c, a)):
        over &= _dot(p - u, np.cross(normal, v - u)) >= 0
    height = _dot(p - a, normal) ** 2 / size
    away: Points = np.sqrt(np.where(over, height, best))
    return away


def _to_lines(p: Points, a: Points, b: Points) -> Points:
    d = b - a
    t = _dot(p - a, d) / np.maximum(_dot(d, d), 1e-30)
    off = p - a - np.clip(t, 0.0, 1.0)[:, None] * d
    return _dot(off, off)


def _dot(p: Points, q: Points) -> Points:
    """Inner product, row by row."""
    product: Points = np.einsum("ij,ij->i", p, q)
    return product


def thickness(points: Points, inward: Points, skin: Triangles) -> Points:
    """The metal under each point along `inward` up to a face nearly facing it [mm],
    else infinite.
    """
    if not len(points) or not len(skin):
        return np.full(len(points), np.inf)
    centre = skin.mean(axis=(0, 1))
    moved, a = points - centre, skin[:, 0] - centre
    sides = Sides(a, skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0])
    step = max(1, BATCH // len(skin))
    found = [
        _through(moved[i : i + step], inward[i : i + step], sides)
        for i in range(0, len(points), step)
    ]
    return np.concatenate(found)


@dataclass(frozen=True)
class Sides:
    """Triangles by a corner and the two sides that leave it."""

    corner: Points
    first: Points
    second: Points


def _through(points: Points, inward: Points, sides: Sides) -> Points:
    """Where rays first meet triangles (Moeller and Trumbore's test), by matrix products.

    Their triple products are sums of a ray's direction and moment, each times what is the
    triangle's own.
    """
    a, e1, e2 = sides.corner, sides.first, sides.second
    normal = np.cross(e1, e2)
    moment = np.cross(points, inward)
    det = -(inward @ normal.T)
    safe = np.where(np.abs(det) < 1e-14, 1.0, det)
    u = (moment @ e2.T - inward @ np.cross(e2, a).T) / safe
    v = (inward @ np.cross(e1, a).T - moment @ e1.T) / safe
    t = (points @ normal.T - _dot(a, normal)) / safe
    hit = (np.abs(det) > 1e-14) & (u >= -EDGE) & (v >= -EDGE) & (u + v <= 1 + EDGE) & (t > 1e-4)
    first = np.where(hit, t, np.inf)
    at = first.argmin(axis=1)
    rows = np.arange(len(points))
    length = np.maximum(np.linalg.norm(normal, axis=1), 1e-30)
    opposite = -det[rows, at] > 0.7 * length[at]
    thick: Points = np.where(opposite, first[rows, at], np.inf)
    return thick
