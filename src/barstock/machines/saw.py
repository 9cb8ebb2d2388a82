"""The saw: a bar is pushed against its stop and parted off."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType, WorkSort
from barstock.workshop.shop import MachineKind


class Saw(MachineType):
    """See `MachineType`."""

    kind = MachineKind.SAW
    work = WorkSort.SAWING
    moves = frozenset({"saw off"})


MACHINE = Saw()
