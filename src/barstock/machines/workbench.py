"""The bench: saw and file by hand, to lines marked out."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType, WorkSort
from barstock.workshop.shop import MachineKind, ShopTimes


class Workbench(MachineType):
    """The bench as `MachineType` asks of it."""

    kind = MachineKind.BENCH
    work = WorkSort.FILING
    moves = frozenset({"shape", "file level", "file square"})

    def minutes(self, travel: float, approaches: int, feed: float, times: ShopTimes) -> float:
        """As much as is filed."""
        return max(1.0, travel / 100 * times.file_per_100mm)


MACHINE = Workbench()
