"""Readings are brought to what the axis that is to be set can show: they are what is proven."""

from __future__ import annotations

from dataclasses import dataclass

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

    def snap(self, name: str, value: float) -> float:
        """The nearest reading the axis can be set to [mm]."""
        step = self.step(name)
        return round(round(value / step) * step, 6) + 0.0
