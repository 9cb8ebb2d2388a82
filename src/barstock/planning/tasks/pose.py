"""A pose is how work lies as it is held; here is the arithmetic between part's and table's frame.

The planner's own road: plain vectors, no solids (route/records.py has the frames in words).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from itertools import product
from math import cos, radians, sin
from typing import Protocol

from barstock.drawing.build import Face, Vec
from barstock.drawing.vectors import cross as cross
from barstock.drawing.vectors import dot as dot
from barstock.drawing.vectors import plus as plus

Box = tuple[Vec, Vec]


def face_towards(direction: Vec) -> Face:
    """The face whose normal lies nearest to `direction`."""
    return max(Face, key=lambda f: dot(f.normal, direction))


@cache
def _right(fixed_jaw: Face, up: Face) -> Face:
    return face_towards(cross(fixed_jaw.normal, up.normal))


def corners(box: Box) -> list[Vec]:
    """The eight corners of a box."""
    return [(x, y, z) for x, y, z in product(*zip(*box, strict=True))]


class Held(Protocol):
    """A way of holding work, as far as readings and names depend on it; planning/holding has all
    that it answers.
    """

    @property
    def seat(self) -> str:
        """The name of what the work's back is against."""
        ...

    @property
    def by_eye(self) -> bool:
        """Is the work brought under the cutter by eye, and not by readings?"""
        ...

    def pose_words(self, pose: Pose) -> str:
        """The words about the way that stand in the name of a pose."""


@dataclass(frozen=True)
class Pose:
    """One way of laying the work and holding it: the face up, the face at the fixed jaw, what
    holds it, the tilt [degrees].

    Positive tilt lifts the right-hand end. stage: "bar" or "piece".
    """

    stage: str
    up: Face
    fixed_jaw: Face
    way: Held
    tilt: float = 0.0

    @property
    def right(self) -> Face:
        """The face that looks to the operator's right (before tilting)."""
        return _right(self.fixed_jaw, self.up)

    @property
    def left(self) -> Face:
        """The face that looks to the left, at the stop."""
        return self.right.opposite

    @property
    def bottom(self) -> Face:
        """The face that rests on the parallels."""
        return self.up.opposite

    @property
    def name(self) -> str:
        """A short name, unique among the poses of one part."""
        lean = f", tilted {self.tilt:g}°" if self.tilt else ""
        lies = f"{self.up} up, {self.fixed_jaw} to the {self.way.seat}"
        return f"{self.stage}: {lies}{lean}{self.way.pose_words(self)}"

    def turn(self, v: Vec) -> Vec:
        """The direction of the table's frame that a direction of the part's frame becomes."""
        x, y, z = (
            dot(v, self.right.normal),
            dot(v, self.fixed_jaw.normal),
            dot(v, self.up.normal),
        )
        c, s = cos(radians(self.tilt)), sin(radians(self.tilt))
        return (x * c - z * s, y, x * s + z * c)


@dataclass(frozen=True)
class Lie:
    """A pose with the work in place: `shift` added after turning gives table coordinates [mm]."""

    pose: Pose
    shift: Vec
    box: Box
    packing: float

    def at(self, p: Vec) -> Vec:
        """The point of the table where a point of the part's frame lies."""
        return plus(self.pose.turn(p), self.shift)

    def of_part(self, p: Vec) -> Vec:
        """A point on the table of work that is not tilted, in the part's frame."""
        x, y, z = plus(p, self.shift, -1.0)
        right, back, up = self.pose.right, self.pose.fixed_jaw, self.pose.up
        return plus(plus(plus((0.0, 0.0, 0.0), right.normal, x), back.normal, y), up.normal, z)

    @property
    def level(self) -> Lie:
        """The work as it lies to the tilted table it is on: the table turned back until it is
        level."""
        c, s = cos(radians(self.pose.tilt)), sin(radians(self.pose.tilt))
        x, y, z = self.shift
        shift = (x * c + z * s, y, z * c - x * s)
        return replace(self, pose=replace(self.pose, tilt=0.0), shift=shift)

    @property
    def extent(self) -> Box:
        """The work's extremes on the table."""
        points = [self.at(c) for c in corners(self.box)]
        return (
            (min(p[0] for p in points), min(p[1] for p in points), min(p[2] for p in points)),
            (max(p[0] for p in points), max(p[1] for p in points), max(p[2] for p in points)),
        )


def lay(pose: Pose, box: Box, packing: float) -> Lie:
    """Put work of extremes `box` on the packing, against the fixed jaw and the left-hand stop."""
    points = [pose.turn(c) for c in corners(box)]
    shift = (
        -min(p[0] for p in points),
        -max(p[1] for p in points),
        packing - min(p[2] for p in points),
    )
    return Lie(pose, shift, box, packing)
