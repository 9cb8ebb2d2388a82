"""The moves of round tools plunged: spot, drill, ream, tap, countersink, counterbore, bore."""

from __future__ import annotations

from barstock.drawing.build import Vec
from barstock.handbook.threads import BLUNT_LEAD, thread
from barstock.machines.dial import Dial
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Sink, Task
from barstock.planning.tasks.tooling import PAST, point_height
from barstock.planning.values.cutting import Cutting, Zeros
from barstock.route import Does, Plunge, Process
from barstock.workshop.shop import Tool

LEAST_LEFT = 0.1  # from a spot's tip to a flat hole's bottom [mm]; common practice


def tip_depth(job: Sink, tool: Tool, thickness: float) -> float:
    """The depth of the tool's tip below the hole's entry; of a through hole, below the face that
    is up, thickness away from the other [mm].
    """
    point = point_height(tool)
    if job.step == "spot":
        return job.depth
    if job.through:
        return thickness + PAST[job.step] + (point if job.step == "drill" else 0.0)
    return job.depth + (point if job.step == "drill" else 0.0)


def sink(task: Task, job: Sink, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The plunges of a round tool, one at each of its points."""
    out = Cutting(dial)
    part = task.part
    thickness = part.size[job.face.axis]
    surface = lie.at(part.size if lie.pose.up.sign > 0 else (0.0, 0.0, 0.0))[2]
    touch = job.step == "countersink"
    wide = job.size if job.step == "bore" else 0.0
    deep = tip_depth(job, tool, thickness)
    spots = []
    for p in job.at:
        x, y, entry = lie.at(p)
        metal = metal_at(task, p, lie)
        z = (surface if job.through else entry) - deep
        if touch:
            z = zeros.z - (job.depth - (entry - metal))
        elif job.step == "spot":
            z = max(metal - deep, entry - job.bottom + LEAST_LEFT)
        spots.append((x - zeros.x, y - zeros.y, z - zeros.z))
    spots.sort()
    by_eye = lie.pose.way.by_eye
    # so that readings rounded apart leave a tap no less room than drawn
    set_z = {Process.DRILL_FOR_THREAD: dial.below, Process.TAP: dial.above}.get(
        task.does, dial.snap
    )
    lead = BLUNT_LEAD * thread(tool.thread).pitch if job.step == "tap" and not job.through else 0.0
    for x, y, z in spots:
        out.moves.append(
            Plunge(
                does=Does(job.step),
                x=round(x) if by_eye else dial.snap("X", x),
                y=round(y) if by_eye else dial.snap("Y", y),
                z=set_z("Z", z),
                through=job.through,
                tip=dial.above("Z", z - lead) if lead else None,
                touch=touch,
                wide=wide,
                follow=by_eye,
            )
        )
        out.travel += abs(job.depth) + 2.0
        out.approaches += 1
    return out


def metal_at(task: Task, p: Vec, lie: Lie) -> float:
    """The table height of the metal that a hole at `p` starts on, under what was cut before."""
    up = lie.pose.up
    start = list(p)
    start[up.axis] = task.part.size[up.axis] if up.sign > 0 else 0.0
    top = (start[0], start[1], start[2])
    return lie.at(top)[2] - max((c.air(top, up) for c in task.cleared), default=0.0)
