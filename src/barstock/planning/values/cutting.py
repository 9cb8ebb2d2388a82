"""Every kind of cut is written into a `Cutting`: its moves, zeros, the rules of depth."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from barstock.machines.dial import Dial
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
