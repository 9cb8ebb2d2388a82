"""This module finds the gaps between pairs of convex faces, and how they change as a block moves.

Two convex bodies are apart if and only if there is a direction along which the one lies wholly
before the other, and for polygons it is enough to try the normals of their faces, the normals of
their edges within them, and the products of an edge of each (the separating axis theorem: C.
Ericson, Real-Time Collision Detection, 2005, 5.2.1, named from memory). For each pair the direction
with the widest gap is taken: what is found is exact, whether a corner meets a face or edges cross.
The polygons are skins of bodies: a direction that leads into the fixed body, or out of the block,
parts them only where the one has gone right through the other, and is not taken.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

NO_EDGE = 1e-9
SAME = 1e-9
"""Corners that differ by less than this along a direction count as equally near [mm]."""
BACKWARD = 0.6
"""A direction is backward beyond this product with a normal: a turn of 30 degrees stays below
it."""
EVEN = 1e-7
"""A face's own normal is preferred unless another direction's gap is wider by more than this
[mm]."""
PARALLEL = 0.05
"""Edges count as parallel where the sine of the angle between them is less than this."""
BESIDE = 0.01
"""Taken off the gap of two edges that lie beside each other without crossing [mm].

The gap along what is square to both changes fast there and says little.
"""


@dataclass(frozen=True)
class Directions:
    """Directions say which direction parts each pair. Arrays are (samples or 1, pairs).

    ours, theirs: an edge of the block's polygon and of the fixed one; -1: its face's normal, -2:
    not of this polygon. Where both are edges the direction is their product, times `sign`.
    """

    ours: Whole
    theirs: Whole
    sign: Array


@dataclass(frozen=True)
class Rows:
    """Rows hold the gaps [mm], (samples, rows), one for each corner of each pair; inf where none
    is.

    rates: (samples, rows, 6), by a shift ahead, to the left and up [mm a mm], then by a turn about
    those three through the block's middle [mm a radian]. points: where it would touch.
    """

    gaps: Array
    rates: Array
    points: Array


def normals(corners: Array) -> Array:
    """Return the unit normals of polygons (..., corners, 3)."""
    about = corners - corners[..., :1, :]
    area = np.cross(about, np.roll(about, -1, axis=-2)).sum(axis=-2)
    return _unit(area)


def _unit(v: Array) -> Array:
    length = np.linalg.norm(v, axis=-1, keepdims=True)
    return np.asarray(np.where(length > NO_EDGE, v / np.maximum(length, NO_EDGE), 0.0))


def _edges(corners: Array) -> Array:
    """Return the way from each corner to the next; it is nothing between repeated corners."""
    return np.asarray(np.roll(corners, -1, axis=-2) - corners)


def _dot(a: Array, b: Array) -> Array:
    return np.asarray((a * b).sum(axis=-1))


def _span(axis: Array, corners: Array) -> Array:
    """Return where corners (..., n, 3) lie along a direction (..., 3)."""
    return np.asarray((corners @ axis[..., None])[..., 0])


def widest(ours: Array, theirs: Array) -> tuple[Directions, Array]:
    """Find the direction with the widest gap for each pair, and that gap [mm].

    ours: where the block's polygons are, (samples, pairs, corners, 3); theirs: the fixed ones.
    """
    trials = _trials(ours[0], theirs[0])
    axis, less = _tried(ours, theirs, trials)
    n, m = normals(theirs)[:, trials.pair], normals(ours)[:, trials.pair]
    near, far = _span(axis, ours[:, trials.pair]), _span(axis, theirs[:, trials.pair])
    gap = near.min(axis=-1) - far.max(axis=-1) - less
    parallel = _dot(axis, axis) < 0.5  # two edges that have no direction square to both
    gap[(_dot(axis, n) < -BACKWARD) | (_dot(axis, m) > BACKWARD) | parallel] = -np.inf
    crossed = np.flatnonzero((trials.ours >= 0) & (trials.theirs >= 0))
    gap[:, crossed] = np.where(_outermost(near, far, trials, crossed), gap[:, crossed], -np.inf)
    spread = np.full((*ours.shape[:2], int(trials.rank.max()) + 1), -np.inf)
    spread[:, trials.pair, trials.rank] = gap
    best = spread.argmax(axis=-1)
    where = np.zeros(spread.shape[1:], dtype=np.int64)
    where[trials.pair, trials.rank] = np.arange(len(trials.pair))
    chosen = where[np.arange(ours.shape[1])[None], best]
    along = Directions(trials.ours[chosen], trials.theirs[chosen], trials.sign[chosen])
    return along, np.take_along_axis(spread, best[..., None], axis=-1)[..., 0]


@dataclass(frozen=True)
class _Trials:
    """Trials are the directions to try.

    pair: whose direction it is; rank: how many come before it for that pair; the rest as in
    Directions.
    """

    pair: Whole
    rank: Whole
    ours: Whole
    theirs: Whole
    sign: Array


def _trials(ours: Array, theirs: Array) -> _Trials:
    """List all that may part each pair, a face's own normal first. Both are (pairs, corners, 3)."""
    real = [np.linalg.norm(_edges(side), axis=-1) > NO_EDGE for side in (ours, theirs)]
    pairs = np.arange(len(ours))
    found: list[tuple[Whole, int | Whole, int | Whole, float]]
    found = [(pairs, -2, -1, 1.0), (pairs, -1, -2, 1.0)]
    pair, edge = np.nonzero(real[1])
    found.append((pair, -2, edge, 1.0))
    pair, edge = np.nonzero(real[0])
    found.append((pair, edge, -2, 1.0))
    pair, edge, other = np.nonzero(real[0][:, :, None] & real[1][:, None, :])
    found += [(pair, edge, other, sign) for sign in (1.0, -1.0)]
    columns = [
        np.concatenate([np.broadcast_to(one[k], one[0].shape) for one in found]) for k in range(4)
    ]
    order = np.argsort(columns[0], kind="stable")
    pair, i, j, sign = (column[order] for column in columns)
    rank = np.arange(len(pair)) - np.searchsorted(pair, pair)
    return _Trials(pair, rank, i.astype(np.int64), j.astype(np.int64), sign)


