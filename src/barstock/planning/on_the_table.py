"""Parts that no vise holds for all that is cut on them: strapped down on the table besides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from barstock.drawing.model import Part
from barstock.planning.beside_straps import in_the_way
from barstock.planning.holding import hold
from barstock.planning.poses import Box, Pose, lay
from barstock.planning.setups import Bench
from barstock.planning.strapping import lies_flat, springs, strapped
from barstock.planning.tasks import Contour, End, Line, Task, UnplannableError
from barstock.planning.working_values import Zeros, cut
from barstock.stocking.bars import Lengths, Stock


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
            hold(pose, box, [task], bench.workshop)
        except UnplannableError as reason:
            return str(reason)
        if not pose.straps:
            return ""
        lie = lay(pose, box, 0.0)
        zeros, met = Zeros(0.0, 0.0, lie.extent[1][2]), "no cutter is long enough"
        for tool in task.tools:
            if isinstance(task.job, End) and tool.flute < lie.extent[1][2] + 1.0:
                continue
            values = cut(task, tool, lie, zeros, bench.dial)
            met = in_the_way(values, tool, lie, zeros, bench.workshop)
            if not met:
                return ""
        return met

    shop, part = bench.workshop, bench.part
    milled = [t for t in tasks if not isinstance(t.job, Line | Contour)]
    found = {t.id: [p for p in t.poses if not trouble(p, t)] for t in milled}
    bowed = {t.id: [p for p in found[t.id] if _bows(p, part)] for t in milled if shop.clamps}
    if part.round or (all(found.values()) and not any(bowed.values())):
        return list(tasks)
    for task in milled:
        flat = [p for p in task.poses if lies_flat(p, part.size)]
        ways = list(dict.fromkeys(way for p in flat for way in strapped(p, shop)))
        troubles = {way: trouble(way, task) for way in ways}
        good = [way for way in ways if not troubles[way]]
        firm = [p for p in found[task.id] if not good or p not in bowed[task.id]]
        found[task.id] = firm + good
        if not found[task.id]:
            told = [trouble(p, task) for p in task.poses[:1]]
            if troubles:
                why = "; ".join(dict.fromkeys(troubles.values()))
                told.append(f"nor can it be strapped to the table: {why}")
            if not shop.clamps:
                told.append("workshop.yaml lists no clamps, to strap it to the table")
            raise UnplannableError(f"part {part.name!r}, {task.title}: {'; '.join(told)}")
    return [replace(t, poses=tuple(found.get(t.id, t.poses))) for t in tasks]


def _bows(pose: Pose, part: Part) -> bool:
    """Would jaws bow the work, so thin as it is for its width?"""
    whole = ((0.0, 0.0, 0.0), part.size)
    return pose.stage != "bar" and not pose.tilt and springs(lay(pose, whole, 0.0))
