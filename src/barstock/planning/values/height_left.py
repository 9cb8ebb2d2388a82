"""Tells how much of the height of work is left once cuts have taken away what stood
highest in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product
from math import cos, radians, sin

from barstock.drawing.build import Face
from barstock.methods.cuts import EdgeCut, LevelCut
from barstock.planning.tasks.pose import Box, Pose, plus
from barstock.planning.tasks.task import Bevel, Level, Line, Task

BESIDE = 1e-4  # of a wall, where the floor under it is looked at [mm]


def sunk(pose: Pose, box: Box, done: Sequence[Task]) -> float:
    """How far under the work's extremes its highest metal lies in a pose after these cuts [mm].

    0 where anything of the face up is left, or the highest edge of tilted work, as it is in all but
    work under a ridge, between steps that meet, or with that edge filed off.
    """
    return _corner_sunk(pose, done) if pose.tilt else _face_sunk(pose.up, box, done)


def _face_sunk(face: Face, box: Box, done: Sequence[Task]) -> float:
    cuts = [t.job.cut for t in done if isinstance(t.job, Level) and t.job.cut.face is face]
    if not cuts:
        return 0.0
    size = done[0].part.size
    lines: list[list[float]] = [[], [], []]
    lines[face.axis] = [(box[1] if face.sign > 0 else box[0])[face.axis]]
    for axis in {0, 1, 2} - {face.axis}:
        low, high = max(0.0, box[0][axis]), min(size[axis], box[1][axis])
        walls = sorted({low, high, *(at for cut in cuts for at in _sides(cut, axis)
                                     if low < at < high)})  # fmt: skip
        for a, b in pairwise(walls):
            lines[axis] += [a + BESIDE, (a + b) / 2, b - BESIDE]
    return min(max(cut.air((x, y, z), face) for cut in cuts) for x, y, z in product(*lines))


def _corner_sunk(pose: Pose, done: Sequence[Task]) -> float:
    raised = pose.right if pose.tilt > 0 else pose.left
    lean, found = radians(abs(pose.tilt)), 0.0
    for cut in [t.job.cut for t in done if isinstance(t.job, Bevel | Line)]:
        if isinstance(cut, EdgeCut) and set(cut.faces) == {pose.up, raised}:
            legs = dict(zip(cut.faces, cut.size, strict=True))
            along, down = legs[pose.up] * sin(lean), legs[raised] * cos(lean)
            round_ = cut.shape == "round"
            found = max(found, along + down - cut.size[0] if round_ else min(along, down))
    return found


def _sides(cut: LevelCut, axis: int) -> list[float]:
    """Where a floor begins and ends along an axis of the part [mm]."""
    far = plus(plus(cut.origin, cut.run, cut.run_length), cut.across, cut.across_length)
    return [cut.origin[axis], far[axis]]
