"""This module finds the faces of a block and of its guide that may meet, as polygons.

The polygons follow the sizes. Every corner moves by so much for each millimetre (or degree) of a
size, which is found by drawing the part again with that size a little larger; so it holds for any
feature of any part. Holes are taken as filled: nothing of a guide is thin enough to go into one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256

import numpy as np
from numpy.typing import NDArray

from barstock.drawing.guides import Guide, Standing
from barstock.errors import FaultyError
from barstock.mechanism.guides.face_names import drawn_with, features_at, in_hole, named
from barstock.mechanism.guides.guide_assembly import Stood, placement, stood
from barstock.mechanism.guides.guide_sizes import Variants
from barstock.quantities import Dimension
from barstock.solids.face_polygons import Polygon, normals_of, polygons
from barstock.solids.shapes import Placement

Array = NDArray[np.float64]

REACH = 12.0
"""Flat faces nearer than this may meet [mm]: a block moves less."""
ROUND_REACH = 1.5
"""Round faces nearer than this may meet [mm]."""
FACING = -0.1
"""Two faces look at each other, and can meet, where the product of their normals is less than
this."""
STEP = {False: 0.02, True: 0.05}
"""A size is changed by so much to see what moves [mm; degrees of an angle]."""
MATCH = 0.2
"""A corner of the part drawn again is taken for the nearest one within this [mm]."""


class NothingMeetsError(ValueError):
    """This is raised where no face of the block looks at a fixed one near it."""


@dataclass(frozen=True)
class Size:
    """A Size is what faces go by. name: what stands there, then the size; deviations in `unit`."""

    name: str
    size: Dimension
    unit: str = "mm"


@dataclass(frozen=True)
class Side:
    """A Side is one polygon of each pair.

    corners: (pairs, most corners, 3) [mm], the last repeated. rates: (sizes, pairs, most corners,
    3) [mm a mm or a degree]. names: whose face it is.
    """

    corners: Array
    rates: Array
    names: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Faces:
    """Faces are pairs of faces that may meet: the block's and the fixed one.

    sizes: what they go by.
    """

    block: Side
    fixed: Side
    sizes: tuple[Size, ...]
    unmet: tuple[str, ...] = ()

    def at(self, deviations: Array) -> tuple[Array, Array]:
        """Return the corners of both sides, (samples, pairs, corners, 3).

        deviations: (samples, sizes).
        """
        both = (self.block, self.fixed)
        ours, theirs = (s.corners + np.tensordot(deviations, s.rates, axes=1) for s in both)
        return ours, theirs

    @property
    def content(self) -> list[object]:
        """Return all it holds as plain data, to a millionth of a millimetre."""
        sides = (self.block, self.fixed)
        drawn = [np.round(a, 6) + 0.0 for s in sides for a in (s.corners, s.rates)]
        told = [sha256(a.tobytes()).hexdigest() for a in drawn]
        return [*told, *(s.names for s in sides), *self.sizes]

    @property
    def limits(self) -> tuple[Array, Array]:
        """Return the least and the greatest deviation of each size."""
        return (
            np.array([s.size.minus for s in self.sizes]),
            np.array([s.size.plus for s in self.sizes]),
        )


@dataclass(frozen=True)
class _Body:
    """A Body is a part with those of its polygons that may meet something.

    Each polygon is kept with the pair that it is in.
    """

    stood: Stood
    polygons: list[Polygon]
    pairs: list[int]

    def corners(self, shape: tuple[int, int]) -> Array:
        """Return its corners as drawn in an array for all pairs; the rest is 0."""
        found = np.zeros((*shape, 3))
        for pair, polygon in zip(self.pairs, self.polygons, strict=True):
            found[pair] = padded(polygon.corners, shape[1])
        return found

    def outward(self, shape: tuple[int, int]) -> Array:
        """Return where its faces' normals point, in an array for all pairs."""
        found = np.zeros((*shape, 3))
        for pair, polygon in zip(self.pairs, self.polygons, strict=True):
            found[pair] = polygon.normal
        return found

    def ready(self, shape: tuple[int, int]) -> Array:
        """Return its corners with paint on and worn, all by nominal sizes."""
        standing = self.stood.standing
        proud = (standing.coat.aimed().nominal if standing.coat else 0.0) - (
            standing.wear.aimed().nominal if standing.wear else 0.0
        )
        return self.corners(shape) + proud * self.outward(shape)


