"""Readings are brought to what the axis that is to be set can show: they are what is proven."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

from barstock.measuring.handwheel import least_step
from barstock.workshop.shop import Axis, Machine

PLAIN = Axis(0.0)


@dataclass(frozen=True)
class Dial:
    """The axes of a machine as they are read; plain ones where there is none."""

    machine: Machine | None

    def step(self, name: str) -> float:
        """The least difference that can be set on an axis [mm]."""
        axis: Axis | None = getattr(self.machine, name.lower(), None)
        return least_step(axis or PLAIN)

    def below(self, name: str, value: float) -> float:
        """The greatest reading that can be set and is no more [mm]."""
        step = self.step(name)
        return round(floor(value / step + 1e-6) * step, 6) + 0.0

    def above(self, name: str, value: float) -> float:
        """The least reading that can be set and is no less [mm]."""
        step = self.step(name)
        return round(ceil(value / step - 1e-6) * step, 6) + 0.0

    def snap(self, name: str, value: float) -> float:
        """The nearest reading the axis can be set to [mm]."""
        step = self.step(name)
        return round(round(value / step) * step, 6) + 0.0
