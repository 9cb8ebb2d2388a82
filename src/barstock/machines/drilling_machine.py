"""The drill press: a drill turns over a table without slides and follows a spot under it."""

from __future__ import annotations

from barstock.machines.machine_type import MachineType
from barstock.machines.spindle_tools import changing
from barstock.workshop.shop import Holder, MachineKind, ShopTimes, ToolKind


class DrillingMachine(MachineType):
    """The drill press as `MachineType` asks of it."""

    kind = MachineKind.DRILL_PRESS
    moves = frozenset({"plunge"})
    table = True

    def changing(self, holder: Holder, tool: ToolKind, times: ShopTimes) -> float:
        """Minutes to put a tool in and touch it off, as at any upright spindle."""
        return changing(holder, tool, times)


MACHINE = DrillingMachine()
