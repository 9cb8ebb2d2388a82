"""Every kind of cut is written into a `Cutting`: its moves, zeros, the rules of depth."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil

from barstock.machines.dial import Dial
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.route import Does, Move, Side, Traverse

OVERRUN = 1.0  # how far a cutter runs clear of the work [mm]; common practice
BELOW = 0.5  # how far a side cut reaches below the work [mm]; common practice


@dataclass
class Cutting:
    """The moves of one operation, and how far the cutter travels [mm]."""

    dial: Dial
    moves: list[Move] = field(default_factory=list)
    travel: float = 0.0
    approaches: int = 0

    def traverse(
        self,
        does: Does,
        points: list[tuple[float, float]],
        z: float,
        wall: Side | None = None,
        point: int = 0,
    ) -> None:
        """One run of the cutter at a height."""
        snap = self.dial.snap
        at = tuple((snap("X", x), snap("Y", y)) for x, y in points)
        self.moves.append(Traverse(does=does, points=at, z=snap("Z", z), wall=wall, point=point))
        for (ax, ay), (bx, by) in pairwise(points):
            self.travel += ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
        self.approaches += 1


@dataclass(frozen=True)
class Zeros:
    """Table positions of the zeros [mm]; readings are table minus these."""

    x: float
    y: float
    z: float


def swap(a: float, b: float, runs_x: bool) -> tuple[float, float]:
    """The co-ordinates x and y from `a` along a run and `b` across it."""
    return (a, b) if runs_x else (b, a)


def rising(axis: int, side: int) -> bool:
    """Is work beside the cutter cut towards greater readings, so that the feed is against the
    cutter's turning?

    axis: of the table that the wall cut is square to; side 1: the work lies on that axis's greater
    side of the cutter. With a cutter turning clockwise from above, the work must be on the left
    hand as the cutter goes: on slides with backlash it would else be snatched along; common
    practice.
    """
    return (side == 1) == (axis == 1)


def against(run: tuple[float, float], axis: int, side: int) -> tuple[float, float]:
    """A run beside the work, against the cutter's turning."""
    return run if rising(axis, side) else (run[1], run[0])


def roughing(top: float, floor: float, most: float) -> list[float]:
    """The heights of equal roughing cuts, each `most` deep at most, down to the last light one.

    There are none where so little is to go that the light cut takes it.
    """
    depth = top - floor
    if depth <= 2 * WALL_CUT:
        return []
    rough = depth - WALL_CUT
    levels = ceil(rough / most)
    return [top - rough * (i + 1) / levels for i in range(levels)]
