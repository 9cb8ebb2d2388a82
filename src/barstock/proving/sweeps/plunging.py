"""The sweep of a tool that goes straight down: where its tip comes to, on the work as it is."""

from __future__ import annotations

import math
from collections.abc import Iterator

from barstock.proving.placing import Datum
from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.proving.upright_run import Run, Spot
from barstock.route import Cutter, Plunge
from barstock.solids.bores import upright_bores
from barstock.solids.shapes import Solid

BY_EYE = 1.0  # a spot is seen to be under the drill within this [mm], common practice


class Plunging(MoveSweep):
    """The sweep of a plunge."""

    move = Plunge
    powered = True
    placed = True

    def runs(self, move: Plunge, cutter: Cutter, zero: Datum, work: Solid) -> Iterator[Run]:
        """There is one run, at the place read or at the spot found there."""
        at = (zero.x + move.x, zero.y + move.y)
        at = followed(work, at) if move.follow else at
        tip = (touching(work, at, cutter) if move.touch else zero.z) + move.z
        yield Run(cutter, at, at, tip, (move.wide or cutter.diameter) / 2, True)

    def flipped(self, move: Plunge, axis: str) -> Plunge:
        """The same plunge with the sign of a reading wrong."""
        return move.model_copy(update={axis: -getattr(move, axis)})

    def deeper(self, move: Plunge, by: float) -> Plunge:
        """The same plunge with the reading of Z wrong."""
        return move.model_copy(update={"z": move.z + by})


def touching(work: Solid, at: Spot, cutter: Cutter) -> float:
    """The height of the tip when the cone first touches the work around `at` [mm].

    Raises ValueError where there is no hole whose edge it could touch.
    """
    points, _ = work.mesh()
    away = ((points[:, 0] - at[0]) ** 2 + (points[:, 1] - at[1]) ** 2) ** 0.5
    slope = math.tan(math.radians(cutter.point / 2))
    under = away <= cutter.diameter / 2
    tip = float((points[under, 2] - away[under] / slope).max()) if under.any() else -math.inf
    if math.isinf(tip) or work.contains((*at, tip)):
        raise ValueError(f"there is no hole here whose edge {cutter.name} could touch")
    return tip


def followed(work: Solid, at: Spot) -> Spot:
    """The spot near `at` that a drill brought there by eye finds.

    Raises ValueError where there is none.
    """
    spots = [bore for bore in upright_bores(work, *at, BY_EYE) if bore.conical]
    if not spots:
        raise ValueError(f"there is no spot near ({at[0]:.1f}, {at[1]:.1f}) for a drill to follow")
    nearest = min(spots, key=lambda bore: math.dist(bore.low[:2], at))
    return nearest.low[0], nearest.low[1]


SWEEP = Plunging()
