"""Points that witness a difference: metal where the drawing has none, or none where it keeps it.

Each point is judged exactly, by how the drawing and the cut work are constructed: no solids are
intersected, so that faces that touch or lie in one another are as sure as any. What a difference is
worth is the depth by which it goes beyond a drawn surface, as a gauge on that surface would find
it: not how far a film reaches along it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barstock.proving.surface import Points, some
from barstock.proving.wanted import NOTHING, Wanted
from barstock.solids.construction import (
    AllOf,
    AnyOf,
    Construction,
    Frame,
    Less,
    Placed,
    Round,
    pieces,
)
from barstock.solids.shapes import Solid

FINE = 0.01  # mesh deflection of the skins that points are taken from [mm]
SPARE = 0.1  # a drill's extra depth is not dimensioned: it may end this far off [mm]
ON = 1e-6  # a point this near a skin lies on it [mm]
BESIDE = 0.03  # a point of a mesh is no farther from the skin [mm]
SET = 1e-4  # a point set on the skin is no farther from it [mm]
MOST = 40_000  # points taken of a skin at most
TURNED = 0.03  # the normals of a mesh are off by so much at most, as a share of the way along them
WEIGHTS = ((4, 0, 0), (0, 4, 0), (0, 0, 4), (2, 2, 0), (0, 2, 2), (2, 0, 2), (4 / 3,) * 3)
SAMPLED = 300  # points drawn by chance in what a feature takes away
ALIKE = 0.5  # a cutter makes the hole whose radius is so near its own [mm]

Mask = NDArray[np.bool_]
Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Seen:
    """Witnesses: their `points`, how `deep` each is [mm], and the feature of each by number."""

    points: Points
    deep: Numbers
    feature: NDArray[np.int64]

    def of(self, which: Mask) -> Seen:
        """Some of them."""
        return Seen(self.points[which], self.deep[which], self.feature[which])


def none() -> Seen:
    """No witness at all."""
    return Seen(np.zeros((0, 3)), np.zeros(0), np.zeros(0, dtype=np.int64))


def joined(many: list[Seen]) -> Seen:
    """All that were seen."""
    if not many:
        return none()
    return Seen(
        np.concatenate([one.points for one in many]),
        np.concatenate([one.deep for one in many]),
        np.concatenate([one.feature for one in many]),
    )


@dataclass(frozen=True)
class Court:
    """Judges points of a `finished` work by what is wanted."""

    want: Wanted
    finished: Solid
    names: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Number the features; the envelope is the last."""
        object.__setattr__(self, "names", (*self.want.removes, ""))

    @cached_property
    def limits(self) -> Numbers:
        """The allowed deviation of each feature, and of the envelope [mm]."""
        return np.array([self.want.limit(name) for name in self.names])

    @cached_property
    def placed(self) -> list[Construction]:
        """What each feature takes away, its round holes where they were made: within the limits of
        their places they may stand there.
        """
        made = _rounds(self.finished.construction)
        return [
            AnyOf(tuple(_followed(p, made, self.want.place(name)) for p in pieces(s.construction)))
            for name, s in self.want.removes.items()
        ]

    def features(self, points: Points) -> Numbers:
        """How far each point lies inside what each feature takes away (features, n) [mm]."""
        rows = [solid.deep(points) for solid in self.want.removes.values()]
        return np.array(rows).reshape(len(rows), len(points))

    def left(self, points: Points) -> Seen:
        """The points at which metal is left on beyond the limits."""
        points = points[self.finished.deep(points) >= -ON]
        return self._left(points, -self.want.drawn.deep(points))

    def gouged(self, points: Points) -> Seen:
        """The points at which metal is missing beyond the limits, each with the nearest feature."""
        points = points[self.finished.deep(points) <= ON]
        return self._gouged(points, self.want.drawn.deep(points))

    def _left(self, points: Points, out: Numbers) -> Seen:
        """As `left`, of points in the finished work so far out of the drawn one."""
        out = self._but_in_pieces(points, out)
        far = out > self.limits.min()
        points, out = points[far], out[far]
        if not len(points) or not len(self.placed):
            nobody = np.zeros(len(points), dtype=np.int64)
            return Seen(points, out, nobody).of(out > self.limits[-1])
        inside = self.features(points)
        where = np.array([one.deep(points) for one in self.placed])
        beyond = np.minimum(inside, where) - self.limits[:-1, None]
        row = np.arange(len(points))
        feature = beyond.argmax(axis=0)
        own = beyond[feature, row] > 0
        outside = ~own & (inside.max(axis=0) <= NOTHING) & (out > self.limits[-1])
        deep = np.where(own, inside[feature, row], out)
        return Seen(points, deep, np.where(own, feature, len(inside))).of(own | outside)

    def _gouged(self, points: Points, deep: Numbers) -> Seen:
        """As `gouged`, of points out of the finished work so deep in the drawn one."""
        far = deep > self.limits.min()
        points, deep = points[far], deep[far]
        if not len(points) or not len(self.placed):
            nobody = np.zeros(len(points), dtype=np.int64)
            deep = self._but_what_may_go(points, deep)
            return Seen(points, deep, nobody).of(deep > self.limits[-1])
        inside = self.features(points)
        outer = -inside.max(axis=0) > deep + SET  # the envelope's face is the nearest
        deep = np.where(outer & (deep <= self.limits[-1]), 0.0, deep)
        deep = self._but_what_may_go(points, deep)
        for one, own, limit in zip(self.placed, inside, self.limits, strict=False):
            deep = np.where((one.deep(points) >= -limit) & (own < 0), 0.0, deep)
        feature = inside.argmax(axis=0)
        return Seen(points, deep, feature).of(deep > self.limits.min())

    def _but_what_may_go(self, points: Points, deep: Numbers) -> Numbers:
        """How deep each point lies in metal that must stay, of what is so deep in the drawn one."""
        for may in self.want.may:
            deep = np.minimum(deep, -may.deep(points) - SPARE)
        return self._but_in_pieces(points, deep)

    def _but_in_pieces(self, points: Points, off: Numbers) -> Numbers:
        """How far off points are, but for those at a surface of a piece that may lie so far off."""
        for solid, limit in self.want.pieces:
            off = np.where((off <= limit) & (np.abs(solid.deep(points)) <= limit), 0.0, off)
        return off

    def over_skins(self) -> tuple[Seen, Seen]:
        """What is left on and what is gouged, at points of both skins and beside the drawn one."""
        places, away = self.skin
        left, gouged = [self._left(places, -away)], [self._gouged(places, away)]
        places, outward = on_skin(self.want.drawn)
        for limit in np.unique(self.limits.round(4)):
            off = (limit * (1 + TURNED) + 1e-4) * outward
            left.append(self.left(places + off))
            gouged.append(self.gouged(places - off))
        return joined(left), joined(gouged)

    @cached_property
    def skin(self) -> tuple[Points, Numbers]:
        """Points over the finished skin, and how deep each lies in the drawn solid [mm]."""
        places, _ = on_skin(self.finished)
        return places, self.want.drawn.deep(places)

    def deviations(self) -> Numbers:
        """The worst deviation of each feature, and of the envelope, limits or none [mm]."""
        places, away = self.skin
        off = np.abs(away) > SET
        places, away = places[off], away[off]
        for may in self.want.may:
            away = np.where(may.deep(places) >= -SPARE, np.minimum(away, 0.0), away)
        worst, off = np.zeros(len(self.names)), np.abs(away)
        inside = self.features(places)
        feature = np.zeros(len(places), dtype=np.int64)
        if len(inside):
            feature = np.where(away < 0, inside, -np.abs(inside)).argmax(axis=0)
            near = np.abs(inside[feature, np.arange(len(places))]) <= off + ON
            feature = np.where(near, feature, len(inside))
        np.maximum.at(worst, feature, off)
        return worst

    def share_left(self, name: str) -> float:
        """The share of what a feature takes off the envelope that is still there."""
        region = self.want.removes[name]
        low = np.maximum(region.bounds[0], self.want.drawn.bounds[0])
        high = np.minimum(region.bounds[1], self.want.drawn.bounds[1])
        points = np.random.default_rng(1).uniform(low, high, (SAMPLED * 10, 3))
        points = points[region.deep(points) > 0][:SAMPLED]
        return float(np.mean(self.finished.deep(points) > 0)) if len(points) else 0.0


