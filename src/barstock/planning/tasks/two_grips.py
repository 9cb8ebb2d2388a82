"""A task on work too long for one grip, in two: its left half is done, then its right."""

from __future__ import annotations

from dataclasses import replace

from barstock.planning.tasks.task import Facing, Sink, Task
from barstock.route.statements import ReasonKind, because


def in_two_grips(task: Task) -> tuple[Task, Task] | None:
    """Both halves of a task, the second under its own id; None of what is not done in two."""
    jobs = _halves(task.job, task.part.size[0])
    if jobs is None:
        return None
    first = replace(task, id=f"{task.id} 1", job=jobs[0], checks=(), to_size=False)
    after = {**task.after, first.id: because(ReasonKind.STEP_BEFORE)}
    return first, replace(task, job=jobs[1], after=after)


def _halves(job: object, length: float) -> tuple[Facing, Facing] | tuple[Sink, Sink] | None:
    if isinstance(job, Facing):
        half, cut = length / 2, job.cut
        x, y, z = cut.origin
        left = replace(cut, run_length=half, checks=())
        right = replace(cut, origin=(x + half, y, z), run_length=half)
        return replace(job, cut=left, part_way=True), replace(job, cut=right)
    if isinstance(job, Sink) and job.face.axis != 0:
        left_ones = tuple(p for p in job.at if p[0] <= length / 2)
        right_ones = tuple(p for p in job.at if p[0] > length / 2)
        if left_ones and right_ones:
            return replace(job, at=left_ones), replace(job, at=right_ones)
    return None
