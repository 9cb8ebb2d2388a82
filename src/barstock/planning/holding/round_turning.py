"""How round work is turned in its V-block, so that one cut lies true to another."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.drawing.build import Face
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Level, Sink, Task
from barstock.route import Step


def turned_to(pose: Pose, group: Sequence[Task], done: Sequence[Task]) -> list[Step]:
    """How the work is turned in the V so that what is cut now lies true to what was cut before."""
    here = {t.feature for t in group}
    seen = [(t, face) for t in reversed(done) if (face := _side(t)) and t.feature not in here]
    if not seen or not any(_marks(t) for t in group):
        return []
    before, face = seen[0]
    looks = {
        pose.up: "up",
        pose.up.opposite: "down",
        pose.fixed_jaw: "to the back",
        pose.fixed_jaw.opposite: "to the front",
        pose.right: "to the right",
        pose.left: "to the left",
    }[face]
    by = "a straight edge laid in it" if isinstance(before.job, Level) else "a pin put through it"
    words = (
        f"Turn the work in the V until {before.feature} looks {looks}, true by {by} and a square"
    )
    return [Step(words=words)]


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
