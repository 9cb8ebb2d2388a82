"""Every machine answers what `MachineType` asks. A machine is one file in this folder with a
`MACHINE`.
"""

from __future__ import annotations

from enum import StrEnum

from barstock.workshop.shop import Holder, MachineKind, ShopTimes, ToolKind


class WorkSort(StrEnum):
    """The sorts of work done at machines, as they are timed and shown."""

    CUTTING = "cutting"
    SAWING = "sawing"
    FILING = "filing"


class MachineType:
    """A kind of machine.

    moves: the kinds of move made at it, as the route has them. axes: those that are set by
    readings, by their letters. work: what is done at it. table: does the work stand on one, under
    a cutter that turns?
    """

    kind: MachineKind
    work: WorkSort = WorkSort.CUTTING
    moves: frozenset[str] = frozenset()
    axes: str = ""
    table: bool = False

    def minutes(self, travel: float, approaches: int, feed: float, times: ShopTimes) -> float:
        """Of one operation on one work: what is cut along `travel` [mm], so many times approached,
        at a feed [mm/min]."""
        return travel / max(feed, 1.0) + approaches * times.move

    def changing(self, holder: Holder, tool: ToolKind, times: ShopTimes) -> float:
        """Minutes to put a tool in and touch it off; none for one that is taken in the hand."""
        return 0.0