def padded(corners: Array, many: int) -> Array:
    """Return a polygon's corners, the last repeated until there are `many`."""
    return np.concatenate([corners, np.repeat(corners[-1:], many - len(corners), axis=0)])


def place_name(standing: Standing, number: int) -> str:
    """Name a size that says where a part stands."""
    if standing.side and number == 0:
        return f"{standing.part}/apart"
    return f"{standing.name}/at/{standing.at[number][0]}"


Tell = Callable[[str, float], None]
_Drawn = dict[tuple[str, str, tuple[str, ...]], list[Polygon]]


def faces(guide: Guide, of: Variants, tell: Tell | None = None) -> Faces:
    """Find the faces that may meet, with the limits of all they go by. Raises NothingMeetsError.

    tell: what is being drawn, and the share of all that is.
    """
    block, *others = stood(guide, of.build)
    own = polygons(block.solid)
    pairs: list[tuple[Polygon, Polygon]] = []
    bodies = []
    for one in others:
        met = [
            (ours, theirs)
            for ours, theirs in _meeting(own, polygons(one.solid))
            if not (in_hole(block, ours) or in_hole(one, theirs))
        ]
        places = list(range(len(pairs), len(pairs) + len(met)))
        bodies.append(_Body(one, [theirs for _, theirs in met], places))
        pairs += met
    if not pairs:
        raise NothingMeetsError(f"'{guide.name}': no face of the block looks at one near it")
    moving = _Body(block, [a for a, _ in pairs], list(range(len(pairs))))
    most = max(len(p.corners) for pair in pairs for p in pair)
    shape = (len(pairs), most)
    said, drawn = tell or (lambda words, share: None), _Drawn()
    said(moving.stood.standing.name, 0.0)
    columns = [(size, rate, 0 * rate) for size, rate in _follows(moving, shape, of, drawn)]
    for n, body in enumerate(bodies, 1):
        said(body.stood.standing.name, n / (1 + len(bodies)))
        found = _follows(body, shape, of, drawn)
        columns += [(size, 0 * rate, rate) for size, rate in found]
    columns = _shared([c for c in columns if np.abs(c[1]).max() + np.abs(c[2]).max() > 1e-9])
    nothing = np.zeros((0, *shape, 3))
    return Faces(
        Side(
            moving.ready(shape),
            np.array([c[1] for c in columns]) if columns else nothing,
            tuple(named(block, p) for p in moving.polygons),
        ),
        Side(
            np.sum([body.ready(shape) for body in bodies], axis=0),
            np.array([c[2] for c in columns]) if columns else nothing,
            tuple(named(body.stood, p) for body in bodies for p in body.polygons),
        ),
        tuple(c[0] for c in columns),
        tuple(body.stood.standing.name for body in bodies if not body.polygons),
    )


def _meeting(
    own: Sequence[Polygon], others: Sequence[Polygon]
) -> Iterator[tuple[Polygon, Polygon]]:
    """Pick the faces that look at each other and are near."""
    ours, theirs = _near(own, others), _near(others, own)
    if not ours or not theirs:
        return
    low, high = _boxes(ours)
    floor, roof = _boxes(theirs)
    facing = np.array([p.normal for p in ours]) @ np.array([p.normal for p in theirs]).T
    flat = np.array([p.flat for p in ours])[:, None] & np.array([p.flat for p in theirs])[None]
    near = _apart(low[:, None], high[:, None], floor, roof) < np.where(flat, REACH, ROUND_REACH)
    for i, j in np.argwhere((facing < FACING) & near):
        yield ours[i], theirs[j]


def _near(some: Sequence[Polygon], whole: Sequence[Polygon]) -> list[Polygon]:
    """Pick those near the box around the whole of others: most triangles of a bore are not."""
    floor, roof = _boxes(whole)
    away = _apart(*_boxes(some), floor.min(axis=0), roof.max(axis=0))
    reach = np.where([p.flat for p in some], REACH, ROUND_REACH)
    return [p for p, near in zip(some, away < reach, strict=True) if near]


