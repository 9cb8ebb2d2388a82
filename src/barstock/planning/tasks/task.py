"""What has to be done to a part, before anyone decides in which order or which way up.

A task is one tool doing one thing to one part: its cut, the tools that could do it, the poses it
could be done in, what must come before it and why.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import hypot, inf
from typing import ClassVar, Protocol

from barstock.drawing.bar_names import sawing_name
from barstock.drawing.build import Face, Part, Vec
from barstock.errors import UnplannableError
from barstock.methods.cuts import Check, EdgeCut, FlushCut, LevelCut, ProfileCut
from barstock.planning.tasks.pose import Pose
from barstock.route import Process
from barstock.route.statements import Reason
from barstock.workshop.shop import Tool

JUST_IN = 0.05  # a point so far under a face is just inside the metal [mm]


@dataclass(frozen=True)
class Level:
    """A level floor cut by the end of an end mill."""

    moves: ClassVar[frozenset[str]] = frozenset({"traverse"})
    cut: LevelCut

    def below(self, size: Vec) -> float:
        """How far the cut goes out of the far side of a part of this size [mm]."""
        axis, sign = self.cut.face.axis, self.cut.face.sign
        floor = self.cut.origin[axis]
        return max(0.0, -floor if sign > 0 else floor - size[axis])


@dataclass(frozen=True)
class Slit(Level):
    """A narrow slot cut by a slitting saw, which goes in at a side of the work."""

    def below(self, size: Vec) -> float:
        """Nothing is cut below the work."""
        return 0.0


@dataclass(frozen=True)
class Facing(Level):
    """A face of the bar brought to the drawing: by the end of an end mill where that face is up, by
    its side where the work lies on another. part_way: what is left of it waits for another grip."""

    part_way: bool = False


@dataclass(frozen=True)
class End:
    """Squaring a sawn end with the side of an end mill; the second one brings it to length."""

    moves: ClassVar[frozenset[str]] = frozenset({"traverse"})
    face: Face
    second: bool


@dataclass(frozen=True)
class FiledEnd:
    """Filing a sawn end square; the second one brings it to length. leaves: of the length [mm]."""

    moves: ClassVar[frozenset[str]] = frozenset({"file square"})
    face: Face
    second: bool
    leaves: float


@dataclass(frozen=True)
class Sink:
    """Plunging a round tool at `at` (points on the entry face, part frame).

    face: where the tool enters; the entry itself, that of `at`, may lie on a floor below it. depth:
    of the full diameter below the entry [mm]; through: on out of the far side. step: "spot",
    "drill", "ream", "tap", "countersink", "counterbore", "bore", "flat". hole: diameter already
    there [mm]; size: diameter made. bottom: that a spot must not reach, below the entry [mm].
    """

    moves: ClassVar[frozenset[str]] = frozenset({"plunge"})
    face: Face
    at: tuple[Vec, ...]
    step: str
    depth: float
    through: bool
    size: float
    hole: float = 0.0
    angle: float = 180.0
    bottom: float = inf

    def clears(self, point: Vec) -> bool:
        """Does the tool take away the metal at a point of the part's frame?"""
        deep, aside = self._from_axis(point)
        return aside < self.size / 2 and (self.through or 0 <= deep <= self.depth)

    def air(self, top: Vec, up: Face) -> float:
        """How deep the tool has left nothing under a point of the face `up` [mm]; 0 beside it."""
        below, aside = self._from_axis(top)
        if aside >= self.size / 2 or up.axis != self.face.axis:
            return 0.0
        return inf if self.through else self.depth - below if up is self.face else 0.0

    def room(self, point: Vec, axis: Vec) -> float:
        """From the axis of another hole to its wall [mm]; infinite where that does not start in it.

        axis: the other's direction, along which its floor lies.
        """
        aside = self._from_axis(point)[1]
        along = abs(axis[self.face.axis]) > 0.9
        return self.size / 2 - aside if along and aside < self.size / 2 else inf

    def _from_axis(self, point: Vec) -> tuple[float, float]:
        """How deep below the entry a point lies, and how far from the nearest axis [mm]."""
        axis, sign = self.face.axis, self.face.sign
        i, j = (axis + 1) % 3, (axis + 2) % 3
        x, y = point[i], point[j]
        aside, depth = min((hypot(x - p[i], y - p[j]), p[axis]) for p in self.at)
        return (depth - point[axis]) * sign, aside


@dataclass(frozen=True)
class Bevel:
    """A 45 degree bevel along an edge, by a 90 degree cone cutter running beside it."""

    moves: ClassVar[frozenset[str]] = frozenset({"traverse"})
    cut: EdgeCut


