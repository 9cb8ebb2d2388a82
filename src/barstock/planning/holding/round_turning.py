"""How round work is turned in its V-block, so that one cut lies true to another."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import Face
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Level, Sink, Task
from barstock.route import Turned
from barstock.route.holdings import Towards


def turned_to(pose: Pose, group: Sequence[Task], done: Sequence[Task]) -> Turned | None:
    """How the work is turned in the V so that what is cut now lies true to what was cut before."""
    here = {t.feature for t in group}
    seen = [(t, face) for t in reversed(done) if (face := _side(t)) and t.feature not in here]
    if not seen or not any(_marks(t) for t in group):
        return None
    before, face = seen[0]
    looks: dict[Face, Towards] = {
        pose.up: "up",
        pose.up.opposite: "down",
        pose.fixed_jaw: "back",
        pose.fixed_jaw.opposite: "front",
        pose.right: "right",
        pose.left: "left",
    }
    flat = isinstance(before.job, Level)
    return Turned(feature=before.feature, looks=looks[face], flat=flat)


def _side(task: Task) -> Face | None:
    """The side of the round that a cut was made from, where there is one to turn the work by."""
    job = task.job
    face = job.cut.face if isinstance(job, Level) else job.face if isinstance(job, Sink) else None
    return face if face and face.axis != 0 else None


def _marks(task: Task) -> bool:
    """Must the work be turned for a cut as it was for others? Not for one about its axis."""
    job = task.job
    if not isinstance(job, Sink):
        return isinstance(job, Level)
    middle = task.part.size[1] / 2
    return job.face.axis != 0 or any(abs(p[1] - middle) + abs(p[2] - middle) > 1e-6 for p in job.at)
