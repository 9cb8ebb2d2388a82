"""How a solid is constructed of blocks, rounds and swept outlines, and how far a point lies inside.

A point is judged in each of them exactly, so that no intersection of faces is worked out: this is
as sure where faces touch or lie in one another, which the CAD kernel is apt to fail at.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from barstock.drawing.faces import Vec

Numbers = NDArray[np.float64]

REACH = 1.0  # what lies farther outside than this is told as at least so far [mm]
FAR = 1e6  # inside or outside, nobody knows how far [mm]
ASIDE = (7.7e-8, 6.3e-8)  # a point on a chord is looked at so far beside it [mm]


@dataclass(frozen=True)
class Frame:
    """A rigid motion: a point p comes to `rows` times p, plus `shift` [mm]."""

    rows: tuple[Vec, Vec, Vec] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    shift: Vec = (0.0, 0.0, 0.0)

    def then(self, rows: Sequence[Vec], shift: Vec) -> Frame:
        """This motion, then another."""
        turn = np.array(rows)
        a, b, c = map(tuple, (turn @ np.array(self.rows)).tolist())
        x, y, z = (turn @ np.array(self.shift) + shift).tolist()
        return Frame((a, b, c), (x, y, z))

    def back(self, points: Numbers) -> Numbers:
        """The points before the motion."""
        found: Numbers = (points - self.shift) @ np.array(self.rows)
        return found

    def on(self, points: Numbers) -> Numbers:
        """The points after the motion."""
        found: Numbers = points @ np.array(self.rows).T + self.shift
        return found


@dataclass(frozen=True)
class Block:
    """A box between two corners [mm]."""

    low: Vec
    high: Vec

    def deep(self, p: Numbers) -> Numbers:
        """How far each point lies inside, negative outside [mm]."""
        return _together(np.minimum(p - self.low, np.array(self.high) - p))

    @property
    def corners(self) -> Numbers:
        """The corners of a box about it."""
        return _corners(self.low, self.high)


@dataclass(frozen=True)
class Round:
    """A cylinder or cone about z, standing on z = 0: its radius there and at its height [mm]."""

    radius: float
    top: float
    height: float

    @property
    def conical(self) -> bool:
        """Is it a cone?"""
        return self.radius != self.top

    def deep(self, p: Numbers) -> Numbers:
        """How far each point lies inside, negative outside [mm]."""
        z, out = p[:, 2], np.hypot(p[:, 0], p[:, 1])
        if not self.conical:
            return _together(np.stack([np.minimum(z, self.height - z), self.radius - out], axis=1))
        flat = np.stack([out, z], axis=1)
        foot, top = np.array((self.radius, 0.0)), np.array((self.top, self.height))
        away = np.full(len(p), np.inf)
        for a, b in (((0.0, 0.0), foot), (foot, top), (top, (0.0, self.height))):
            if np.hypot(*np.subtract(b, a)) > 0:
                away = np.minimum(away, _to_line(flat, np.array(a), np.array(b)))
        wall = self.radius + (self.top - self.radius) * z / self.height - out
        within = (z > 0) & (z < self.height) & (wall > 0)
        inside: Numbers = np.where(within, away, -away)
        return inside

    @property
    def corners(self) -> Numbers:
        """The corners of a box about it."""
        r = max(self.radius, self.top)
        return _corners((-r, -r, 0.0), (r, r, self.height))


@dataclass(frozen=True)
class Swept:
    """An outline in the plane z = 0, swept up to its height [mm].

    pieces: each end point with the bulge of the way to it, positive to the right of it.
    """

    pieces: tuple[tuple[float, float, float], ...]
    height: float

    def deep(self, p: Numbers) -> Numbers:
        """How far each point lies inside, negative outside [mm]."""
        z, flat = p[:, 2], p[:, :2]
        away = np.full(len(p), np.inf)
        inside = np.zeros(len(p), dtype=bool)
        beside = flat + ASIDE
        for (ax, ay, _), (bx, by, bulge) in pairwise((self.pieces[-1], *self.pieces)):
            a, b = np.array((ax, ay)), np.array((bx, by))
            if np.hypot(*(b - a)) < 1e-9:
                continue
            inside ^= _crossed(beside, a, b)
            if abs(bulge) < 1e-9:
                away = np.minimum(away, _to_line(flat, a, b))
                continue
            arc = _Arc(a, b, bulge)
            inside ^= arc.between(beside)
            away = np.minimum(away, arc.away(flat))
        across = np.where(inside, away, -away)
        return _together(np.stack([np.minimum(z, self.height - z), across], axis=1))

    @property
    def corners(self) -> Numbers:
        """The corners of a box about it."""
        span = max(
            math.dist(a[:2], b[:2]) * abs(b[2])
            for a, b in pairwise((self.pieces[-1], *self.pieces))
        )
        flat = np.array(self.pieces)[:, :2]
        low, high = flat.min(axis=0) - span, flat.max(axis=0) + span
        return _corners((low[0], low[1], 0.0), (high[0], high[1], self.height))


class _Arc:
    def __init__(self, a: Numbers, b: Numbers, bulge: float) -> None:
        chord = b - a
        long = float(np.hypot(*chord))
        self.a, self.b, self.middle = a, b, (a + b) / 2
        self.out = np.array((chord[1], -chord[0])) / long * math.copysign(1.0, bulge)
        k = abs(bulge)
        self.radius = long * (1 + k * k) / (4 * k)
        self.centre = self.middle + self.out * (k * long / 2 - self.radius)

    def between(self, p: Numbers) -> NDArray[np.bool_]:
        """Which points lie between the chord and the arc?"""
        beyond = (p - self.middle) @ self.out > 0
        found: NDArray[np.bool_] = beyond & (np.hypot(*(p - self.centre).T) < self.radius)
        return found

    def away(self, p: Numbers) -> Numbers:
        """The distance of each point from the arc."""
        off = p - self.centre
        far = np.hypot(*off.T)
        on = self.centre + off * (self.radius / np.maximum(far, 1e-12))[:, None]
        ends = np.minimum(np.hypot(*(p - self.a).T), np.hypot(*(p - self.b).T))
        over = (on - self.middle) @ self.out >= 0
        found: Numbers = np.where(over, np.abs(far - self.radius), ends)
        return found


def _together(inside: Numbers) -> Numbers:
    """How far inside of all walls at once, from how far inside of each (n, walls); these stand
    square to each other.
    """
    beyond = np.minimum(inside, 0.0)
    out = np.sqrt(np.einsum("ij,ij->i", beyond, beyond))
    least = _least(inside)
    found: Numbers = np.where(least > 0, least, -out)
    return found


def _least(rows: Numbers) -> Numbers:
    """The least of each row: of two or three figures, quicker by columns."""
    found: Numbers = np.minimum(rows[:, 0], rows[:, 1])
    return found if rows.shape[1] == 2 else np.minimum(found, rows[:, 2])


def _crossed(p: Numbers, a: Numbers, b: Numbers) -> NDArray[np.bool_]:
    """For which points does the line from a to b cross the ray from there to the right?"""
    x, y = p.T
    spans = (a[1] > y) != (b[1] > y)
    rise = b[1] - a[1] if b[1] != a[1] else 1.0
    found: NDArray[np.bool_] = spans & (x < a[0] + (y - a[1]) / rise * (b[0] - a[0]))
    return found


def _to_line(p: Numbers, a: Numbers, b: Numbers) -> Numbers:
    d = b - a
    t = np.clip((p - a) @ d / (d @ d), 0.0, 1.0)
    found: Numbers = np.hypot(*(p - a - t[:, None] * d).T)
    return found


def _corners(low: Sequence[float], high: Sequence[float]) -> Numbers:
    ends = np.array((low, high), dtype=float)
    return np.array(
        [(ends[i, 0], ends[j, 1], ends[k, 2]) for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    )


Simple = Block | Round | Swept


@dataclass(frozen=True, eq=False)
class Placed:
    """A block, round or swept outline where it stands."""

    simple: Simple
    frame: Frame = Frame()

    def deep(self, points: Numbers) -> Numbers:
        """How far each point lies inside, negative outside, and never farther than it does [mm]."""
        low, high = self.box
        found = _least(np.minimum(points - low, high - points))
        near = found > -REACH
        if near.any():
            found[near] = self.simple.deep(self.frame.back(points[near]))
        return found

    @cached_property
    def box(self) -> tuple[Numbers, Numbers]:
        """Least and greatest corner of a box about it [mm]."""
        corners = self.frame.on(self.simple.corners)
        return corners.min(axis=0), corners.max(axis=0)

    def moved(self, rows: Sequence[Vec], shift: Vec) -> Placed:
        """The same after a rigid motion."""
        return Placed(self.simple, self.frame.then(rows, shift))


class Body(Protocol):
    """What the kernel has built, in nobody knows what way."""

    def contains(self, p: Vec) -> bool:
        """Is the point inside the body or on its skin?"""


@dataclass(frozen=True, eq=False)
class AsBuilt:
    """A body as the kernel has it, where it stands: it tells inside from outside, and no more."""

    body: Body
    frame: Frame = Frame()

    def deep(self, points: Numbers) -> Numbers:
        """How far each point lies inside, negative outside: always FAR."""
        inside = [self.body.contains((x, y, z)) for x, y, z in self.frame.back(points).tolist()]
        return np.where(inside, FAR, -FAR)

    @property
    def box(self) -> tuple[Numbers, Numbers]:
        """It may be anywhere."""
        return np.full(3, -np.inf), np.full(3, np.inf)

    def moved(self, rows: Sequence[Vec], shift: Vec) -> AsBuilt:
        """The same after a rigid motion."""
        return AsBuilt(self.body, self.frame.then(rows, shift))


@dataclass(frozen=True, eq=False)
class Less:
    """A solid less others."""

    whole: Construction
    taken: tuple[Construction, ...]

    def deep(self, points: Numbers) -> Numbers:
        """How far each point lies inside, negative outside, and never farther than it does [mm]."""
        found = self.whole.deep(points)
        for one in self.taken:
            found = np.minimum(found, -one.deep(points))
        return found

    @property
    def box(self) -> tuple[Numbers, Numbers]:
        """Least and greatest corner of a box about it [mm]."""
        return self.whole.box

    def moved(self, rows: Sequence[Vec], shift: Vec) -> Less:
        """The same after a rigid motion."""
        return Less(self.whole.moved(rows, shift), tuple(t.moved(rows, shift) for t in self.taken))


@dataclass(frozen=True, eq=False)
class AnyOf:
    """What lies in any of several solids."""

    parts: tuple[Construction, ...]

    def deep(self, points: Numbers) -> Numbers:
        """How far each point lies inside, negative outside, and never farther than it does [mm]."""
        found = np.full(len(points), -FAR)
        for one in self.parts:
            found = np.maximum(found, one.deep(points))
        return found

    @cached_property
    def box(self) -> tuple[Numbers, Numbers]:
        """Least and greatest corner of a box about it [mm]."""
        lows, highs = zip(*(part.box for part in self.parts), strict=True)
        return np.min(lows, axis=0), np.max(highs, axis=0)

    def moved(self, rows: Sequence[Vec], shift: Vec) -> AnyOf:
        """The same after a rigid motion."""
        return AnyOf(tuple(part.moved(rows, shift) for part in self.parts))


@dataclass(frozen=True, eq=False)
class AllOf:
    """What lies in all of several solids."""

    parts: tuple[Construction, ...]

    def deep(self, points: Numbers) -> Numbers:
        """How far each point lies inside, negative outside, and never farther than it does [mm]."""
        found = np.full(len(points), FAR)
        for one in self.parts:
            found = np.minimum(found, one.deep(points))
        return found

    @cached_property
    def box(self) -> tuple[Numbers, Numbers]:
        """Least and greatest corner of a box about it [mm]."""
        lows, highs = zip(*(part.box for part in self.parts), strict=True)
        return np.max(lows, axis=0), np.min(highs, axis=0)

    def moved(self, rows: Sequence[Vec], shift: Vec) -> AllOf:
        """The same after a rigid motion."""
        return AllOf(tuple(part.moved(rows, shift) for part in self.parts))


Construction = Placed | AsBuilt | Less | AnyOf | AllOf


def less(whole: Construction, taken: Sequence[Construction]) -> Construction:
    """A solid less others."""
    if isinstance(whole, Less):
        return Less(whole.whole, (*whole.taken, *taken))
    return Less(whole, tuple(taken))


def pieces(made: Construction) -> list[Construction]:
    """What a solid is put together of."""
    return [p for part in made.parts for p in pieces(part)] if isinstance(made, AnyOf) else [made]
