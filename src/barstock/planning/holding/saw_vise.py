"""A bar held in the vise of the saw."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.build import Face
from barstock.planning.holding.by_hand import READY, ByHand
from barstock.planning.holding.way import Need, Way
from barstock.workshop.shop import MachineKind, ShopTimes


@dataclass(frozen=True)
class InSawVise(ByHand):
    """Bars held in the saw's vise to be sawn one after another."""

    name = "saw vise"
    machine = MachineKind.SAW

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is thought of first for bars to be sawn."""
        return cls() if need is Need.SAWN else None

    @classmethod
    def kept(cls, times: ShopTimes, tilted: bool) -> float:
        """The minutes saved where the saw stays as it is."""
        return READY


WAY = InSawVise
