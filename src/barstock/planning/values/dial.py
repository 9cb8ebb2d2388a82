"""Readings brought to what the axis that is to be set can show: they are what is proven."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf

from barstock.measuring.handwheel import least_step
from barstock.workshop.shop import Axis, Machine


@dataclass(frozen=True)
class Dial:
    """The three axes of a machine as they are read."""

    machine: Machine

    def _axis(self, name: str) -> Axis:
        axis = {"X": self.machine.x, "Y": self.machine.y, "Z": self.machine.z}[name]
        # Whether the table travels that far is the setup's question, not the dial's.
        return replace(axis or Axis(0.0), travel=inf)

    def step(self, name: str) -> float:
        """The least difference that can be set on an axis [mm]."""
        return least_step(self._axis(name))

    def snap(self, name: str, value: float) -> float:
        """The nearest reading the axis can be set to [mm]."""
        step = self.step(name)
        return round(round(value / step) * step, 6) + 0.0
