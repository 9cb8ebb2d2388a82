"""Holes start on the floors that other cuts leave, or before those cuts leave nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf, radians, tan

from barstock.drawing.build import Vec
from barstock.errors import UnplannableError, concerning
from barstock.methods.cuts import LevelCut
from barstock.planning.tasks.pose import Pose, plus
from barstock.planning.tasks.task import JUST_IN, Level, Sink, Task
from barstock.planning.tasks.tooling import ToolChest
from barstock.route import Process
from barstock.route.statements import Reason, ReasonKind, because
from barstock.workshop.shop import Tool

HOLE = ("drill", "flat", "bore", "ream", "tap")  # the steps that make the hole itself
WALL = 0.1  # that a spotting drill keeps from the walls beside it [mm]; common practice
OPENING = ("drill", "flat", "bore", "ream", "counterbore")  # what leaves a floor for another hole


def start_on_floors(tasks: Sequence[Task], chest: ToolChest) -> list[Task]:
    """Where another cut takes away the metal a hole starts in, cut that first, start on its floor.

    The spotting drill and the countersink must then clear the walls beside that floor. Where that
    floor lies below the hole's own bottom, the hole comes first, while there is metal to guide its
    drill.
    Raises UnplannableError where there is nothing to drill, countersink or counterbore.
    """
    sizes = _sizes(tasks)
    found, later = [], dict[str, dict[str, Reason]]()
    for task in tasks:
        job = task.job
        if not isinstance(job, Sink):
            for o in tasks:
                if _covers(o, task) and not _covers(task, o) and o.id not in task.after:
                    later.setdefault(o.id, {})[task.id] = because(ReasonKind.NOTHING_TO_CUT)
            found.append(task)
            continue
        floors = [o for o in tasks if _under(o, task, sizes, task.poses)]
        below = [o for o in floors if _swallows(o, job) or _too_tight(o, job, chest)]
        for o in below:
            later.setdefault(o.id, {})[task.id] = because(ReasonKind.NOTHING_TO_GUIDE)
        floors = [o for o in floors if o not in below and not _led_by(o, task, tasks)]
        cleared = tuple(cut for o in floors if (cut := _opened(o)) is not None)
        with concerning(task.feature):
            _in_metal(task, job, floors)
        tools = task.tools
        if cleared and job.step in ("spot", "countersink"):
            room = 2 * min(c.room(p, job.face.normal) for c in cleared for p in job.at)
            entries = _entries(task, [p for p in task.poses if p.up is job.face])
            deep = max((c.air(p, job.face) for c in cleared for p in entries), default=0.0)
            with concerning(task.feature):
                tools = (_beside_walls(task.tools[0], job, room, deep, chest),)
        after = task.after | {o.id: because(ReasonKind.FLOOR) for o in floors}
        found.append(replace(task, after=after, cleared=(*task.cleared, *cleared), tools=tools))
    return [replace(t, after=t.after | later.get(t.id, {})) for t in found]


def _beside_walls(tool: Tool, job: Sink, room: float, deep: float, chest: ToolChest) -> Tool:
    """The spotting drill or countersink that goes down between walls so far apart and so high
    [mm]."""
    if job.step == "spot":
        return chest.spot(room - WALL, deep + job.depth)
    over = job.size + 2 * deep * tan(radians(tool.point / 2))
    return (
        tool if min(tool.diameter, over) <= room else chest.countersink(tool.point, job.size, room)
    )


def from_whole_faces(tasks: Sequence[Task]) -> list[Task]:
    """The through holes without the poses that start them where another cut was made, if any."""
    sizes, kept = _sizes(tasks), []
    for task in tasks:
        whole = tuple(p for p in task.poses if not any(_under(o, task, sizes, (p,)) for o in tasks))
        through = isinstance(task.job, Sink) and task.job.bottom == inf
        kept.append(replace(task, poses=whole) if through and whole else task)
    return kept


def _sizes(tasks: Sequence[Task]) -> dict[str, float]:
    """The widest drill, reamer, tap or cutter that goes down each feature's holes [mm]."""
    wide: dict[str, float] = {}
    for t in tasks:
        if isinstance(t.job, Sink) and t.job.step in ("drill", "flat", "bore", "ream", "tap"):
            wide[t.feature] = max(wide.get(t.feature, 0.0), t.job.size)
    return wide


