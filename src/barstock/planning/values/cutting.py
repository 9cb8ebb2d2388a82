"""What every kind of cut is written into: moves, bench steps, zeros, the rules of depth."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from barstock.planning.values.dial import Dial
from barstock.route import Move, Step, Traverse
from barstock.workshop.shop import Tool

OVERRUN = 1.0  # how far a cutter runs clear of the work [mm]; common practice
BELOW = 0.5  # how far a side cut reaches below the work [mm]; common practice
# Greatest depth of one roughing cut as a share of the cutter's diameter on a light mill; common
# practice.
ROUGH = {
    "mild steel": 0.25,
    "free-cutting steel": 0.3,
    "stainless steel": 0.15,
    "silver steel": 0.2,
}


@dataclass
class Cutting:
    """The moves and the bench steps of one operation, and how far the cutter travels [mm]."""

    dial: Dial
    moves: list[Move] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    travel: float = 0.0
    approaches: int = 0

    def traverse(self, points: list[tuple[float, float]], z: float) -> None:
        """One run of the cutter at a height."""
        snap = self.dial.snap
        at = tuple((snap("X", x), snap("Y", y)) for x, y in points)
        self.moves.append(Traverse(points=at, z=snap("Z", z)))
        for (ax, ay), (bx, by) in pairwise(points):
            self.travel += ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
        self.approaches += 1

    def step(self, words: str, caution: str = "", **dial: str) -> None:
        """One line at the bench."""
        self.steps.append(Step(words=words, dial=dial, caution=caution))


@dataclass(frozen=True)
class Zeros:
    """Table positions of the zeros [mm]; readings are table minus these."""

    x: float
    y: float
    z: float


def rough_depth(material: str, tool: Tool) -> float:
    """Depth of one roughing cut [mm]."""
    return max(0.3, ROUGH.get(material, 0.5) * tool.diameter)


def swap(a: float, b: float, runs_x: bool) -> tuple[float, float]:
    return (a, b) if runs_x else (b, a)
