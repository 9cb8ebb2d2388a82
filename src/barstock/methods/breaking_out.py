"""Finds holes that break out along their side, into one another or into a hollow beside them.

A bore that crosses another is meant, and so is a hole that goes into a slot with the whole of its
round. A round cut open on one side only is a slip: the drill runs off, the wall is gone. What meets
only in open air, over a step or between the pieces of a fabrication, takes no wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from math import cos, dist, pi, sin

from barstock import methods
from barstock.drawing.build import Face, Fault, Feature, Part, Vec
from barstock.methods.drawn_solid import envelope
from barstock.methods.feature_cuts import hole_of
from barstock.methods.places import PROUD, in_face, level, moved
from barstock.quantities import show
from barstock.reading.faults import nearest
from barstock.solids.shapes import Solid, cylinder, nothing

MET = 0.01
"""Less than this of two rounds in one another is a touch [mm]."""
LINES = 12  # along the side of a hole, looked at for whether it stays whole
LEVELS = 5  # at which each of them is looked at
INSIDE = 0.9  # share of the radius at which they run


@dataclass(frozen=True)
class Round:
    """One hole, without its mouth and point: from `at` along `way` [mm]."""

    feature: Feature
    face: Face
    at: Vec
    radius: float
    depth: float

    @property
    def axis(self) -> int:
        """The axis along which it is drilled."""
        return self.face.axis

    @property
    def span(self) -> tuple[float, float]:
        """Where it begins and ends along its axis [mm]."""
        start = self.at[self.axis]
        ends = (start, start - self.face.sign * self.depth)
        return min(ends), max(ends)

    def solid(self, radius: float) -> Solid:
        """The solid that it takes, of its own diameter unless another is given [mm]."""
        return cylinder(self.at, self.face.opposite.normal, radius, self.depth)

    def sweep(self, part: Part) -> Solid:
        """Its round carried on right through the part."""
        start = level(part, self.face, -PROUD - MET)
        deep = part.size[self.axis] + 2 * (PROUD + MET)
        at = moved(self.at, self.axis, start)
        return cylinder(at, self.face.opposite.normal, self.radius + MET, deep)

    def lines(self, level: float) -> list[Vec]:
        """Points round its side at a coordinate along its axis."""
        u, v = in_face(self.axis)
        here = moved(self.at, self.axis, level)
        reach = INSIDE * self.radius
        turns = [2 * pi * n / LINES for n in range(LINES)]
        return [
            moved(moved(here, u, here[u] + reach * cos(t)), v, here[v] + reach * sin(t))
            for t in turns
        ]


def broken_out(part: Part) -> Iterator[Fault]:
    """Every hole that breaks out along its side, unless it says 'breaks into'."""
    holes = [one for feature in part.features for one in _rounds(feature, part)]
    names = {feature.name for feature in part.features} | part.unread
    for feature in part.features:
        for name in _meant(feature):
            if name not in names:
                what = f"{feature.name} is to break into '{name}', which is no feature of the part"
                mend = nearest(name, sorted(names - {feature.name}))
                yield Fault(feature.place, what, mend, part.name, feature.name)
    hollows = [
        (feature, kind.removes(feature.spec, part))
        for feature in part.features
        if not (kind := methods.KINDS[feature.kind]).round_holes
    ]
    air = nothing().fuse(*(hollow for _, hollow in hollows)) if holes and hollows else nothing()
    whole = envelope(part)
    told: set[tuple[str, str]] = set()
    for a, b in combinations(holes, 2):
        pair = (b.feature.name, a.feature.name)
        if pair not in told and a.feature.name not in _meant(b.feature):
            overlap = 0.0 if b.feature.name in _meant(a.feature) else _overlap(a, b)
            if overlap > MET and _in_metal(a, b, holes, whole, air):
                told.add(pair)
                yield _fault(part, b.feature, a.feature, overlap)
    for feature, hollow in hollows:
        if not methods.KINDS[feature.kind].walled:
            continue
        for hole in holes:
            pair = (hole.feature.name, feature.name)
            if pair in told or feature.name in _meant(hole.feature):
                continue
            if _opened(hole, hollow.common(whole), air) and not hollow.cut(hole.sweep(part)).empty:
                told.add(pair)
                off = hole.solid(MET).distance(hollow)
                yield _fault(part, hole.feature, feature, hole.radius - (off + MET if off else 0.0))


def _rounds(feature: Feature, part: Part) -> list[Round]:
    cut = hole_of(feature, part)
    if cut is None:
        return []
    deep = cut.depth + (PROUD if cut.through else 0.0)
    return [Round(feature, cut.face, at, cut.diameter / 2, deep) for at in cut.at]


def _meant(feature: Feature) -> tuple[str, ...]:
    return methods.KINDS[feature.kind].breaks_into(feature.spec)


def _overlap(a: Round, b: Round) -> float:
    """How far two holes run into one another's side [mm]; 0 where they do not, or one lies within
    the other, or goes right into it."""
    ends = [axis for axis in range(3) if axis not in (a.axis, b.axis)]
    apart = dist([a.at[i] for i in ends], [b.at[i] for i in ends])
    if apart + min(a.radius, b.radius) <= max(a.radius, b.radius) + MET:
        return 0.0
    overlap = a.radius + b.radius - apart
    if a.axis == b.axis:
        (low, high), (floor, roof) = a.span, b.span
        return overlap if min(high, roof) - max(low, floor) > MET else 0.0
    meet = overlap > MET and not a.solid(a.radius).common(b.solid(b.radius)).empty
    return overlap if meet else 0.0


def _in_metal(a: Round, b: Round, holes: list[Round], whole: Solid, air: Solid) -> bool:
    """Is there metal where two holes meet, but for them? Else no wall is missed there."""
    met = a.solid(a.radius).common(b.solid(b.radius)).common(whole)
    others = (hole.solid(hole.radius) for hole in holes if hole is not a and hole is not b)
    return met.cut(air, *others).volume > MET**3


def _opened(hole: Round, hollow: Solid, air: Solid) -> bool:
    """Does a hollow open the side of a hole, but not all round? air: what all hollows and outlines
    take; where the metal beside the hole goes by another of them no wall is missed.
    """
    shared = hole.solid(hole.radius).common(hollow)
    if shared.volume < MET**3:
        return False
    for lump in shared.lumps():
        low, high = (corner[hole.axis] for corner in lump.bounds)
        left = set(range(LINES))
        for n in range(LEVELS):
            points = hole.lines(low + (high - low) * (n + 0.5) / LEVELS)
            left -= {line for line in left if air.contains(points[line])}
        if left:
            return True
    return False


def _fault(part: Part, hole: Feature, other: Feature, overlap: float) -> Fault:
    by = show(overlap, part.unit)
    if hole is other:
        what = f"the holes of {hole.name} break into each other by {by}: no wall is left"
    else:
        what = f"{hole.name} breaks into {other.name} along its side, by {by}: no wall is left"
    mend = f"move them apart; if it is meant, write 'breaks into: {other.name}' at {hole.name}"
    return Fault(hole.place, what, mend, part.name, hole.name)
