"""Working values: the readings to dial for a task, in the pose and from the zeros of its setup.

Everything is worked out from the part's frame through the lie of the work to the table, then to
readings. Each sort of job has its own file; the rules of cutting (depth a pass, what is left for
the last light cut) stand in `cutting`.
"""

from __future__ import annotations

from barstock.machines.dial import Dial
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import (
    Bevel,
    Contour,
    End,
    Facing,
    FiledEnd,
    Level,
    Sink,
    Slit,
    Task,
)
from barstock.planning.values.bevel import bevel
from barstock.planning.values.contour import contour
from barstock.planning.values.cutting import Cutting as Cutting
from barstock.planning.values.cutting import Zeros as Zeros
from barstock.planning.values.filed_end import filed_end
from barstock.planning.values.level_floor import level
from barstock.planning.values.level_floor import plan_view as plan_view
from barstock.planning.values.marked_line import line
from barstock.planning.values.plunged import sink
from barstock.planning.values.side_milled import side_milled
from barstock.planning.values.slitting import slit
from barstock.planning.values.slitting import slot_view as slot_view
from barstock.planning.values.square_end import end
from barstock.workshop.shop import Tool


def cut(task: Task, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves and steps of a task done with `tool` on work lying so."""
    job = task.job
    if isinstance(job, Slit):
        return slit(task, job, tool, lie, zeros, dial)
    if isinstance(job, Facing) and task.by_the_side(lie.pose.up):
        return side_milled(task, job, tool, lie, zeros, dial)
    if isinstance(job, Level):
        return level(task, job.cut, tool, lie, zeros, dial)
    if isinstance(job, End):
        return end(task, job, tool, lie, zeros, dial)
    if isinstance(job, FiledEnd):
        return filed_end(task, job, dial)
    if isinstance(job, Sink):
        return sink(task, job, tool, lie, zeros, dial)
    if isinstance(job, Bevel):
        return bevel(task, job.cut, tool, lie, zeros, dial)
    if isinstance(job, Contour):
        return contour(task, job, tool, lie, zeros, dial)
    return line(task, job, dial)