def _tried(ours: Array, theirs: Array, trials: _Trials) -> tuple[Array, Array]:
    """Return directions, (samples, trials, 3), and what is taken off the gap along each [mm]."""
    pair, i, j = trials.pair, trials.ours, trials.theirs
    u = _edges(ours)[:, pair, np.maximum(i, 0)]
    v = _edges(theirs)[:, pair, np.maximum(j, 0)]
    n, m = normals(theirs)[:, pair], normals(ours)[:, pair]
    kinds = [(i == -2) & (j == -1), i == -1, i == -2, j == -2]
    choices = [n, -m, _unit(np.cross(v, n)), -_unit(np.cross(u, m))]
    both = trials.sign[:, None] * _unit(np.cross(u, v))
    axis = np.select([kind[:, None] for kind in kinds], choices, both)
    start = ours[:, pair, np.maximum(i, 0)]
    other = theirs[:, pair, np.maximum(j, 0)]
    within = _cross_within(start, u, other, v)
    less = np.where(within, 2 * EVEN, BESIDE)
    return axis, np.select([kinds[0] | kinds[1], kinds[2] | kinds[3]], [0.0, EVEN], less)


def _outermost(near: Array, far: Array, trials: _Trials, crossed: Whole) -> NDArray[np.bool_]:
    """Tell whether the edges are those that come nearest along their direction.

    A direction made by other edges says nothing of the gap.
    """
    own = near[:, crossed, trials.ours[crossed]]
    its = far[:, crossed, trials.theirs[crossed]]
    return np.asarray(
        (own < near[:, crossed].min(axis=-1) + SAME) & (its > far[:, crossed].max(axis=-1) - SAME)
    )


def _cross_within(start: Array, u: Array, other: Array, v: Array) -> NDArray[np.bool_]:
    """Tell whether two edges cross as seen along their common normal.

    They are nearest to each other within both of them then, and not all but parallel.
    """
    s, t = _nearest(start, u, other, v)
    across = np.cross(u, v)
    apart = _dot(across, across) > PARALLEL**2 * _dot(u, u) * _dot(v, v)
    return np.asarray(apart & (s > 0) & (s < 1) & (t > 0) & (t < 1))


def _nearest(start: Array, u: Array, other: Array, v: Array) -> tuple[Array, Array]:
    """Return where two lines are nearest to each other, as shares of u and of v."""
    across, away = np.cross(u, v), other - start
    square = np.maximum(_dot(across, across), NO_EDGE)
    return _dot(np.cross(away, v), across) / square, _dot(np.cross(away, u), across) / square


def rows(ours: Array, theirs: Array, middle: Array, parted: Directions) -> Rows:
    """Work out the gaps along chosen directions. middle: of the block, (samples, 3)."""
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
    """Return a polygon's normal, or that of an edge within it where one is named."""
    face = normals(corners)
    if (edge < 0).all():
        return face
    along = np.take_along_axis(_edges(corners), np.maximum(edge, 0)[:, None, None], axis=1)[:, 0]
    return np.where((edge < 0)[:, None], face, _unit(np.cross(along, face)))


def _fixed_axis(ours: Array, theirs: Array, middle: Array, edge: Whole) -> Found:
    """Work out gaps along a direction that stays: corners of the block approach a fixed plane."""
    axis = _within(theirs, edge)
    gaps = _span(axis, ours) - _span(axis, theirs).max(axis=-1)[:, None]
    turns = np.cross(ours - middle[:, None], axis[:, None])
    shifts = np.broadcast_to(axis[:, None], ours.shape)
    return gaps, np.concatenate([shifts, turns], axis=-1), ours


def _moving_axis(ours: Array, theirs: Array, middle: Array, edge: Whole) -> Found:
    """Work out gaps along a direction of the block: a plane of it approaches fixed corners."""
    axis = -_within(ours, edge)
    gaps = _span(axis, ours).min(axis=-1)[:, None] - _span(axis, theirs)
    turns = np.cross(axis[:, None], middle[:, None] - theirs)
    shifts = np.broadcast_to(axis[:, None], theirs.shape)
    return gaps, np.concatenate([shifts, turns], axis=-1), theirs


def _edge_axis(ours: Array, theirs: Array, middle: Array, i: Whole, j: Whole, sign: Array) -> Found:
    """Work out gaps between two edges that cross.

    They lie along the direction where they are nearest, so that it may turn.
    """
    each = np.arange(len(i))
    u, v = _edges(ours)[each, i], _edges(theirs)[each, j]
    axis = sign[:, None] * _unit(np.cross(u, v))
    gap = _span(axis, ours).min(axis=-1) - _span(axis, theirs).max(axis=-1)
    start = ours[each, i]
    along, _ = _nearest(start, u, theirs[each, j], v)
    nearest = start + along[:, None] * u
    return gap, np.concatenate([axis, np.cross(nearest - middle, axis)], axis=-1), nearest
