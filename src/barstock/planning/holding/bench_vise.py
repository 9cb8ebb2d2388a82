"""Work held in the bench vise, for marking out, sawing and filing."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.build import Face
from barstock.planning.holding.by_hand import ByHand
from barstock.planning.holding.way import Need, Way
from barstock.workshop.shop import MachineKind


@dataclass(frozen=True)
class InBenchVise(ByHand):
    """Work held in the bench vise for whatever is done by hand."""

    name = "bench vise"
    machine = MachineKind.BENCH

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is thought of first for all hand work."""
        return cls() if need is Need.BY_HAND else None


WAY = InBenchVise