@dataclass(frozen=True)
class Line:
    """Work sawn and filed to a marked-out line.

    leave: sawn only, so far outside the line [mm]. most: milled near the line before, so that no
    more than this is left to file [mm]; 0: no matter. gone: faces that other features take, as a
    ridge does, from which an outline is not marked out.
    """

    cut: ProfileCut | EdgeCut | FlushCut
    leave: float = 0.0
    most: float = 0.0
    gone: frozenset[Face] = frozenset()

    @property
    def moves(self) -> frozenset[str]:
        """The moves that it is made by."""
        return frozenset({"file level" if isinstance(self.cut, FlushCut) else "shape"})


@dataclass(frozen=True)
class Bore:
    """A hole right through the part: where it comes out (part frame), its diameter, and how wide
    its mouth is on either face [mm]."""

    at: Vec
    size: float
    mouths: tuple[tuple[Face, float], ...]

    def mouth(self, face: Face) -> float:
        """The diameter of its mouth on a face [mm]."""
        return dict(self.mouths).get(face, self.size)


@dataclass(frozen=True)
class Contour:
    """An outline by the side of an end mill, the work screwed down through some of its `bores`."""

    moves: ClassVar[frozenset[str]] = frozenset({"traverse", "plunge"})
    cut: ProfileCut
    bores: tuple[Bore, ...]


class Opened(Protocol):
    """A cut that leaves nothing over a floor on which a hole may start."""

    def air(self, top: Vec, up: Face) -> float:
        """How deep there is nothing under a point of the face `up` [mm]; 0 beside it."""


Job = Level | End | FiledEnd | Sink | Bevel | Line | Contour


@dataclass(frozen=True)
class Task:
    """One tool doing one thing to one part. after: ids of tasks that come first, each with the
    reason.

    cleared: cuts done before, and hollows of what is joined, on whose floors a hole may start.
    cut: which of its feature's cuts it makes, from 1, where there are several. to_size: it brings
    the work to the drawing's length, width or height. by_hand: the same done by hand, where no way
    of holding the work at a machine will do.
    """

    id: str
    part: Part
    feature: str
    does: Process
    job: Job
    tools: tuple[Tool, ...]
    poses: tuple[Pose, ...]
    after: dict[str, Reason] = field(default_factory=dict)
    checks: tuple[Check, ...] = ()
    why: tuple[Reason, ...] = ()
    cleared: tuple[Opened, ...] = ()
    cut: int = 0
    to_size: bool = False
    by_hand: Task | None = None

    def __hash__(self) -> int:
        return hash(self.id)

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Why it comes after others, each reason with the id of the other."""
        return tuple(why.model_copy(update={"after": first}) for first, why in self.after.items())

    @property
    def face(self) -> Face | None:
        """The face or end of the work that it makes, where it makes one."""
        job = self.job
        if isinstance(job, End | FiledEnd):
            return job.face
        if isinstance(job, Level) and self.does is Process.FACE:
            return job.cut.face
        return job.cut.face if isinstance(job, Line) and isinstance(job.cut, FlushCut) else None

    def by_the_side(self, up: Face) -> bool:
        """Is it done by a cutter's side, from top to bottom of work with that face up?"""
        if isinstance(self.job, End):
            return up.axis != self.job.face.axis
        return isinstance(self.job, Facing) and up is not self.job.cut.face

    @property
    def named(self) -> str:
        """The words for what is done to what, for the sentence of a refusal."""
        if self.does is Process.FACE:
            return f"mill the {self.face} face"
        if self.does is Process.SQUARE:
            return f"square the {self.face} end"
        return numbered(f"{self.does} {self.feature}", self.cut)


class UnheldError(UnplannableError):
    """Raised for tasks for which the work, as large as it is when their turn comes, cannot be held
    in the pose chosen for them.
    """

    def __init__(self, why: str, pose: Pose, tasks: Sequence[Task]) -> None:
        super().__init__(why, tasks[0].part.name, tasks[0].named)
        self.pose, self.tasks = pose, frozenset(t.id for t in tasks)
        self.features = tuple(dict.fromkeys(t.feature for t in tasks))

    def otherwise(self, tasks: Sequence[Task]) -> tuple[Task, ...]:
        """The tasks once more, those in question without that pose."""
        return tuple(
            replace(t, poses=tuple(p for p in t.poses if p != self.pose))
            if t.id in self.tasks
            else t
            for t in tasks
        )


def numbered(step: str, nth: int) -> str:
    """The name of a step where it is the nth of several alike; 0: the only one."""
    return f"{step} {nth}" if nth else step


def sawing_id(part: Part) -> str:
    """The name of the sawing of a part's pieces from their bar."""
    return task_id(part, sawing_name([feature.name for feature in part.features]), "off")


def task_id(part: Part, feature: str, step: str) -> str:
    """The name of a task, unique in the route."""
    return f"{part.name}/{feature}/{step}"
