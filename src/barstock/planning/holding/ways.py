"""The ways of holding work that there are, and which of them the tasks of a part are offered.

A way is found by its module's `WAY`, so that a new way is a new file here and nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from importlib import import_module
from math import atan2, degrees
from pkgutil import iter_modules

from barstock.drawing.build import Face, Part, Vec
from barstock.errors import UnplannableError, concerning
from barstock.planning import holding
from barstock.planning.holding.barred import (
    Barred,
    lying_otherwise,
    refusal_of,
    without_barred,
)
from barstock.planning.holding.way import Need, Way, hold, way_of
from barstock.planning.holding.work_box import box_of
from barstock.planning.tasks.pose import Pose, face_towards
from barstock.planning.tasks.regripping import MOST_GRIPS, grip_by_grip, in_grips
from barstock.planning.tasks.task import Contour, Facing, Line, Task
from barstock.planning.tasks.tooling import ToolChest
from barstock.planning.values import Zeros, cut
from barstock.planning.values.setup_givens import SetupGivens
from barstock.route import Process
from barstock.stocking.bar_choice import Lengths, Stock
from barstock.workshop.shop import Workshop


def _ways() -> dict[str, type[Way]]:
    names = (f"{holding.__name__}.{found.name}" for found in iter_modules(holding.__path__))
    modules = (import_module(name) for name in names if name != __name__)
    ways: list[type[Way]] = [module.WAY for module in modules if hasattr(module, "WAY")]
    return {way.name: way for way in ways}


WAYS: dict[str, type[Way]] = _ways()


def usual(need: Need, up: Face) -> Way:
    """The way that is first thought of for work lying so."""
    return next(way for cls in WAYS.values() if (way := cls.usual(need, up)) is not None)


def poses_for(normal: Vec, across: Vec | None, stage: str, need: Need = Need.CUT) -> list[Pose]:
    """Poses that bring `normal` straight up, held as is first thought of.

    across: for a leaning floor, the level direction the work is tilted about; it must be square to
    the jaws. For a straight floor every jaw direction is offered.
    """
    up = face_towards(normal)
    way = usual(need, up)
    if across is None:
        return [Pose(stage, up, jaw, way) for jaw in Face if jaw.axis != up.axis]
    found = []
    for jaw in (face_towards(across), face_towards(across).opposite):
        level = Pose(stage, up, jaw, way).turn(normal)
        tilt = degrees(atan2(level[0], level[2]))
        found.append(Pose(stage, up, jaw, way, round(tilt, 9)))
    return found


def offered(
    tasks: Sequence[Task],
    givens: SetupGivens,
    stock: Stock,
    lengths: Lengths,
    barred: Sequence[Barred] = (),
) -> list[Task]:
    """The tasks with every pose in which the work can be held for them, but for those barred.

    Raises UnplannableError where there is none.
    """
    otherwise = [lying_otherwise(t, barred) for t in tasks]
    arranged = (cls.arranged(otherwise, givens, stock, lengths) for cls in WAYS.values())
    found = next((all_ for all_ in arranged if all_ is not None), None)
    found = _with_others(tasks, givens, stock, lengths, barred) if found is None else found
    shop = givens.workshop
    besides = {t.id: [p for c in WAYS.values() for p in c.besides(t, shop)] for t in found}
    every = [replace(t, poses=(*t.poses, *besides[t.id])) for t in found]
    return [without_barred(t, barred, shop) for t in every]


def _with_others(
    tasks: Sequence[Task],
    givens: SetupGivens,
    stock: Stock,
    lengths: Lengths,
    barred: Sequence[Barred],
) -> list[Task]:
    """The tasks as they are where the work is held for each as is first thought of; else, without
    the poses in which it is not, and with those held in other ways. Raises UnplannableError where
    neither will do."""
    shop, part = givens.workshop, givens.part

    def trouble(pose: Pose, task: Task) -> str:
        refused = refusal_of(task, pose, barred)
        return refused or _trouble(pose, task, givens, stock, lengths)

    milled = [t for t in tasks if not isinstance(t.job, Line | Contour)]
    found = {t.id: [p for p in t.poses if not trouble(p, t)] for t in milled}
    loose = {
        t.id: [p for p in found[t.id] if way_of(p).loose(p, part, shop) and instead(p, part, shop)]
        for t in milled
    }
    if all(found.values()) and not any(loose.values()):
        return list(tasks)
    made: dict[str, Sequence[Task]] = {}
    for task in milled:
        troubles = {p: trouble(p, task) for pose in task.poses for p in instead(pose, part, shop)}
        good = [pose for pose, told in troubles.items() if not told]
        firm = [p for p in found[task.id] if not good or p not in loose[task.id]]
        found[task.id] = firm + good
        if not found[task.id] and isinstance(task.job, Facing):
            other = _on_another_face(task, shop)
            troubles |= {
                p: trouble(p, other) for pose in other.poses for p in instead(pose, part, shop)
            }
            good = [p for p, told in troubles.items() if not told]
            made[task.id] = [replace(other, poses=tuple(good))] * bool(good)
        if not found[task.id] and not made.get(task.id):
            every = [p for pose in task.poses for p in (pose, *instead(pose, part, shop))]
            for count in range(2, MOST_GRIPS + 1):
                each = in_grips(task, count)
                held = [
                    replace(t, poses=tuple(p for p in every if not trouble(p, t))) for t in each
                ]
                if held and all(t.poses for t in held):
                    made[task.id] = grip_by_grip(held, made)
                    break
        if not found[task.id] and not made.get(task.id) and task.by_hand is not None:
            made[task.id] = [task.by_hand]
        if not found[task.id] and not made.get(task.id):
            told = [trouble(p, task) for p in task.poses[:1]]
            for name in dict.fromkeys(way_of(pose).name for pose in troubles):
                met = [met for pose, met in troubles.items() if way_of(pose).name == name]
                told.append(f"nor by {name}: {'; '.join(dict.fromkeys(met))}")
            if task.does is Process.FACE:
                told.append("take bar that has this size as bought")
            elif stock.to_face:
                told.append(
                    f"it would be sawn from bar {stock.bar.name}: put a smaller one on the rack, "
                    "or name another under 'bar'"
                )
            lacks = (cls.lacking(p, shop) for p in task.poses[:1] for cls in WAYS.values())
            told += [lacking for lacking in lacks if lacking]
            with concerning(task.feature):
                raise UnplannableError("; ".join(told), part.name, task.named)
    return [
        one
        for t in tasks
        for one in made.get(t.id) or [replace(t, poses=tuple(found.get(t.id, t.poses)))]
    ]


def instead(pose: Pose, part: Part, shop: Workshop) -> list[Pose]:
    """Work lying as in a pose, held in other ways than are first thought of."""
    return [
        replace(pose, way=way) for cls in WAYS.values() for way in cls.instead(pose, part, shop)
    ]


def _on_another_face(task: Task, shop: Workshop) -> Task:
    """A facing as the side of a cutter does it, the face to the front; of the two sides that may
    then be up, the one that leaves the work's left end at the left."""
    assert isinstance(task.job, Facing)
    face, left, size = task.job.cut.face, task.poses[0].left, task.part.size
    ups = [up for up in Face if up.axis not in (0, face.axis)]
    poses = [
        p
        for up in ups
        for p in poses_for(up.normal, None, "piece")
        if p.fixed_jaw is face.opposite and p.left is left
    ]
    mills = ToolChest(shop).side_mill(size[ups[0].axis])
    return replace(task, poses=tuple(poses), tools=mills or task.tools)


def _trouble(pose: Pose, task: Task, givens: SetupGivens, stock: Stock, lengths: Lengths) -> str:
    """Why the work cannot be held so for a task; "" where it can."""
    box, way = box_of(pose, task, givens.part, stock, lengths), way_of(pose)
    try:
        grip = hold(pose, box, [task], givens.workshop)
    except UnplannableError as reason:
        return str(reason)
    if not way.obstructs:
        return ""
    lie = way.lie(pose, box, grip)
    (low, high), met = lie.extent, "no cutter is long enough"
    zeros = Zeros(0.0, 0.0, high[2])
    for tool in task.tools:
        if task.by_the_side(pose.up) and tool.flute < high[2] - low[2] + 1.0:
            continue
        values = cut(task, tool, lie, zeros, givens.at(way.machine).dial)
        met = way.in_the_way(values, tool, lie, zeros, givens.workshop)
        if not met:
            return ""
    return met
