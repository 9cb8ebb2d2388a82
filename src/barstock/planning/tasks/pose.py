"""How work lies in the vise, and the arithmetic between the part's frame and the table's.

The planner's own road: plain vectors, no solids (route/records.py has the frames in words).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import product
from math import atan2, cos, degrees, radians, sin

from barstock.drawing.build import Face, Vec
from barstock.drawing.vectors import cross as cross
from barstock.drawing.vectors import dot as dot
from barstock.drawing.vectors import plus as plus
from barstock.workshop.shop import AnglePlate, Clamps, VBlock

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


@dataclass(frozen=True)
class Straps:
    """Clamps that hold work down on the table. where: they come in, see planning/holding/straps.py.

    plate: that work stands against, see planning/holding/angle_plate.py.
    """

    where: str
    kit: Clamps
    plate: AnglePlate | None = None


@dataclass(frozen=True)
class InVee:
    """Round work in a V-block. vee: width of the V it is in; of lying work, start: from its left
    end to the block's [mm]; clamp: where along the block its clamp is, 0 to 1."""

    block: VBlock
    vee: float
    start: float = 0.0
    clamp: float = 0.5


@dataclass(frozen=True)
class Pose:
    """One way of laying the work: the face up, the face at the fixed jaw, the tilt [degrees].

    Positive tilt lifts the right-hand end. stage: "bar" or "piece". vise: the one to use, where
    it is not free. end_only: held near one end of work longer than the jaws, so that nothing else
    can be cut there. block: screwed down on a fixture block.
    straps: what holds it down on the table, where it is in no vise. press: the vise on the
    drill press. vee: round work in a V-block.
    """

    stage: str
    up: Face
    fixed_jaw: Face
    tilt: float = 0.0
    vise: str = ""
    end_only: bool = False
    block: bool = False
    straps: Straps | None = None
    press: bool = False
    vee: InVee | None = None

    @property
    def way(self) -> str:
        """The name of the way it is held."""
        if self.straps:
            return "angle plate" if self.straps.plate else "straps on the table"
        if self.vee:
            return "V-block, standing" if self.up.axis == 0 else "V-block, lying"
        held = "on end" if self.up.axis == 0 else "vise"
        return "fixture block" if self.block else "drill press" if self.press else held

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
        """Short, unique among the poses of one part."""
        lean = f", tilted {self.tilt:g}°" if self.tilt else ""
        held = f", in the {self.vise}" if self.vise else ""
        end = f", gripped near the {self.right} end" if self.end_only else ""
        down = ", screwed down on a fixture block" if self.block else ""
        upright = self.straps is not None and self.straps.plate is not None
        seat = "plate" if upright else "fence" if self.straps else "fixed jaw"
        way = f"{self.up} up, {self.fixed_jaw} to the {seat}"
        down += f", strapped to the table {self.straps.where}" if self.straps else ""
        if self.vee:
            down += f", in the V-block from {self.vee.start:g} mm on, clamp at {self.vee.clamp:.0%}"
        down += ", on the drill press" if self.press else ""
        return f"{self.stage}: {way}{lean}{held}{end}{down}"

    def turn(self, v: Vec) -> Vec:
        """A direction of the part's frame as a direction of the table's."""
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
        """A point of the part's frame on the table."""
        return plus(self.pose.turn(p), self.shift)

    def of_part(self, p: Vec) -> Vec:
        """A point on the table of work that is not tilted, in the part's frame."""
        x, y, z = plus(p, self.shift, -1.0)
        right, back, up = self.pose.right, self.pose.fixed_jaw, self.pose.up
        return plus(plus(plus((0.0, 0.0, 0.0), right.normal, x), back.normal, y), up.normal, z)

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


def poses_for(normal: Vec, across: Vec | None, stage: str) -> list[Pose]:
    """Poses that bring `normal` straight up.

    across: for a leaning floor, the level direction the work is tilted about; it must be square to
    the jaws. For a straight floor every jaw direction is offered.
    """
    up = face_towards(normal)
    if across is None:
        return [Pose(stage, up, jaw) for jaw in Face if jaw.axis != up.axis]
    found = []
    for jaw in (face_towards(across), face_towards(across).opposite):
        level = Pose(stage, up, jaw).turn(normal)
        tilt = degrees(atan2(level[0], level[2]))
        found.append(Pose(stage, up, jaw, round(tilt, 9)))
    return found
