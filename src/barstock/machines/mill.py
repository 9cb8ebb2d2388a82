"""The milling machine: a cutter turns upright over a table that three slides set."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType
from barstock.machines.spindle_tools import changing
from barstock.workshop.shop import Holder, MachineKind, ShopTimes, ToolKind


class Mill(MachineType):
    """The milling machine as `MachineType` asks of it."""

    kind = MachineKind.MILL
    moves = frozenset({"plunge", "traverse"})
    axes = "XYZ"
    table = True

    def changing(self, holder: Holder, tool: ToolKind, times: ShopTimes) -> float:
        """Minutes to put a tool in and touch it off, as at any upright spindle."""
        return changing(holder, tool, times)


MACHINE = Mill()
