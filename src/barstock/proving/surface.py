"""Distances to a solid's skin and thickness under it, on meshes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Triangles = NDArray[np.float64]  # (m, 3 corners, 3)
MOST = 250  # vertices, and places between, weighed at most
WEIGHTS = ((1, 1, 2), (1, 2, 1), (2, 1, 1), (0, 2, 2), (2, 0, 2), (2, 2, 0), (3, 1, 0), (1, 3, 0))
BATCH = 200_000  # point and triangle pairs at a time


def some(count: int, most: int) -> NDArray[np.int64]:
    """At most `most` of the first `count` whole numbers, evenly picked."""
    return np.unique(np.linspace(0, count - 1, min(count, most)).astype(np.int64))


def spread(points: Points, corners: NDArray[np.int64]) -> Points:
    """Points over a mesh: its vertices, and places inside its triangles and along their edges."""
    skin = points[corners]
    inner = np.concatenate([np.einsum("k,tkj->tj", np.array(w) / 4, skin) for w in WEIGHTS])
    places = points[some(len(points), MOST)], inner[some(len(inner), MOST)]
    return np.concatenate(places)


def to_skin(points: Points, skin: Triangles) -> Points:
    """Least distance of each point from the triangles [mm]."""
    if not len(points) or not len(skin):
        return np.zeros(len(points))
    step = max(1, BATCH // len(skin))
    parts = [_to_triangles(points[i : i + step], skin) for i in range(0, len(points), step)]
    return np.concatenate(parts)


def _to_triangles(points: Points, skin: Triangles) -> Points:
    a, b, c = skin[:, 0], skin[:, 1], skin[:, 2]
    normal = np.cross(b - a, c - a)
    size = np.maximum(np.einsum("ij,ij->i", normal, normal), 1e-30)
    p = points[:, None, :]
    best = np.minimum(_to_lines(p, a, b), np.minimum(_to_lines(p, b, c), _to_lines(p, c, a)))
    over = np.ones(best.shape, dtype=bool)
    for u, v in ((a, b), (b, c), (c, a)):
        over &= np.einsum("ptk,tk->pt", p - u, np.cross(normal, v - u)) >= 0
    height = np.einsum("ptk,tk->pt", p - a, normal) ** 2 / size
    nearest: Points = np.sqrt(np.where(over, height, best).min(axis=1))
    return nearest


def _to_lines(p: Points, a: Points, b: Points) -> Points:
    d = b - a
    t = np.einsum("ptk,tk->pt", p - a, d) / np.maximum(np.einsum("tk,tk->t", d, d), 1e-30)
    off = p - a - np.clip(t, 0.0, 1.0)[..., None] * d
    squared: Points = np.einsum("ptk,ptk->pt", off, off)
    return squared


def thickness(points: Points, inward: Points, skin: Triangles) -> Points:
    """Metal under each point along `inward` up to a face nearly facing it [mm], else infinite."""
    a, e1, e2 = skin[:, 0], skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0]
    normal = np.cross(e1, e2)
    normal /= np.maximum(np.linalg.norm(normal, axis=1), 1e-30)[:, None]
    step = max(1, BATCH // max(1, len(skin)))
    found = [
        _through(points[i : i + step], inward[i : i + step], a, e1, e2, normal)
        for i in range(0, len(points), step)
    ]
    return np.concatenate(found) if found else np.zeros(0)


def _through(
    points: Points, inward: Points, a: Points, e1: Points, e2: Points, normal: Points
) -> Points:
    facing = inward @ normal.T
    h = np.cross(inward[:, None, :], e2[None])
    det = np.einsum("tk,ptk->pt", e1, h)
    safe = np.where(np.abs(det) < 1e-14, 1.0, det)
    s = points[:, None, :] - a
    u = np.einsum("ptk,ptk->pt", s, h) / safe
    q = np.cross(s, e1[None])
    v = np.einsum("pk,ptk->pt", inward, q) / safe
    t = np.einsum("tk,ptk->pt", e2, q) / safe
    hit = (np.abs(det) > 1e-14) & (u >= -1e-9) & (v >= -1e-9) & (u + v <= 1 + 1e-9) & (t > 1e-4)
    first = np.where(hit, t, np.inf)
    at = first.argmin(axis=1)
    rows = np.arange(len(points))
    opposite = facing[rows, at] > 0.7
    thick: Points = np.where(opposite, first[rows, at], np.inf)
    return thick
