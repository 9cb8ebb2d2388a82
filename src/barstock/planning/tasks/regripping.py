"""A task on work too long for one grip, in several: what is near the left end first, and so on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from barstock.drawing.dimension_runs import CheckSort
from barstock.planning.tasks.task import Facing, Sink, Task
from barstock.route.statements import ReasonKind, because

MOST_GRIPS = 3  # about the left end, the middle and the right end
FACED = 2  # grips in which a face is milled: about the middle it would be cut past both jaws' ends


def in_grips(task: Task, count: int) -> tuple[Task, ...]:
    """The task for each of so many equal lengths of the work, the last under its own id; nothing of
    what is not done so. Sizes are checked in each grip, places when all are there.
    """
    jobs = _jobs(task.job, task.part.size[0], count)
    found: list[Task] = []
    for n, job in enumerate(jobs, 1):
        after = task.after
        if found:
            after = {**after, found[-1].id: because(ReasonKind.STEP_BEFORE)}
        if n == len(jobs):
            found.append(replace(task, job=job, after=after))
            continue
        sizes = () if isinstance(job, Facing) else task.checks
        checks = tuple(c for c in sizes if c.sort is not CheckSort.POSITION)
        found.append(
            replace(task, id=f"{task.id} {n}", job=job, after=after, checks=checks, to_size=False)
        )
    return tuple(found) if len(found) > 1 else ()


def grip_by_grip(tasks: Sequence[Task], made: Mapping[str, Sequence[Task]]) -> list[Task]:
    """A task in several grips, in each of them after those before it as they are done there.

    made: the tasks that are done in several, by the id of the whole.
    """
    found = []
    for n, task in enumerate(tasks):
        alike = {
            first: made[first][n].id if len(made.get(first, ())) == len(tasks) else first
            for first in task.after
        }
        found.append(replace(task, after={alike[first]: why for first, why in task.after.items()}))
    return found


def _jobs(job: object, length: float, count: int) -> Sequence[Facing | Sink]:
    each = length / count
    if isinstance(job, Facing) and count == FACED:
        x, y, z = job.cut.origin
        cuts = [
            replace(job.cut, origin=(x + n * each, y, z), run_length=each, checks=())
            for n in range(count)
        ]
        cuts[-1] = replace(cuts[-1], checks=job.cut.checks)
        return [replace(job, cut=cut, part_way=n < count) for n, cut in enumerate(cuts, 1)]
    if isinstance(job, Sink) and job.face.axis != 0:
        there = [
            tuple(p for p in job.at if min(int(p[0] / each), count - 1) == n) for n in range(count)
        ]
        return [replace(job, at=at) for at in there if at]
    return ()