def on_skin(solid: Solid) -> tuple[Points, Points]:
    """Points over a solid's skin, set on it, and the way outward there."""
    points, corners = solid.mesh(FINE)
    skin = points[corners]
    normal = np.cross(skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0])
    length = np.linalg.norm(normal, axis=1)
    skin, normal = (
        skin[length > 1e-12],
        (normal / np.maximum(length, 1e-12)[:, None])[length > 1e-12],
    )
    places = np.concatenate([np.einsum("k,tkj->tj", np.array(w) / 4, skin) for w in WEIGHTS])
    outward = np.tile(normal, (len(WEIGHTS), 1))
    _, first = np.unique(np.round(np.hstack([places, outward]), 5), axis=0, return_index=True)
    chosen = first[some(len(first), MOST)] if len(first) else first
    places, outward = places[chosen], outward[chosen]
    deep = solid.deep(places)
    known = np.abs(deep) < BESIDE
    off = known & (np.abs(deep) > ON)
    places[off] += deep[off, None] * outward[off]
    known[off] = np.abs(solid.deep(places[off])) < SET
    return places[known], outward[known]


def _rounds(made: Construction, taken: bool = False) -> list[tuple[Round, Frame]]:
    """The round pieces that were taken away in the making of a solid, and where they stood."""
    if isinstance(made, Less):
        return _rounds(made.whole, taken) + [r for one in made.taken for r in _rounds(one, True)]
    if isinstance(made, AnyOf | AllOf):
        return [r for part in made.parts for r in _rounds(part, taken)]
    if taken and isinstance(made, Placed) and isinstance(made.simple, Round):
        return [(made.simple, made.frame)]
    return []


def _followed(piece: Construction, made: list[tuple[Round, Frame]], most: float) -> Construction:
    """A round hole moved onto the axis that it was made on, if that is no more than so far off."""
    if not isinstance(piece, Placed) or not isinstance(piece.simple, Round) or not made:
        return piece
    axis = np.array(piece.frame.rows)[:, 2]
    axes = np.array([frame.rows for _, frame in made])[:, :, 2]
    off = np.array([frame.shift for _, frame in made]) - piece.frame.shift
    off = off - np.outer(off @ axis, axis)
    wider = np.abs(np.array([simple.radius for simple, _ in made]) - piece.simple.radius)
    wider = np.zeros(len(made)) if piece.simple.conical else wider.round(6)
    far = np.linalg.norm(off, axis=1)
    fits = (np.linalg.norm(np.cross(axes, axis), axis=1) < ON) & (far <= most) & (wider < ALIKE)
    if not fits.any():
        return piece
    best = np.flatnonzero(fits)[np.lexsort((far[fits], wider[fits]))[0]]
    x, y, z = off[best].tolist()
    return piece.moved(Frame().rows, (x, y, z))
