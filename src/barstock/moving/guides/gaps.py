"""Gaps between pairs of convex faces, and how they change as the block moves.

Two convex bodies are apart if and only if there is a direction along which the one lies wholly
before the other, and for polygons it is enough to try the normals of their faces, the normals of
their edges within them, and the products of an edge of each (the separating axis theorem: C.
Ericson, Real-Time Collision Detection, 2005, 5.2.1, named from memory). For each pair the direction
with the widest gap is taken: what is found is exact, whether a corner meets a face or edges cross.
The polygons are skins of bodies: a direction must lead out of the fixed body and into the block.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

NO_EDGE = 1e-9
EVEN = 1e-7
"""A face's own normal is preferred where another direction's gap is as wide but for this [mm]."""


@dataclass(frozen=True)
class Directions:
    """Which direction parts each pair. Arrays (samples or 1, pairs).

    ours, theirs: an edge of the block's polygon and of the fixed one; -1: its face's normal, -2:
    not of this polygon. Both edges: their product, times `sign`.
    """

    ours: Whole
    theirs: Whole
    sign: Array


@dataclass(frozen=True)
class Rows:
    """Gaps [mm], (samples, rows), a row for each corner of each pair; inf where there is none.

    rates: (samples, rows, 6), by a shift ahead, to the left and up [mm a mm], then by a turn about
    those three through the block's middle [mm a radian]. points: where it would touch.
    """

    gaps: Array
    rates: Array
    points: Array


def normals(corners: Array) -> Array:
    """Unit normals of polygons (..., corners, 3)."""
    about = corners - corners[..., :1, :]
    area = np.cross(about, np.roll(about, -1, axis=-2)).sum(axis=-2)
    return _unit(area)


def _unit(v: Array) -> Array:
    length = np.linalg.norm(v, axis=-1, keepdims=True)
    return np.asarray(np.where(length > NO_EDGE, v / np.maximum(length, NO_EDGE), 0.0))


def _edges(corners: Array) -> Array:
    """From each corner to the next; nothing between repeated ones."""
    return np.asarray(np.roll(corners, -1, axis=-2) - corners)


def _dot(a: Array, b: Array) -> Array:
    return np.asarray((a * b).sum(axis=-1))


def _span(axis: Array, corners: Array) -> Array:
    """Along a direction (..., 3), where corners (..., n, 3) lie."""
    return np.asarray((corners @ axis[..., None])[..., 0])


def widest(ours: Array, theirs: Array) -> tuple[Directions, Array]:
    """The direction with the widest gap for each pair, and that gap [mm].

    ours: where the block's polygons are, (samples, pairs, corners, 3); theirs: the fixed ones.
    """
    best: list[tuple[Array, int, int, float]] = []
    a, b = _edges(ours), _edges(theirs)
    m, n = normals(ours), normals(theirs)
    many_a, many_b = a.shape[-2], b.shape[-2]

    def add(axis: Array, i: int, j: int, sign: float = 1.0, less: float = 0.0) -> None:
        gap = _span(axis, ours).min(axis=-1) - _span(axis, theirs).max(axis=-1)
        wrong = (_dot(axis, n) < -NO_EDGE) | (_dot(axis, m) > NO_EDGE) | (_dot(axis, axis) < 0.5)
        best.append((np.where(wrong, -np.inf, gap - less), i, j, sign))

    add(n, -2, -1)
    add(-m, -1, -2)
    for k in range(many_b):
        add(_unit(np.cross(b[..., k, :], n)), -2, k, less=EVEN)
    for k in range(many_a):
        add(-_unit(np.cross(a[..., k, :], m)), k, -2, less=EVEN)
    for i in range(many_a):
        for j in range(many_b):
            axis = _unit(np.cross(a[..., i, :], b[..., j, :]))
            add(axis, i, j, 1.0, 2 * EVEN)
            add(-axis, i, j, -1.0, 2 * EVEN)
    gaps = np.stack([one[0] for one in best])
    chosen = gaps.argmax(axis=0)
    tables = [np.array([one[k] for one in best])[chosen] for k in (1, 2, 3)]
    return Directions(tables[0], tables[1], tables[2]), gaps.max(axis=0)


def rows(ours: Array, theirs: Array, middle: Array, parted: Directions) -> Rows:
    """The gaps along directions chosen. middle: of the block, (samples, 3)."""
    samples, pairs, many = ours.shape[:3]
    shape = (samples, pairs)
    i, j = np.broadcast_to(parted.ours, shape), np.broadcast_to(parted.theirs, shape)
    sign = np.broadcast_to(parted.sign, shape)
    gaps = np.full((*shape, many), np.inf)
    rates = np.zeros((*shape, many, 6))
    points = np.zeros((*shape, many, 3))
    at = np.broadcast_to(middle[:, None, :], (*shape, 3))
    for here, kind in ((i == -2, _fixed_axis), (j == -2, _moving_axis)):
        if here.any():
            which = (i + j + 2)[here]
            gaps[here], rates[here], points[here] = kind(ours[here], theirs[here], at[here], which)
    crossed = (i >= 0) & (j >= 0)
    if crossed.any():
        found = _edge_axis(
            ours[crossed], theirs[crossed], at[crossed], i[crossed], j[crossed], sign[crossed]
        )
        for whole, part in zip((gaps, rates, points), found, strict=True):
            whole[crossed, 0] = part
    rows_of = pairs * many
    return Rows(
        gaps.reshape(samples, rows_of),
        rates.reshape(samples, rows_of, 6),
        points.reshape(samples, rows_of, 3),
    )


Found = tuple[Array, Array, Array]


def _within(corners: Array, edge: Whole) -> Array:
    """A polygon's normal, or where an edge is named the normal of that edge within it."""
    face = normals(corners)
    if (edge < 0).all():
        return face
    along = np.take_along_axis(_edges(corners), np.maximum(edge, 0)[:, None, None], axis=1)[:, 0]
    return np.where((edge < 0)[:, None], face, _unit(np.cross(along, face)))


