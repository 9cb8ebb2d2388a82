"""How low the jaws must stay beside the cone of a spotting drill or a countersink."""

from __future__ import annotations

from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Sink, Task
from barstock.planning.tasks.tooling import point_height
from barstock.planning.values.plunged import metal_at


def below_cones(task: Task, job: Sink, lie: Lie) -> float:
    """How far below the work's top the jaws must stay so that no cone that is wider than the work
    beside its hole runs into them [mm].
    """
    if job.step not in ("spot", "countersink"):
        return 0.0
    low, high = lie.extent
    tool, deepest = task.tools[0], 0.0
    radius, tall = tool.diameter / 2, point_height(tool)
    deep = tall * job.size / tool.diameter if job.step == "countersink" else job.depth
    for p in job.at:
        y = lie.at(p)[1]
        beside = min(y - low[1], high[1] - y)
        if beside < radius:
            tip = metal_at(task, p, lie) - deep
            deepest = max(deepest, high[2] - (tip + tall * beside / radius))
    return deepest
