"""The bench: saw and file by hand, to lines marked out."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType, WorkSort
from barstock.workshop.shop import MachineKind


class Workbench(MachineType):
    """See `MachineType`."""

    kind = MachineKind.BENCH
    work = WorkSort.FILING
    moves = frozenset({"shape", "file level", "file square"})


MACHINE = Workbench()
