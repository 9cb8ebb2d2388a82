"""Holes on one axis: the smaller one is drilled first and leads the larger, which needs no spot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

from barstock.drawing.build import Vec
from barstock.planning.tasks.pose import plus
from barstock.planning.tasks.task import JUST_IN, Sink, Task
from barstock.route.statements import Reason, ReasonKind, because

TRUE = 0.02  # two axes this near are one [mm]
SAME = 0.01  # a tool no larger than the hole by this cuts nothing in it [mm]
POINT = 0.3  # of its diameter that a drill's point is high; elementary geometry
BORE = ("drill", "ream", "tap", "bore", "flat")  # the steps that make the hole itself
ROUGH = ("drill", "bore")  # the steps after which it may lead another
DROPPED = (
    "spot",
    "drill",
    "flat",
    "bore",
)  # the steps that another hole may leave nothing to do for


def led(tasks: Sequence[Task]) -> list[Task]:
    """The tasks without those that would cut nothing where another hole lies on the same axis.

    A hole all the way through which a smaller one goes comes after that and is led by it: it is not
    spotted. Nor is one that starts in the point of a larger: that leads it.
    """
    first = {t.id: _before(t, tasks) for t in tasks}
    gone = {t.id: t for t in tasks if first[t.id] and _idle(t, tasks)}
    found = []
    for task in tasks:
        if task.id in gone:
            continue
        checks, after = task.checks, dict(task.after) | first[task.id]
        while idle := [name for name in after if name in gone]:
            for name in idle:
                del after[name]
                after |= gone[name].after | first[name]
                checks = (*gone[name].checks, *checks)
        found.append(replace(task, checks=checks, after=after))
    return found


def _before(task: Task, tasks: Sequence[Task]) -> dict[str, Reason]:
    """The tasks that open the holes which lead this one, each with the reason."""
    leading = {o.feature for o in tasks if _leads(o, task, tasks)}
    pointed = {o.feature for o in tasks if _points_at(o, task)} - leading
    opening = [t for t in tasks if isinstance(t.job, Sink) and t.job.step in ("spot", *ROUGH)]
    return {
        t.id: because(kind)
        for features, kind in (
            (leading, ReasonKind.HOLE_LEADS),
            (pointed, ReasonKind.POINT_LEADS),
        )
        for t in opening
        if t.feature in features
    }


def _idle(task: Task, tasks: Sequence[Task]) -> bool:
    """Would a task cut nothing, once what leads it is there?"""
    job = task.job
    if not isinstance(job, Sink) or job.step not in DROPPED:
        return False
    leading = [o.job.size for o in tasks if isinstance(o.job, Sink) and _leads(o, task, tasks)]
    return job.step == "spot" or job.size <= max(leading, default=0.0) + SAME


def _leads(o: Task, task: Task, tasks: Sequence[Task]) -> bool:
    """Does a smaller hole, as it is drilled or bored, go all the way down the axis of another?"""
    drill, job = o.job, task.job
    if not isinstance(drill, Sink) or not isinstance(job, Sink) or drill.step not in ROUGH:
        return False
    if o.feature == task.feature or drill.face.axis != job.face.axis:
        return False
    if _whole(o, tasks) >= _whole(task, tasks) - SAME:
        return False
    deep = task.part.size[job.face.axis] if job.bottom == inf else job.bottom
    return all(
        _on_axis(drill, p) and drill.clears(plus(p, job.face.normal, -by))
        for p in job.at
        for by in (JUST_IN, deep - JUST_IN)
    )


def _whole(task: Task, tasks: Sequence[Task]) -> float:
    """The diameter of the hole that a task is a step of [mm]."""
    return max(
        (
            t.job.size
            for t in tasks
            if t.feature == task.feature
            and isinstance(t.job, Sink)
            and isinstance(task.job, Sink)
            and t.job.at == task.job.at
            and t.job.step in BORE
        ),
        default=0.0,
    )


def _points_at(o: Task, task: Task) -> bool:
    """Does the point of a larger blind drill end on the axis of a hole that starts there?"""
    drill, job = o.job, task.job
    if not isinstance(drill, Sink) or drill.step != "drill" or drill.through:
        return False
    if not isinstance(job, Sink) or job.step != "spot" or o.feature == task.feature:
        return False
    return drill.face is job.face and all(
        _on_axis(drill, p) and -POINT * drill.size < drill.air(p, job.face) < JUST_IN
        for p in job.at
    )


def _on_axis(drill: Sink, p: Vec) -> bool:
    i, j = (n for n in range(3) if n != drill.face.axis)
    return any(abs(p[i] - q[i]) < TRUE and abs(p[j] - q[j]) < TRUE for q in drill.at)
