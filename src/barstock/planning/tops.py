"""How much of the height of work is left once cuts have taken away the whole of a face."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product

from barstock.drawing.model import Face
from barstock.methods.cuts import LevelCut
from barstock.planning.poses import Box, plus
from barstock.planning.tasks import Level, Task

BESIDE = 1e-4  # of a wall, where the floor under it is looked at [mm]


def sunk(face: Face, box: Box, done: Sequence[Task]) -> float:
    """How far under a face of the work's extremes the highest metal lies after these cuts [mm].

    0 where anything of the face is left, as it is in all work but that under a ridge, or between
    steps that meet.
    """
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


def _sides(cut: LevelCut, axis: int) -> list[float]:
    """Where a floor begins and ends along an axis of the part [mm]."""
    far = plus(plus(cut.origin, cut.run, cut.run_length), cut.across, cut.across_length)
    return [cut.origin[axis], far[axis]]
