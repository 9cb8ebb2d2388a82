"""Parts that no vise holds for all that is cut on them: strapped down on the table besides, or
stood against an angle plate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.planning.holding.angle_plate import stood
from barstock.planning.holding.clear_of_straps import in_the_way
from barstock.planning.holding.hold import hold
from barstock.planning.holding.straps import lies_flat, springs, strapped
from barstock.planning.tasks.pose import Box, Pose, lay
from barstock.planning.tasks.task import Contour, End, Line, Task
from barstock.planning.values import Zeros, cut
from barstock.planning.values.at_hand import Bench
from barstock.route import Process
from barstock.stocking.bar_choice import Lengths, Stock
from barstock.workshop.shop import Workshop

SWAYS = 3.0  # times the jaws' depth that work may stand above them; common practice


def box_of(pose: Pose, task: Task, part: Part, stock: Stock, lengths: Lengths) -> Box:
    """The work's extremes for a task in a pose, as far as they are known before all is in order."""
    if pose.stage == "bar":
        return ((0.0, stock.y[0], stock.z[0]), (lengths.length, stock.y[1], stock.z[1]))
    if isinstance(task.job, End):
        return ((0.0, stock.y[0], stock.z[0]), (part.size[0], stock.y[1], stock.z[1]))
    return ((0.0, 0.0, 0.0), part.size)


def with_straps(tasks: Sequence[Task], bench: Bench, stock: Stock, lengths: Lengths) -> list[Task]:
    """The tasks as they are where a vise holds the work for each; else, without the poses no vise
    holds, and with those strapped down. Raises UnplannableError where neither will do."""

    def trouble(pose: Pose, task: Task) -> str:
        """Why the work cannot be held so for a task; "" where it can."""
        box = box_of(pose, task, bench.part, stock, lengths)
        try:
            grip = hold(pose, box, [task], bench.workshop)
        except UnplannableError as reason:
            return str(reason)
        if not pose.straps:
            return ""
        lie = lay(pose, box, grip.packing)
        zeros, met = Zeros(0.0, 0.0, lie.extent[1][2]), "no cutter is long enough"
        for tool in task.tools:
            if (
                isinstance(task.job, End)
                and pose.up.axis != 0
                and tool.flute < lie.extent[1][2] - grip.packing + 1.0
            ):
                continue
            values = cut(task, tool, lie, zeros, bench.dial)
            met = in_the_way(values, tool, lie, zeros, bench.workshop)
            if not met:
                return ""
        return met

    shop, part = bench.workshop, bench.part
    milled = [t for t in tasks if not isinstance(t.job, Line | Contour)]
    found = {t.id: [p for p in t.poses if not trouble(p, t)] for t in milled}
    loose = {
        t.id: [p for p in found[t.id] if _bows(p, part) or _sways(p, part, shop)] for t in milled
    }
    if all(found.values()) and not (shop.clamps and any(loose.values())):
        return list(tasks)
    for task in milled:
        ways = list(dict.fromkeys(w for p in task.poses for w in _besides(p, part, shop)))
        troubles = {way: trouble(way, task) for way in ways}
        good = [way for way in ways if not troubles[way]]
        firm = [p for p in found[task.id] if not good or p not in loose[task.id]]
        found[task.id] = firm + good
        if not found[task.id]:
            told = [trouble(p, task) for p in task.poses[:1]]
            if troubles:
                told.append(
                    f"nor by straps on the table: {'; '.join(dict.fromkeys(troubles.values()))}"
                )
            if task.does is Process.FACE:
                told.append("take bar that has this size as bought")
            elif stock.to_face:
                told.append(
                    f"it would be sawn from bar {stock.bar.name}: put a smaller one on the rack, "
                    "or name another under 'bar'"
                )
            if not shop.clamps:
                told.append("workshop.yaml lists no clamps, to strap it to the table")
            raise UnplannableError(f"part {part.name!r}, {task.named}: {'; '.join(told)}")
    return [replace(t, poses=tuple(found.get(t.id, t.poses))) for t in tasks]


def _besides(pose: Pose, part: Part, shop: Workshop) -> list[Pose]:
    """The same way up without a vise: flat on the table, or on end against the angle plate."""
    flat = strapped(pose, shop) if lies_flat(pose, part.size) else []
    return flat + (stood(pose, shop) if pose.up.axis == 0 else [])


def _sways(pose: Pose, part: Part, shop: Workshop) -> bool:
    """Does work on end stand so high above any vise's jaws that it would sway?"""
    jaws = max((v.jaw_depth for v in shop.vises), default=0.0)
    return pose.up.axis == 0 and part.size[0] - jaws > SWAYS * jaws and shop.angle_plate is not None


def _bows(pose: Pose, part: Part) -> bool:
    """Would jaws bow the work, so thin as it is for its width?"""
    whole = ((0.0, 0.0, 0.0), part.size)
    return pose.stage != "bar" and not pose.tilt and springs(lay(pose, whole, 0.0))
