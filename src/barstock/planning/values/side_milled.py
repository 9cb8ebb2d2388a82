"""The moves that bring a face of the bar to size by the side of an end mill, at its front."""

from __future__ import annotations

from math import ceil

from barstock.handbook.speeds import roughing_depth
from barstock.machines.dial import Dial
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Facing, Task
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.planning.values.cutting import BELOW, OVERRUN, Cutting, Zeros
from barstock.route import Does
from barstock.workshop.shop import Tool


def side_milled(task: Task, job: Facing, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The runs along the face, against the feed, each a roughing cut nearer; the last is light."""
    plane, radius = lie.at(job.cut.origin)[1], tool.diameter / 2
    low, high = lie.extent
    x0, x1 = low[0] - radius - OVERRUN, high[0] + radius + OVERRUN
    z, out = low[2] - BELOW, Cutting(dial)
    rough = plane - WALL_CUT
    many = max(1, ceil((rough - low[1]) / roughing_depth(task.part.material, tool.diameter)))
    step = max(0.0, rough - low[1]) / many
    runs = [(Does.CLEAN_UP, rough - step * n) for n in reversed(range(many))]
    for does, y in (*runs, (Does.FINISH, plane)):
        across = y - radius - zeros.y
        out.traverse(does, [(x0 - zeros.x, across), (x1 - zeros.x, across)], z - zeros.z)
    return out
