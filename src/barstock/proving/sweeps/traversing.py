"""The sweep of a cutter that goes along straight lines at one height."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from barstock.proving.placing import Datum
from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.proving.upright_run import Run
from barstock.route import Cutter, Traverse
from barstock.solids.shapes import Solid


class Traversing(MoveSweep):
    """The sweep of a traverse."""

    move = Traverse
    powered = True

    def runs(self, move: Traverse, cutter: Cutter, zero: Datum, work: Solid) -> Iterator[Run]:
        """There is one run along each line."""
        path = [(zero.x + x, zero.y + y) for x, y in move.points]
        for a, b in list(pairwise(path)) or [(path[0], path[0])]:
            yield Run(cutter, a, b, zero.z + move.z, cutter.diameter / 2, False)

    def flipped(self, move: Traverse, axis: str) -> Traverse:
        """The same traverse with the sign of a reading wrong, all along."""
        if axis == "z":
            return move.model_copy(update={"z": -move.z})
        sx, sy = (-1, 1) if axis == "x" else (1, -1)
        return move.model_copy(update={"points": tuple((sx * x, sy * y) for x, y in move.points)})

    def deeper(self, move: Traverse, by: float) -> Traverse:
        """The same traverse with the reading of Z wrong."""
        return move.model_copy(update={"z": move.z + by})

    def beside(self, move: Traverse, by: float) -> Traverse:
        """The same traverse with its first straight moved square to itself, and all
        else with it.
        """
        if len(move.points) < 2:
            return move
        (ax, ay), (bx, by_) = move.points[:2]
        long = math.dist((ax, ay), (bx, by_)) or 1.0
        dx, dy = (by_ - ay) / long * by, -(bx - ax) / long * by
        return move.model_copy(update={"points": tuple((x + dx, y + dy) for x, y in move.points)})


SWEEP = Traversing()
