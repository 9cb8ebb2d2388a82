"""Ways of doing a task that were refused, and are not to be taken again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barstock.errors import UnplannableError, concerning
from barstock.planning.holding.way import way_of
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Task
from barstock.workshop.shop import Workshop


@dataclass(frozen=True)
class Barred:
    """A way of doing a task that is not to be taken again.

    task: its id. pose: lying and held so, None for every pose. way, device, tool: held in that way,
    in that vise, with that cutter alone; "" with any. refusal: why, in the words of who refused it.
    """

    task: str
    pose: Pose | None = None
    way: str = ""
    device: str = ""
    tool: str = ""
    refusal: str = ""

    def shuts(self, task: Task, pose: Pose) -> bool:
        """Is the task not to be done in a pose at all, in whatever vise and by whatever cutter?"""
        if self.task != task.id or self.device or self.tool:
            return False
        return self._held(pose)

    def lies(self, task: Task, pose: Pose) -> bool:
        """Is the task barred in work that lies so, held in whatever way?"""
        if self.task != task.id or self.device or self.tool or self.pose is None:
            return False
        return _lying(pose) == _lying(self.pose)

    def shuts_device(self, task: Task, pose: Pose) -> bool:
        """Is the task not to be done in a pose in the vise that is taken for it?"""
        return bool(self.device) and self.task == task.id and self._held(pose)

    def shuts_tool(self, task: Task, pose: Pose, tool: str) -> bool:
        """Is the task not to be done in a pose with that cutter?"""
        return self.tool == tool and self.task == task.id and self._held(pose)

    def _held(self, pose: Pose) -> bool:
        if self.way and self.way != way_of(pose).name:
            return False
        return self.pose is None or self.pose.name == pose.name


def _lying(pose: Pose) -> tuple[object, ...]:
    return (pose.stage, pose.up, pose.fixed_jaw, pose.tilt)


def refusal_of(task: Task, pose: Pose, barred: Sequence[Barred]) -> str:
    """Why a task is not to be done in a pose; "" where it may be."""
    return next((one.refusal for one in barred if one.shuts(task, pose)), "")


def lying_otherwise(task: Task, barred: Sequence[Barred]) -> Task:
    """The task without the poses in which it is barred, however the work is held in them; with all
    where none would be left."""
    poses = tuple(p for p in task.poses if not any(one.lies(task, p) for one in barred))
    return replace(task, poses=poses) if poses else task


def without_barred(task: Task, barred: Sequence[Barred], shop: Workshop) -> Task:
    """The task in the poses that are left of it, in other vises where one is barred.

    Raises UnplannableError with the refusals where none is left.
    """
    mine = [one for one in barred if one.task == task.id]
    if not mine:
        return task
    poses: list[Pose] = []
    for pose in task.poses:
        if any(one.shuts(task, pose) for one in mine):
            continue
        devices = {one.device for one in mine if one.shuts_device(task, pose)}
        if not devices:
            poses.append(pose)
            continue
        for vise in shop.vises:
            way = way_of(pose).in_device(vise.name)
            if vise.name in devices or way is None:
                continue
            other = replace(pose, way=way)
            if not any(one.shuts(task, other) for one in mine):
                poses.append(other)
    if not poses:
        told = "; ".join(dict.fromkeys(one.refusal for one in mine))
        with concerning(task.feature):
            raise UnplannableError(
                f"every way tried was refused: {told}", task.part.name, task.named
            )
    return replace(task, poses=tuple(dict.fromkeys(poses)))
