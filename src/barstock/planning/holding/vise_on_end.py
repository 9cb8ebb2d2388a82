"""Work that stands on end between the jaws of a vise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Face, Part
from barstock.planning.holding.vise import InVise, about
from barstock.planning.holding.way import Need, Way
from barstock.planning.tasks.pose import Lie, Pose
from barstock.planning.tasks.task import Task
from barstock.route.statements import Caution
from barstock.workshop.shop import Vise, Workshop

SWAYS = 3.0  # times the jaws' depth that work may stand above them; common practice


@dataclass(frozen=True)
class OnEnd(InVise):
    """Work in a vise as any other, but that an end of it is cut from above."""

    name = "on end"

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is thought of first for whatever has an end up."""
        return cls() if need is Need.CUT and up.axis == 0 else None

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The jaws are about the middle of work on end, and nowhere else."""
        return ()

    def loose(self, pose: Pose, part: Part, shop: Workshop) -> bool:
        """Does the work stand so high above any vise's jaws that it would sway?"""
        jaws = max((v.jaw_depth for v in shop.vises), default=0.0)
        return part.size[0] - jaws > SWAYS * jaws

    def for_an_end(self, part: Part, shop: Workshop) -> Way:
        """The same way: the end is up, and the jaws about the work's middle as for all else."""
        return self

    def past(self, tasks: Sequence[Task]) -> Iterator[Caution]:
        """No cutter goes down beside the jaws."""
        yield from ()

    def _jaws(self, vise: Vise, flat: Lie, tasks: Sequence[Task]) -> tuple[float, float]:
        low, high = flat.extent
        return about((low[0] + high[0]) / 2, vise)


WAY = OnEnd
