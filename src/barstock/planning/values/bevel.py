"""The moves of a bevel by a cone cutter that runs beside the edge."""

from __future__ import annotations

from barstock.drawing.build import Face
from barstock.handbook.speeds import roughing_depth
from barstock.machines.dial import Dial
from barstock.methods.cuts import EdgeCut
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Task
from barstock.planning.tasks.tooling import CONE_CLEAR
from barstock.planning.values.cutting import Cutting, Zeros, against, roughing, swap
from barstock.route import Does
from barstock.workshop.shop import Tool

ONE_CUT = 1.0  # leg of a bevel that is cut at once at most [mm]; common practice


def bevel(task: Task, c: EdgeCut, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves of a bevel: the cone's axis runs beside the edge, its point below it, so that both
    legs come out alike. It goes against its turning, and deeper at each cut.
    """
    up = lie.pose.up
    side = c.faces[0] if c.faces[1] is up else c.faces[1]
    size = task.part.size
    corner = lie.at(
        (
            size[0] if Face.RIGHT in (up, side) else 0.0,
            size[1] if Face.BACK in (up, side) else 0.0,
            size[2] if Face.TOP in (up, side) else 0.0,
        )
    )
    outward = lie.pose.turn(side.normal)
    axis = 0 if abs(outward[0]) > 0.5 else 1
    fixed = corner[axis] + (CONE_CLEAR if outward[axis] > 0 else -CONE_CLEAR)
    low, high = lie.extent
    run = (low[1 - axis] - tool.diameter, high[1 - axis] + tool.diameter)
    touch, leg = corner[2] - CONE_CLEAR, c.size[0]
    out = Cutting(dial)
    zero_fixed, zero_run = (zeros.x, zeros.y) if axis == 0 else (zeros.y, zeros.x)
    runs_x = axis == 1
    ends = against(run, axis, int(outward[axis] < 0))
    points = [swap(a - zero_run, fixed - zero_fixed, runs_x) for a in ends]
    if leg > ONE_CUT:
        # a cone is as stout as it is wide where it cuts, half-way up the bevel
        most = roughing_depth(task.part.material, 2 * CONE_CLEAR + leg)
        for z in roughing(touch, touch - leg, most):
            out.traverse(Does.ROUGH, points, z - zeros.z)
    out.traverse(Does.BEVEL, points, touch - leg - zeros.z)
    return out
