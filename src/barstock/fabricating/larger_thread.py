"""A larger thread where a fixing screw was: is the old one gone, and what walls are left?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from math import ceil, dist

from barstock.fabricating.joints import PLACED, Finding, Mistake
from barstock.handbook.threads import thread
from barstock.methods.cuts import Arc
from barstock.methods.outline_shape import distance, within

OVERSIZE = 0.05
"""How much wider than its nominal size a tap or a drill may have cut [mm]. Common practice."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Swallow:
    """new_hole, old: diameters [mm]; out: how far their axes may be apart [mm]; spare: of the new
    hole's radius over all that was the old one [mm], negative where some of it is left."""

    name: str
    new_hole: float
    old: float
    out: float
    spare: float
    findings: tuple[Finding, ...]


def swallows(name: str, old: str | float, new_hole: float, out: float) -> Swallow:
    """Does a new hole take away the old one wholly?

    old: thread of the fixing screw, or the diameter of a plain hole [mm]; new_hole: diameter
    drilled (before it is tapped) [mm]; out: how far the new axis may be from the old one [mm].
    Raises UnknownThreadError, ValueError for a size that is none.
    """
    was = thread(old).major if isinstance(old, str) else old
    if was <= 0 or new_hole <= 0 or out < 0:
        raise ValueError(f"hole '{name}': sizes must be more than 0 and the error not less")
    spare = new_hole / 2 - (was + OVERSIZE) / 2 - out
    findings: tuple[Finding, ...] = ()
    if spare < -1e-9:
        called = f"the old {old} thread" if isinstance(old, str) else f"the old {old:g} mm hole"
        what = (
            f"a {new_hole:g} mm hole does not swallow {called}: with {out:g} mm out of line "
            f"{-spare:.2f} mm of it is left on one side"
        )
        wide = ceil((new_hole - 2 * spare) * 100 - 1e-6) / 100
        mend = f"drill {wide:.2f} mm or more, use a smaller fixing screw, or pick "
        mend += "up the old hole by its own bore before drilling"
        findings = (Finding(Mistake.SWALLOW, name, what, mend),)
    return Swallow(name, new_hole, was, out, round(spare, 6), findings)


@dataclass(frozen=True)
class Round:
    """A hole across its axis. at: centre [mm]; diameter: as finished, a thread's major [mm]; out:
    how far from its place it may be [mm]."""

    name: str
    at: Point
    diameter: float
    out: float = PLACED


def walls(
    holes: tuple[Round, ...], outline: tuple[Point, ...], least: float
) -> tuple[Finding, ...]:
    """Walls thinner than least [mm], between holes and to the outline (a closed polygon)."""
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
        what = f"at worst the wall {to} is {left:.2f} mm, {least:g} mm is the least"
    return Finding(Mistake.WALL, name, what, "move it, or make it smaller")
