"""Finds which metal a way of holding needs of the work, and which cuts take it away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Protocol

from barstock.drawing.build import Face, Vec
from barstock.handbook.holding_limits import SPRINGS
from barstock.planning.tasks.pose import Box, Lie
from barstock.planning.tasks.task import Bevel, Job, Level, Sink, Task

JAW_GONE = 0.65  # share of a jaw's grip that may be gone; common practice
REST_GONE = 0.55  # share of a face that may be gone from under the work; common practice
HOLLOW_GONE = 0.75  # or of one that is whole at its four corners; common practice
BARELY_GONE = 0.85  # of either between two jaws, where nothing holds it better; common practice


Losses = tuple[frozenset[Vec], frozenset[Vec], frozenset[Vec]]


class Needed(Protocol):
    """The metal that must be there for the work to be held."""

    def spoilt_by(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks which together would take away too much of it; none if enough is left."""

    def barely(self) -> Needed:
        """The least that would do where there is no better way."""


def removed_at(task: Task, point: Vec) -> bool:
    """Does the task take away the metal at a point of the part's frame?"""
    return _removes(task.job, task.part.size, point)


def _removes(job: Job, size: Vec, point: Vec) -> bool:
    if isinstance(job, Level):
        return job.cut.clears(point)
    if isinstance(job, Sink) and job.step in ("drill", "counterbore", "flat", "bore"):
        return job.clears(point)
    return isinstance(job, Bevel) and _in_bevel(job, point, size)


def gone(task: Task, points: tuple[Vec, ...]) -> frozenset[Vec]:
    """The points of the part's frame where a task takes away the metal."""
    return _gone(task.job, task.part.size, points)


@lru_cache(maxsize=1024)
def _gone(job: Job, size: Vec, points: tuple[Vec, ...]) -> frozenset[Vec]:
    """Remembered: the same few jobs are looked at in the same few poses, over and over."""
    return frozenset(p for p in points if _removes(job, size, p))


def _in_bevel(job: Bevel, point: Vec, size: Vec) -> bool:
    """Does a point lie in the corner that a bevel takes off?"""
    share = 0.0
    for face, leg in zip(reversed(job.cut.faces), job.cut.size, strict=True):
        edge = size[face.axis] if face.sign > 0 else 0.0
        share += (edge - point[face.axis]) * face.sign / leg
    return share < 1.0


def air(task: Task, top: Vec, up: Face) -> float:
    """How deep a task leaves nothing under a point of the face that is up [mm]."""
    job = task.job
    if isinstance(job, Level):
        return job.cut.air(top, up)
    return job.air(top, up) if isinstance(job, Sink) and job.step != "spot" else 0.0


def springs(lie: Lie) -> bool:
    """Is the work so thin for its width that it would spring under the cutter where it is hollow,
    or bow between a vise's jaws?"""
    low, high = lie.extent
    return min(high[i] - low[i] for i in (0, 1)) > SPRINGS * (high[2] - low[2])


def between(box: Box, axis: int, share: float) -> float:
    """The coordinate so far along a box, from 0 to 1."""
    return box[0][axis] + (box[1][axis] - box[0][axis]) * share


def side(box: Box, face: Face) -> float:
    """The coordinate of a face of a box."""
    return box[1][face.axis] if face.sign > 0 else box[0][face.axis]


@dataclass(frozen=True)
class Seat:
    """Points of the work that are pressed on, and that it rests on.

    corners: of the points it rests on. jaw_share: of a jaw's points that may be gone. levels: of a
    jaw's points, one above another at each place along it; 0 where no two jaws press against each
    other. least: share of the levels that must stay, where any does. rest_share: of the points it
    rests on that may be gone.
    """

    jaws: tuple[tuple[Vec, ...], tuple[Vec, ...]]
    rest: tuple[Vec, ...]
    corners: frozenset[Vec]
    jaw_share: float = JAW_GONE
    levels: int = 0
    least: float = 0.0
    rest_share: float = REST_GONE
    _losses: dict[str, tuple[Job, Losses]] = field(default_factory=dict, compare=False, repr=False)

    def barely(self) -> Seat:
        """The least height that two jaws must press on, whatever else is gone."""
        if not self.levels:
            return self
        return replace(self, jaw_share=BARELY_GONE, rest_share=BARELY_GONE)

    def spoilt_by(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks which together would take away too much of it; none if enough is left."""
        lost = {t.id: self._lost(t) for t in tasks}
        near = [t for t in tasks if any(lost[t.id])]
        guilty: list[Task] = []
        for n, (points, share) in enumerate(
            (
                (self.jaws[0], self.jaw_share),
                (self.jaws[1], self.jaw_share),
                (self.rest, self.rest_share),
            )
        ):
            away = frozenset[Vec]().union(*(lost[t.id][n] for t in near))
            if points is self.rest and not away & self.corners:
                share = max(share, HOLLOW_GONE)
            if len(away) > share * len(points):
                guilty += [t for t in near if lost[t.id][n] and t not in guilty]
        return guilty or self._aside(near)

    def _lost(self, task: Task) -> Losses:
        """What a task takes of the points of either jaw and of the rest, reckoned once: a seat may
        be another part's too, which has a task of that name.
        """
        known = self._losses.get(task.id)
        if known is None or known[0] is not task.job:
            first, second = self.jaws
            lost = gone(task, first), gone(task, second), gone(task, self.rest)
            known = self._losses[task.id] = (task.job, lost)
        return known[1]

    def _aside(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks that leave either jaw too little height, or not at heights where they meet."""
        if not self.levels:
            return []
        low, high, mean = 0, self.levels, float(self.levels)
        for n, points in enumerate(self.jaws):
            away = frozenset[Vec]().union(*(self._lost(t)[n] for t in tasks))
            left = [divmod(m, self.levels) for m, p in enumerate(points) if p not in away]
            levels = [level for _, level in left]
            low, high = max(low, min(levels)), min(high, max(levels) + 1)
            mean = min(mean, len(left) / len({place for place, _ in left}))
        if min(mean, high - low) >= self.least * self.levels - 1e-9:
            return []
        return [t for t in tasks if any(self._lost(t)[:2])]
