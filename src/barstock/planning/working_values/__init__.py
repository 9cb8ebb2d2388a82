"""Working values: the readings to dial for a task, in the pose and from the zeros of its setup.

Everything is worked out from the part's frame through the lie of the work to the table, then to
readings. Each sort of job has its own file; the rules of cutting (depth a pass, what is left for
the last light cut) stand in `cutting`.
"""

from __future__ import annotations

from barstock.planning.dial import Dial
from barstock.planning.poses import Lie
from barstock.planning.tasks import Bevel, Contour, End, Level, Sink, Task
from barstock.planning.working_values.bevel import bevel
from barstock.planning.working_values.contour import contour
from barstock.planning.working_values.cutting import Cutting as Cutting
from barstock.planning.working_values.cutting import Zeros as Zeros
from barstock.planning.working_values.end import end
from barstock.planning.working_values.level import level
from barstock.planning.working_values.level import plan_view as plan_view
from barstock.planning.working_values.line import line
from barstock.planning.working_values.sink import sink
from barstock.workshop.model import Tool


def cut(task: Task, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves and steps of a task done with `tool` on work lying so."""
    job = task.job
    if isinstance(job, Level):
        return level(task, job.cut, tool, lie, zeros, dial)
    if isinstance(job, End):
        return end(task, job, tool, lie, zeros, dial)
    if isinstance(job, Sink):
        return sink(task, job, tool, lie, zeros, dial)
    if isinstance(job, Bevel):
        return bevel(task, job.cut, tool, lie, zeros, dial)
    if isinstance(job, Contour):
        return contour(task, job, tool, lie, zeros, dial)
    return line(task, job, dial)
