"""The order of a part's tasks: which pose and tool each is done in, and after what.

Maps the part to the sequencing core: a task is an operation, a pose a setup, and the stage between
them a price: from a piece back to the bar there is no way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from barstock.planning.holding import likely_grip, removed_at, spoils
from barstock.planning.poses import Box, Pose, plus
from barstock.planning.sequencing import Changeover, Choice, Operation, Problem, Solution, solve
from barstock.planning.tasks import Line, Sink, Task
from barstock.workshop.model import Holder, ShopTimes, Tool

START = "the start"
NO_WAY = 1e6  # minutes: more than any plan takes


@dataclass(frozen=True)
class Placed:
    """A task with the pose and the tool chosen for it."""

    task: Task
    pose: Pose
    tool: Tool


@dataclass(frozen=True)
class Order:
    """A part's tasks in order. bound, minutes: of the sequencing; proven: no quicker one exists."""

    placed: tuple[Placed, ...]
    minutes: float
    bound: float
    proven: bool


def tool_change(tool: Tool, times: ShopTimes) -> float:
    """Minutes to put a tool into the spindle, by what holds it."""
    return {
        Holder.COLLET: times.change_collet,
        Holder.CHUCK: times.change_chuck,
        Holder.ARBOR: times.change_arbor,
        Holder.HAND: times.change_chuck,
    }[tool.holder]


def keep_grips(tasks: Sequence[Task], box: Box) -> list[Task]:
    """Drop the poses that an earlier cut would spoil; where none would be left, cut that later."""
    by_id = {t.id: t for t in tasks}
    after: dict[str, dict[str, str]] = {t.id: dict(t.after) for t in tasks}
    kept: list[Task] = []

    def before(first: str, then: str, seen: frozenset[str] = frozenset()) -> bool:
        """Must `first` come before `then` already?"""
        return any(
            p == first or (p not in seen and before(first, p, seen | {p}))
            for p in after[then]
            if p in by_id
        )

    for task in tasks:
        if isinstance(task.job, Line):
            kept.append(task)
            continue
        spoilers: dict[Pose, list[Task]] = {}
        for pose in task.poses:
            if pose.stage == "bar":
                continue
            if _enters_air(task, pose, tasks):
                spoilers[pose] = [task]
                continue
            grip = likely_grip(task.part, pose)
            bad = [
                o
                for o in tasks
                if o.id != task.id
                and not isinstance(o.job, Line)
                and not before(task.id, o.id)
                and spoils(o, pose, box, grip)
            ]
            if bad:
                spoilers[pose] = bad
        good = tuple(p for p in task.poses if p not in spoilers)
        if good:
            kept.append(replace(task, poses=good))
            continue
        # Every pose would be spoilt: do this one first, in the pose that holds up fewest others.
        pose = min(spoilers, key=lambda p: len(spoilers[p]))
        for other in spoilers[pose]:
            if other.id != task.id and not before(other.id, task.id):
                after[other.id][task.id] = (
                    f"it takes away metal that {task.title} needs the jaws to hold"
                )
        kept.append(replace(task, poses=(pose,)))
    return [replace(t, after=after[t.id]) for t in kept]


def _enters_air(task: Task, pose: Pose, tasks: Sequence[Task]) -> bool:
    """Would a hole drilled from its far side start where another cut has left nothing?"""
    job = task.job
    if not isinstance(job, Sink) or pose.up is job.face:
        return False
    size, inward = task.part.size, pose.up.opposite.normal
    for p in job.at:
        far = list(p)
        far[pose.up.axis] = size[pose.up.axis] if pose.up.sign > 0 else 0.0
        point = plus((far[0], far[1], far[2]), inward, 0.05)
        if any(removed_at(o, point) for o in tasks if o.feature != task.feature):
            return True
    return False


def order_part(
    tasks: Sequence[Task],
    minutes: Mapping[tuple[str, str, str], float],
    loads: Mapping[str, float],
    times: ShopTimes,
    seconds: float,
) -> Order:
    """Put a part's tasks in their quickest order.

    minutes: by (task, pose, tool), for all copies; loads: minutes of loading every work once, by
    stage.
    """
    poses = {p.name: p for t in tasks for p in t.poses}
    tools = {tool.name: tool for t in tasks for tool in t.tools}
    by_id = {t.id: t for t in tasks}

    def set_up(before: str, to: str) -> float:
        pose = poses[to]
        if before in poses and pose.stage == "bar" and poses[before].stage == "piece":
            return NO_WAY
        cost = times.set_up + times.find_zero + loads[pose.stage]
        return cost + (times.tilt if pose.tilt else 0.0)

    names = [START, *poses]
    operations = {START: Operation(choices=(Choice("mill", START, START, 0.0),))}
    for t in tasks:
        machine = "bench" if isinstance(t.job, Line) else "mill"
        operations[t.id] = Operation(
            after=(START, *(a for a in t.after if a in by_id)),
            choices=tuple(
                Choice(machine, tool.name, p.name, minutes[t.id, p.name, tool.name])
                for p in t.poses
                for tool in t.tools
                if (t.id, p.name, tool.name) in minutes
            ),
        )
    problem = Problem(
        operations=operations,
        changeover=Changeover(
            tool={START: 0.0} | {n: tool_change(t, times) for n, t in tools.items()},
            setup={a: {b: set_up(a, b) for b in poses} for a in names},
        ),
    )
    solution: Solution = solve(problem, seconds=seconds)
    placed = tuple(
        Placed(by_id[c.operation], poses[c.setup], tools[c.tool])
        for c in solution.plan
        if c.operation != START
    )
    return Order(placed, solution.cost, solution.bound, solution.proven)
