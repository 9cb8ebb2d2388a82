"""The saw: a bar is pushed against its stop and parted off."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType, WorkSort
from barstock.workshop.shop import Machine, MachineKind, Workshop

HACKSAW = Machine("hacksaw", MachineKind.SAW, kerf=1.5)
"""What a shop without a saw saws bars with; the width of its cut is common practice."""


class Saw(MachineType):
    """The saw as `MachineType` asks of it."""

    kind = MachineKind.SAW
    work = WorkSort.SAWING
    moves = frozenset({"saw off"})


MACHINE = Saw()


def sawing_machine(shop: Workshop) -> Machine:
    """What a shop saws bars with: its saw, or a hacksaw."""
    return shop.machine(MachineKind.SAW) or HACKSAW
