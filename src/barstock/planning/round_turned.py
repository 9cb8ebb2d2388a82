"""How round work is turned in its V-block, so that one cut lies true to another."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.planning.poses import Pose
from barstock.planning.route import Step
from barstock.planning.tasks import Level, Sink, Task


def turned_to(pose: Pose, group: Sequence[Task], done: Sequence[Task]) -> list[Step]:
    """How the work is turned in the V so that what is cut now lies true to what was cut before."""
    before = next((t for t in reversed(done) if _marks(t) and t.feature != group[0].feature), None)
    if before is None or not any(_marks(t) for t in group):
        return []
    face = before.job.cut.face if isinstance(before.job, Level) else before.job.face  # type: ignore[union-attr]
    looks = {
        pose.up: "up",
        pose.up.opposite: "down",
        pose.fixed_jaw: "to the back",
        pose.fixed_jaw.opposite: "to the front",
        pose.right: "to the right",
        pose.left: "to the left",
    }[face]
    by = "a square on it" if isinstance(before.job, Level) else "a pin in it and a square"
    words = f"Turn the work in the V until {before.feature} looks {looks}, true by {by}; then clamp"
    return [Step(words=words)]


def _marks(task: Task) -> bool:
    """Does a cut tell one way round from another?"""
    if isinstance(task.job, Level):
        return True
    middle = task.part.size[1] / 2
    return isinstance(task.job, Sink) and (
        task.job.face.axis != 0
        or any(abs(p[1] - middle) + abs(p[2] - middle) > 1e-6 for p in task.job.at)
    )
