"""The pieces, joints and ways they lie and are held that joining is planned with. Lengths in mm,
masses in g.

Directions are in the frame of the whole: x to the right, y to the back, z to the top, as its six
faces are named on the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import sqrt

from barstock.drawing.faces import Face, Vec
from barstock.drawing.part import Form
from barstock.drawing.vectors import dot, plus, scaled
from barstock.route import HeatHolding

PLACED = 0.05
"""How far a hole may be from its place, and two in line from each other [mm]. Common practice."""

DOWNHILL = 0.5
"""Least upward share of the side a joint is fed from: 30° above level. Common practice."""


@dataclass(frozen=True)
class Piece:
    """One piece of a fabrication. material: a handbook name; mass [g]."""

    name: str
    material: str
    mass: float


@dataclass(frozen=True)
class Joint:
    """A soldered joint of two pieces.

    alloys: handbook names of those it may be made with, the one preferred first. gap_least,
    gap_most: designed clearance between the faces at 20 C, by the limits of the pieces (radial for
    a spigot) [mm]. feeds: unit vectors out of the joint to each side it may be fed from. line:
    length of the edge it is fed along [mm]; depth: how far filler runs in from there [mm]; fillet:
    leg of the fillet left along the line [mm]. screwed: screws hold the two pieces to each other.
    """

    name: str
    pieces: tuple[str, str]
    form: Form
    alloys: tuple[str, ...]
    gap_least: float
    gap_most: float
    feeds: tuple[Vec, ...]
    line: float
    depth: float
    fillet: float = 0.0
    screwed: bool = False


@dataclass(frozen=True)
class Attitude:
    """A way the whole may lie on the hearth: with a face up, or the edge of two, propped between
    them."""

    faces: tuple[Face, ...]

    def __str__(self) -> str:
        """The words by which a finding names it.

        >>> str(corner_up(Face.TOP, Face.FRONT))
        'top and front up, propped at 45°'
        """
        propped = ", propped at 45°" if len(self.faces) > 1 else ""
        return f"{' and '.join(self.faces)} up{propped}"

    @cached_property
    def up(self) -> Vec:
        """Unit vector of the whole that looks up."""
        total = (0.0, 0.0, 0.0)
        for face in self.faces:
            total = plus(total, face.normal)
        return scaled(total, 1 / sqrt(len(self.faces)))

    def downhill(self, joint: Joint) -> bool:
        """Does filler, fed from one of the joint's sides, run down into it?"""
        return self.from_side(joint) is not None

    def from_side(self, joint: Joint) -> Vec | None:
        """The side to feed from: the one that is most upward, None where all are too low."""
        best = max(joint.feeds, key=lambda feed: dot(feed, self.up), default=None)
        return best if best and dot(best, self.up) >= DOWNHILL - 1e-9 else None

    def steepness(self, joint: Joint) -> float:
        """How far upward the joint's best side looks: 1 for straight up."""
        return max((dot(feed, self.up) for feed in joint.feeds), default=0.0)


FACE_UP: dict[Face, Attitude] = {face: Attitude((face,)) for face in Face}
"""The six attitudes with a face up, by the face."""


def corner_up(one: Face, other: Face) -> Attitude:
    """The attitude with the edge of two faces up, propped at 45 degrees."""
    if one.axis == other.axis:
        raise ValueError(f"{one} and {other} share no edge")
    return Attitude((one, other))


@dataclass(frozen=True)
class Holding:
    """A way of holding the whole in a heat.

    holds: pieces it keeps in place by itself; attitudes it can lie in. material: of what holds, for
    the pickle; mass: of what must be warmed along with the work [g].
    """

    way: HeatHolding
    holds: frozenset[str]
    attitudes: tuple[Attitude, ...]
    material: str = ""
    mass: float = 0.0
