"""The lathe. Turning is not planned: nothing is made at it yet."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType
from barstock.workshop.shop import MachineKind


class Lathe(MachineType):
    """The lathe as `MachineType` asks of it."""

    kind = MachineKind.LATHE


MACHINE = Lathe()
