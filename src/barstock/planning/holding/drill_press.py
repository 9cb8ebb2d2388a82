"""Holes that the drill press drills faster: spotted on the mill, they are followed there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from barstock.machines.spindle_speed import running
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Sink, Task
from barstock.route.statements import CautionKind
from barstock.workshop.shop import Machine, MachineKind, Workshop

FASTER = 1.25  # times the mill's share of the wanted speed that is to be reached; common practice


def on_the_press(tasks: Sequence[Task], shop: Workshop, mill: Machine) -> list[Task]:
    """The tasks, with the drill press for what it turns the drill nearer its speed for.

    Through holes only: a depth is read on the mill.
    """
    press = shop.machine(MachineKind.DRILL_PRESS)
    if press is None or not press.speeds:
        return list(tasks)
    found = []
    for task in tasks:
        job, material = task.job, task.part.material
        if not (isinstance(job, Sink) and job.step == "drill" and job.through):
            found.append(task)
            continue
        slow = [
            tool
            for tool in task.tools
            if running(tool, job.size, material, press).share
            >= FASTER * running(tool, job.size, material, mill).share
        ]
        there = tuple(replace(p, press=True) for p in task.poses if slow and _plain(p))
        found.append(replace(task, poses=(*task.poses, *there)))
    return found


def _plain(pose: Pose) -> bool:
    """Is the work simply in a vise?"""
    return pose.stage != "bar" and not (pose.straps or pose.vee or pose.block or pose.tilt)


CAUTIONS = (CautionKind.VISE_KEPT, CautionKind.FINDS_SPOT)
