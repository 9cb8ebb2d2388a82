"""This module finds the hollows that a spring stands in.

They are given, or they are holes or pockets of the build's parts.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

from barstock.drawing.build import Build
from barstock.drawing.springs import Hollow
from barstock.methods import KINDS


@dataclass(frozen=True)
class Room:
    """A Room is the space that a spring has.

    diameter: of its narrowest hollow; depth: of all hollows together [mm].
    """

    diameter: float = inf
    depth: float = 0.0


class NoHollowError(ValueError):
    """This is raised where what a spring is to stand in is neither hole nor pocket."""


def room(hollows: Iterable[Hollow], build: Build | None) -> Room:
    """Return the room that hollows give together, at their lowest limits. Raises NoHollowError."""
    found = [_sizes(hollow, build) for hollow in hollows]
    if not found:
        return Room()
    return Room(min(wide for wide, _ in found), sum(deep for _, deep in found))


def _sizes(hollow: Hollow, build: Build | None) -> tuple[float, float]:
    if not hollow.of or build is None:
        return hollow.diameter, hollow.depth
    part, _, name = hollow.of.partition("/")
    feature = next(f for f in build.part(part).features if f.name == name)
    found = KINDS[feature.kind].room(feature.spec)
    if found is None:
        raise NoHollowError(f"{hollow.place}: '{hollow.of}' is neither a hole nor a pocket")
    return found
