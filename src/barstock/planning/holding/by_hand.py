"""Work held for hand tools or to be sawn lies wherever there is something to hold it by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Pose
from barstock.planning.tasks.task import Task
from barstock.route import Setup
from barstock.workshop.shop import ShopTimes, Workshop

READY = 2.0  # minutes to clear the vise for another work; common practice


@dataclass(frozen=True)
class ByHand(Way):
    """Work in a vise that is never far open nor set to anything."""

    stop = False
    by_hand = True

    @classmethod
    def alike(cls, setup: Setup) -> str:
        """Nothing must be the same: whatever is held there goes straight in."""
        return f"{cls.name} {setup.machine}"

    @classmethod
    def ready(cls, times: ShopTimes, tilted: bool) -> float:
        """Minutes of setting up, before any work is loaded."""
        return READY

    @classmethod
    def kept(cls, times: ShopTimes, tilted: bool) -> float:
        """No minutes are saved, for nothing could stay."""
        return 0.0

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held by what is left of it."""
        return Grip(self.name, 0.0)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """It needs nothing in particular of the work."""
        return Seat(((), ()), (), frozenset())