def _fixed_axis(ours: Array, theirs: Array, middle: Array, edge: Whole) -> Found:
    """The direction stays: corners of the block come nearer to a fixed plane."""
    axis = _within(theirs, edge)
    gaps = _span(axis, ours) - _span(axis, theirs).max(axis=-1)[:, None]
    turns = np.cross(ours - middle[:, None], axis[:, None])
    shifts = np.broadcast_to(axis[:, None], ours.shape)
    return gaps, np.concatenate([shifts, turns], axis=-1), ours


def _moving_axis(ours: Array, theirs: Array, middle: Array, edge: Whole) -> Found:
    """The direction turns with the block: a plane of it comes nearer to fixed corners."""
    axis = -_within(ours, edge)
    gaps = _span(axis, ours).min(axis=-1)[:, None] - _span(axis, theirs)
    turns = np.cross(axis[:, None], middle[:, None] - theirs)
    shifts = np.broadcast_to(axis[:, None], theirs.shape)
    return gaps, np.concatenate([shifts, turns], axis=-1), theirs


def _edge_axis(ours: Array, theirs: Array, middle: Array, i: Whole, j: Whole, sign: Array) -> Found:
    """Two edges that cross. Where they are nearest they lie along the direction: it may turn."""
    each = np.arange(len(i))
    u, v = _edges(ours)[each, i], _edges(theirs)[each, j]
    axis = sign[:, None] * _unit(np.cross(u, v))
    gap = _span(axis, ours).min(axis=-1) - _span(axis, theirs).max(axis=-1)
    start = ours[each, i]
    away = theirs[each, j] - start
    across = np.cross(u, v)
    along = _dot(np.cross(away, v), across) / np.maximum(_dot(across, across), NO_EDGE)
    nearest = start + along[:, None] * u
    return gap, np.concatenate([axis, np.cross(nearest - middle, axis)], axis=-1), nearest
