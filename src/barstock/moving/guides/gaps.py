"""Gaps between pairs of convex faces, and how they change as the block moves.

Two convex bodies are apart if and only if there is a direction along which the one lies wholly
before the other, and for polygons it is enough to try the normals of their faces, the normals of
their edges within them, and the products of an edge of each (the separating axis theorem: C.
Ericson, Real-Time Collision Detection, 2005, 5.2.1, named from memory). For each pair the direction
with the widest gap is taken: what is found is exact, whether a corner meets a face or edges cross.
The polygons are skins of bodies: a direction that leads into the fixed body, or out of the
block, parts them only where the one has gone right through the other, and is not taken.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

NO_EDGE = 1e-9
SAME = 1e-9
"""Corners nearer to each other along a direction are as near as each other [mm]."""
BACKWARD = 0.6
"""Along a face's own plane, and what a turn of 30 degrees makes of that, is not backward."""
EVEN = 1e-7
"""A face's own normal is preferred where another direction's gap is as wide but for this [mm]."""
PARALLEL = 0.05
"""The sine of the angle at which edges are as good as parallel."""
BESIDE = 0.01
"""The same of edges that do not cross but lie beside each other: the gap along what is square to
both changes fast and says little [mm]."""


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

    def add(axis: Array, i: int, j: int, sign: float = 1.0, less: float | Array = 0.0) -> None:
        gap = _span(axis, ours).min(axis=-1) - _span(axis, theirs).max(axis=-1)
        wrong = (_dot(axis, n) < -BACKWARD) | (_dot(axis, m) > BACKWARD) | (_dot(axis, axis) < 0.5)
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
            less = np.where(_cross_within(ours, theirs, i, j), 2 * EVEN, BESIDE)
            for sign in (1.0, -1.0):
                outer = _outermost(sign * axis, ours, theirs, i, j)
                add(sign * axis, i, j, sign, np.where(outer, less, np.inf))
    gaps = np.stack([one[0] for one in best])
    chosen = gaps.argmax(axis=0)
    tables = [np.array([one[k] for one in best])[chosen] for k in (1, 2, 3)]
    return Directions(tables[0], tables[1], tables[2]), gaps.max(axis=0)


def _outermost(axis: Array, ours: Array, theirs: Array, i: int, j: int) -> NDArray[np.bool_]:
    """Are the edges those that come nearest along a direction? Else it says nothing of them."""
    near, far = _span(axis, ours), _span(axis, theirs)
    return np.asarray(
        (near[..., i] < near.min(axis=-1) + SAME) & (far[..., j] > far.max(axis=-1) - SAME)
    )


def _cross_within(ours: Array, theirs: Array, i: int, j: int) -> NDArray[np.bool_]:
    """Do the edges cross, nearest to each other within both of them and not all but parallel?"""
    many_a, many_b = ours.shape[-2], theirs.shape[-2]
    start, u = ours[..., i, :], ours[..., (i + 1) % many_a, :] - ours[..., i, :]
    other, v = theirs[..., j, :], theirs[..., (j + 1) % many_b, :] - theirs[..., j, :]
    s, t = _nearest(start, u, other, v)
    across = _dot(np.cross(u, v), np.cross(u, v)) > PARALLEL**2 * _dot(u, u) * _dot(v, v)
    return np.asarray(across & (s > 0) & (s < 1) & (t > 0) & (t < 1))


def _nearest(start: Array, u: Array, other: Array, v: Array) -> tuple[Array, Array]:
    """Where two lines are nearest, as shares of u and of v."""
    across, away = np.cross(u, v), other - start
    square = np.maximum(_dot(across, across), NO_EDGE)
    return _dot(np.cross(away, v), across) / square, _dot(np.cross(away, u), across) / square


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
    along, _ = _nearest(start, u, theirs[each, j], v)
    nearest = start + along[:, None] * u
    return gap, np.concatenate([axis, np.cross(nearest - middle, axis)], axis=-1), nearest
