"""The work's extremes for a task, as far as they are known before all is in order."""

from __future__ import annotations

from barstock.drawing.build import Part
from barstock.planning.tasks.pose import Box, Pose
from barstock.planning.tasks.task import End, Task
from barstock.stocking.bar_choice import Lengths, Stock


def box_of(pose: Pose, task: Task, part: Part, stock: Stock, lengths: Lengths) -> Box:
    """The work's extremes for a task in a pose, in the part's frame."""
    if pose.stage == "bar":
        return ((0.0, stock.y[0], stock.z[0]), (lengths.length, stock.y[1], stock.z[1]))
    if isinstance(task.job, End):
        return ((0.0, stock.y[0], stock.z[0]), (part.size[0], stock.y[1], stock.z[1]))
    return ((0.0, 0.0, 0.0), part.size)
