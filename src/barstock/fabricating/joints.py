"""What is joined: pieces, joints, attitudes, and what is found wrong. Lengths in mm, masses in g.

Directions are in the frame of the whole: x to the right, y to the back, z to the top, as its six
faces are named on the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import sqrt

from barstock.drawing.faces import Face, Vec
from barstock.drawing.vectors import dot, plus, scaled

PLACED = 0.05
"""How far a hole may be from its place, and two in line from each other [mm]. Common practice."""

DOWNHILL = 0.5
"""Least upward share of the side a joint is fed from: 30° above level. Common practice."""


class Form(StrEnum):
    """How two faces meet."""

    LAP = "lap"
    BUTT = "butt"
    TEE = "tee"
    SPIGOT = "spigot"
    SCARF = "scarf"


class Mistake(StrEnum):
    """The sorts of mistake this folder names."""

    REMELT = "re-melt"
    NO_HEAT = "no heat"
    CADMIUM = "cadmium"
    PICKLE = "pickle"
    GAP = "gap"
    FIXTURE = "fixture too tight"
    SCREW = "screw"
    SWALLOW = "thread not swallowed"
    WALL = "thin wall"
    MELTS = "piece melts"
    TORCH = "torch"
    FLUX = "flux"


@dataclass(frozen=True)
class Finding:
    """One thing wrong or worth knowing. stops: the work must not be done so; else a caution.

    about: the joint, piece, screw or hole it speaks of; mend: what to do.
    """

    mistake: Mistake
    about: str
    what: str
    mend: str = ""
    stops: bool = True

    def __str__(self) -> str:
        mend = f"; {self.mend}" if self.mend else ""
        return f"{self.about}: {self.what}{mend}"


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
    """A way the whole may lie on the hearth. up: unit vector."""

    name: str
    up: Vec

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


FACE_UP: dict[str, Attitude] = {face: Attitude(f"{face} up", face.normal) for face in Face}
"""The six attitudes with a face up, by the face."""


def corner_up(one: str, other: str) -> Attitude:
    """The attitude with the edge of two faces up, propped at 45 degrees.

    >>> corner_up("top", "front").name
    'top and front up, propped at 45°'
    """
    if Face(one).axis == Face(other).axis:
        raise ValueError(f"{one} and {other} share no edge")
    up = scaled(plus(Face(one).normal, Face(other).normal), 1 / sqrt(2))
    return Attitude(f"{one} and {other} up, propped at 45°", up)


@dataclass(frozen=True)
class Holding:
    """A way of holding the whole in a heat: on the fixture, by its screws, standing free.

    holds: pieces it keeps in place of itself; attitudes it can lie in. material: of what holds, for
    the pickle; mass: of what must be warmed along with the work [g].
    """

    name: str
    holds: frozenset[str]
    attitudes: tuple[Attitude, ...]
    material: str = ""
    mass: float = 0.0
