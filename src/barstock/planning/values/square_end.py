"""The moves that square a sawn end by the side of an end mill; of work that stands on end, by the
mill's end.
"""

from __future__ import annotations

from barstock.drawing.build import Face
from barstock.machines.dial import Dial
from barstock.methods.cuts import LevelCut
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import End, Task
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.planning.values.cutting import BELOW, OVERRUN, Cutting, Zeros
from barstock.planning.values.level_floor import level
from barstock.route import Does
from barstock.workshop.shop import Tool


def _top(task: Task, job: End) -> LevelCut:
    """The whole end of a part as a floor."""
    length, wide, high = task.part.size
    return LevelCut(
        face=job.face,
        origin=(length if job.face is Face.RIGHT else 0.0, 0.0, 0.0),
        run=(0.0, 1.0, 0.0),
        across=(0.0, 0.0, 1.0),
        normal=job.face.normal,
        run_length=wide,
        across_length=high,
        walls=frozenset(),
    )


def end(task: Task, job: End, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves that square a sawn end."""
    part = task.part
    if lie.pose.up.axis == 0:
        return level(task, _top(task, job), tool, lie, zeros, dial)
    plane = lie.at((part.size[0] if job.face is Face.RIGHT else 0.0, 0.0, 0.0))[0]
    low, high = lie.extent
    radius = tool.diameter / 2
    out = Cutting(dial)
    z = low[2] - BELOW
    y0, y1 = low[1] - radius - OVERRUN, high[1] + radius + OVERRUN
    rough = plane + WALL_CUT
    for does, x in ((Does.CLEAN_UP, rough), (Does.FINISH, plane)):
        centre = x + radius - zeros.x
        out.traverse(does, [(centre, y0 - zeros.y), (centre, y1 - zeros.y)], z - zeros.z)
    return out