def _opened(task: Task) -> LevelCut | Sink | None:
    """The cut of a task that may leave a floor."""
    if isinstance(task.job, Level):
        return task.job.cut
    return task.job if isinstance(task.job, Sink) and task.job.step in OPENING else None


def _under(o: Task, task: Task, sizes: dict[str, float], poses: Sequence[Pose]) -> bool:
    """Does another feature's cut take away the metal in which a hole would start?"""
    cut = _opened(o)
    if cut is None or o.feature == task.feature or o.does is Process.FACE:
        return False
    if isinstance(cut, Sink) and cut.size <= sizes.get(task.feature, 0.0) + 0.01:
        return False
    return any(cut.clears(p) for p in _entries(task, poses))


def _entries(task: Task, poses: Sequence[Pose]) -> list[Vec]:
    """Points just inside the metal where a hole would start, in any of the poses."""
    job = task.job
    if not isinstance(job, Sink):
        return []
    points = []
    for up in {p.up for p in poses}:
        for p in job.at:
            far = list(p)
            far[up.axis] = task.part.size[up.axis] if up.sign > 0 else 0.0
            points.append(plus((far[0], far[1], far[2]), up.normal, -JUST_IN))
    return points


def _swallows(o: Task, job: Sink) -> bool:
    """Does a level cut leave nothing on the axis of a blind hole down to its bottom?"""
    if not isinstance(o.job, Level) or job.bottom == inf:
        return False
    return all(o.job.cut.air(p, job.face) >= job.bottom - 0.01 for p in job.at)


def _too_tight(o: Task, job: Sink, chest: ToolChest) -> bool:
    """Does a wall that a level cut leaves stand so near a hole that no spotting drill goes down
    beside it? The hole is then drilled before."""
    cut = _opened(o)
    if not isinstance(cut, LevelCut):
        return False
    return 2 * min(cut.room(p, job.face.normal) for p in job.at) - WALL < chest.thinnest_spot


def _led_by(o: Task, task: Task, tasks: Sequence[Task]) -> bool:
    """Does a cut wait for a task, or for the hole that it is a step of?"""
    if not isinstance(task.job, Sink) or task.job.step not in HOLE:
        return task.id in o.after
    return any(t.id in o.after for t in tasks if t.feature == task.feature)


def _covers(o: Task, task: Task) -> bool:
    """Does one level cut take away all that another does?"""
    if not isinstance(o.job, Level) or not isinstance(task.job, Level) or o.id == task.id:
        return False
    if Process.FACE in (o.does, task.does):
        return False
    cut, corners = task.job.cut, []
    for a in (JUST_IN, cut.run_length - JUST_IN):
        for b in (JUST_IN, cut.across_length - JUST_IN):
            on_floor = plus(plus(cut.origin, cut.run, a), cut.across, b)
            corners.append(plus(on_floor, cut.normal, JUST_IN))
    other = o.job.cut
    inside = [tuple(min(max(n, 0.0), size) for n, size in zip(p, task.part.size, strict=True))
              for p in corners]  # fmt: skip
    return all(other.clears((x, y, z)) for x, y, z in inside)


def _in_metal(task: Task, job: Sink, floors: Sequence[Task]) -> None:
    """Raises UnplannableError for a mouth or a whole hole where a floor leaves no metal."""
    what, deep = "hole", task.part.size[job.face.axis]
    if job.step in ("countersink", "counterbore"):
        what, deep = job.step, job.depth
    for o in floors:
        cut = _opened(o)
        if cut is not None and any(cut.air(p, job.face) >= deep - 0.01 for p in job.at):
            raise UnplannableError(
                f"its {what} is counted from the {job.face} face, where {o.feature} leaves no "
                f"metal to cut it in; give it on the floor of {o.feature}, or move it",
                task.part.name,
                task.feature,
            )
