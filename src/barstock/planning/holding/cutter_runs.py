"""The runs of a cutter and what holds it as a task's moves are made, and what they come near."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import inf

from barstock.handbook.holding_limits import HOLDER_RADIUS
from barstock.planning.tasks.task import End, Level, Sink, Task
from barstock.planning.tasks.tooling import point_height
from barstock.planning.values import Zeros
from barstock.route import Body, Move, Plunge, Traverse
from barstock.workshop.shop import Tool

Spot = tuple[float, float]

STANDS_OUT = 4.0  # how far an end that is squared is said to stand out [mm]; common practice


class TooShort(str):
    """The words for what a shank or a holder would meet, which a longer cutter clears."""


@dataclass(frozen=True)
class Run:
    """A straight run of a cutter's axis on the table, the height of its tip and its radius [mm]."""

    start: Spot
    end: Spot
    tip: float
    radius: float

    @property
    def still(self) -> bool:
        """Does the cutter go straight down?"""
        return self.start == self.end

    def near(self, body: Body, by: float) -> bool:
        """Does the run pass within so much of a body in plan? Of one across the slides, what it
        spans.
        """
        return self.top(body, by) > -inf

    def top(self, body: Body, by: float) -> float:
        """The height of what of a body is within so much of the run in plan [mm]; -inf: beside."""
        (left, right), (front, back) = (
            (min(first, second) - by, max(first, second) + by)
            for first, second in zip(self.start, self.end, strict=True)
        )
        beside = front >= body.high[1] or back <= body.low[1]
        return -inf if beside else highest(body, left, right)

    def met(self, tool: Tool, body: Body, name: str, clear: float) -> str:
        """What of the cutter, its shank or its holder would meet a body, "" where nothing does.

        name: of the body; clear: what they keep from it [mm].
        """
        if self.tip < self.top(body, self.radius + clear):
            return f"the cutter would run into {name}"
        above = (
            (tool.flute or tool.reach, tool.shank / 2),
            (tool.reach, HOLDER_RADIUS[tool.holder]),
        )
        if any(r and self.tip + up < self.top(body, r + clear) for up, r in above):
            return TooShort(f"{tool.name} is too short to reach past {name}")
        return ""


def highest(body: Body, left: float, right: float) -> float:
    """The height of what of a body is between two places along x [mm]; -inf beside it."""
    corners, found = body.upright, -inf
    for (x, z), (x1, z1) in pairwise((*corners, corners[0])):
        low, high = max(left, min(x, x1)), min(right, max(x, x1))
        if low >= high:
            continue
        for at in (low, high):
            found = max(found, z + (at - x) / (x1 - x) * (z1 - z))
    return found


def runs(move: Move, diameter: float, zeros: Zeros, top: float) -> Iterator[Run]:
    """The straight runs of a move by a cutter of that diameter. top: of the work [mm]."""
    if isinstance(move, Plunge):
        at = (zeros.x + move.x, zeros.y + move.y)
        tip = (top if move.touch else zeros.z) + move.z
        yield Run(at, at, tip, max(move.wide, diameter) / 2)
    elif isinstance(move, Traverse):
        for a, b in pairwise([(zeros.x + x, zeros.y + y) for x, y in move.points]):
            yield Run(a, b, zeros.z + move.z, diameter / 2)


def point_below(task: Task) -> float:
    """How far a task's cutter goes below the work [mm]."""
    job = task.job
    if isinstance(job, Sink) and job.through:
        tool = task.tools[0]
        return (point_height(tool) or 2.0) + 1.0
    if isinstance(job, Level):
        return job.below(task.part.size)
    return 1.0 if isinstance(job, End) else 0.0
