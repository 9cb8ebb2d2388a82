"""Finds walls left by what takes the place of fixing screws, position errors at their worst.

Only holes of one face and the edges of the whole are weighed here, before anything is planned; the
proof measures every wall of the solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from math import dist

from barstock.drawing.build import Part
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import PLACED
from barstock.methods.cuts import Arc
from barstock.methods.feature_cuts import hole_of
from barstock.methods.outline_shape import distance, within
from barstock.quantities import Length

Point = tuple[float, float]


def walls_after_joining(part: Part, least: float) -> tuple[Finding, ...]:
    """The findings of walls thinner than least [mm] beside the holes that replace a fabrication's
    fixing screws.
    """
    joined = part.joined
    assert joined is not None
    replacing = {screw.replaced_by for screw in joined.screws}
    holes = {f.name: cut for f in part.features if (cut := hole_of(f, part)) is not None}
    found: list[Finding] = []
    for face in dict.fromkeys(cut.face for name, cut in holes.items() if name in replacing):
        u, v = (i for i in range(3) if i != face.axis)
        rounds = tuple(
            Round(name, (at[u], at[v]), cut.diameter)
            for name, cut in holes.items()
            if cut.face is face
            for at in cut.at
        )
        long, wide = part.size[u], part.size[v]
        outline = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
        found += [f for f in walls(rounds, outline, least) if f.about in replacing]
    return tuple(dict.fromkeys(found))


@dataclass(frozen=True)
class Round:
    """A hole as it is seen along its axis. at: centre [mm]; diameter: as finished, of a thread its
    major [mm]; out: how far from its place it may be [mm]."""

    name: str
    at: Point
    diameter: float
    out: float = PLACED


def walls(
    holes: tuple[Round, ...], outline: tuple[Point, ...], least: float
) -> tuple[Finding, ...]:
    """The walls thinner than least [mm], between holes and to the outline (a closed polygon)."""
    return tuple(_walls(holes, outline, least))


def _walls(holes: tuple[Round, ...], outline: tuple[Point, ...], least: float) -> Iterator[Finding]:
    for one, other in combinations(holes, 2):
        left = dist(one.at, other.at) - (one.diameter + other.diameter) / 2 - one.out - other.out
        if left < least - 1e-9:
            yield _thin(one.name, f"to {other.name}", left, least)
    line = [Arc(corner, 0.0) for corner in outline]
    for hole in holes:
        away = distance(hole.at, outline[-1], line) if outline else float("inf")
        inside = not outline or within(hole.at, outline[-1], line)
        left = (away if inside else -away) - hole.diameter / 2 - hole.out
        if left < least - 1e-9:
            yield _thin(hole.name, "to the edge", left, least)


def _thin(name: str, to: str, left: float, least: float) -> Finding:
    if left <= 0:
        what = f"at worst no wall is left {to}"
    else:
        what = f"at worst the wall {to} is {Length(left):.2f}, {Length(least):g} is the least"
    return Finding(Mistake.WALL, name, what, "move it, or make it smaller")
