"""The bench: saw and file by hand, to lines marked out."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType, WorkSort
from barstock.workshop.shop import MachineKind, ShopTimes

SAWING = 0.3  # times as long as filing along it, a line is sawn by hand; common practice

STRIP = (5.0, 0.5)
"""The strip that the shop's time of filing 100 mm is for: how wide, and how much is filed off it
[mm]; common practice."""


def strip(metal: float) -> float:
    """The length of that strip which is as much to file as some metal [mm3].

    >>> strip(250.0)
    100.0
    """
    wide, deep = STRIP
    return metal / (wide * deep)


def strip_sawn(area: float) -> float:
    """The length of that strip which takes as long to file as an area takes to saw [mm2]."""
    return SAWING * area / STRIP[0]


class Workbench(MachineType):
    """The bench as `MachineType` asks of it."""

    kind = MachineKind.BENCH
    work = WorkSort.FILING
    moves = frozenset({"shape", "file level", "file square"})

    def minutes(self, travel: float, approaches: int, feed: float, times: ShopTimes) -> float:
        """As much as is filed."""
        return max(1.0, travel / 100 * times.file_per_100mm)


MACHINE = Workbench()