def _apart(low: Array, high: Array, floor: Array, roof: Array) -> Array:
    """Return how far boxes, by their least and greatest corners, are from others [mm]."""
    apart: Array = np.maximum(np.maximum(floor - high, low - roof), 0.0)
    return np.asarray(np.linalg.norm(apart, axis=-1))


def _boxes(found: Sequence[Polygon]) -> tuple[Array, Array]:
    starts = np.cumsum([0, *(len(p.corners) for p in found[:-1])])
    corners = np.concatenate([p.corners for p in found])
    return np.minimum.reduceat(corners, starts), np.maximum.reduceat(corners, starts)


def _follows(
    body: _Body, shape: tuple[int, int], of: Variants, drawn: _Drawn
) -> Iterator[tuple[Size, Array]]:
    """Find what a part's faces go by, and how far each corner moves for one more of it.

    drawn: the faces of parts with one size changed, drawn once for all that stand alike.
    """
    standing, part, name = body.stood.standing, body.stood.part, body.stood.standing.name
    if not body.polygons:
        return
    back = body.stood.placement.inverse()
    corners = [back.apply(_point(c)) for p in body.polygons for c in p.corners]
    concerned = list(features_at(body.stood, corners))
    start = body.corners(shape)
    for one in of.sizes(part, concerned):
        step = STEP[one.angle]
        try:
            varied = of.other({one.name: one.text(one.size.nominal + step)})
        except FaultyError:
            continue  # a piece that must stay level with another cannot change alone
        other = varied.build.part(part.name)
        changed = (part.name, one.name, tuple(concerned))
        if changed not in drawn:
            drawn[changed] = polygons(drawn_with(other, concerned))
        there = _stood_at(drawn[changed], placement(standing, other))
        rate = (_matched(body, there, shape) - start) / step
        own = one.name.removeprefix(f"{part.name}/")
        yield Size(f"{name}/{own}", one.size, "°" if one.angle else "mm"), rate
    for number, (_, written) in enumerate(standing.at):
        size = written.aimed()
        one_on = placement(standing, part, {number: size.nominal + 1.0}).shift
        rate = np.zeros_like(start)
        rate[body.pairs] = np.subtract(one_on, body.stood.placement.shift)
        yield Size(place_name(standing, number), size), rate
    outward = body.outward(shape)
    if standing.coat is not None:
        yield Size(f"{name}/coat", standing.coat.aimed()), outward
    if standing.wear is not None:
        yield Size(f"{name}/wear", standing.wear.aimed()), -outward


def _stood_at(some: Sequence[Polygon], where: Placement) -> list[Polygon]:
    turn, shift = np.array(where.rotation), np.array(where.shift)
    return [Polygon(p.corners @ turn.T + shift, p.flat) for p in some]


def _point(corner: Array) -> tuple[float, float, float]:
    x, y, z = corner
    return (float(x), float(y), float(z))


def _matched(body: _Body, others: Sequence[Polygon], shape: tuple[int, int]) -> Array:
    """Return its corners where those of the part drawn again are.

    Corners of round faces stay where they were.
    """
    normals = normals_of(others)
    found = body.corners(shape)
    for pair, polygon in zip(body.pairs, body.polygons, strict=True):
        alike = np.flatnonzero(normals @ polygon.normal > 0.99).tolist() if polygon.flat else []
        if not alike:
            continue
        there = np.concatenate([others[i].corners for i in alike])
        away = np.linalg.norm(there[None] - polygon.corners[:, None], axis=2)
        nearest = there[away.argmin(axis=1)]
        kept = np.where((away.min(axis=1) < MATCH)[:, None], nearest, polygon.corners)
        found[pair] = padded(kept, shape[1])
    return found


def _shared(columns: list[tuple[Size, Array, Array]]) -> list[tuple[Size, Array, Array]]:
    """Join sizes that move several parts at once, such as the distance between a pair."""
    found: dict[str, tuple[Size, Array, Array]] = {}
    for size, ours, theirs in columns:
        before = found.get(size.name)
        found[size.name] = (
            (size, before[1] + ours, before[2] + theirs) if before else (size, ours, theirs)
        )
    return list(found.values())
