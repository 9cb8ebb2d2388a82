"""How a reading is printed for the axis that is to be set: a readout's figures or a handwheel's.

Readings are first brought to what the axis can show, and the moves that are proven carry the very
same value.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf

from barstock.measuring.handwheel import dial, least_step
from barstock.quantities import INCH, Unit
from barstock.workshop.shop import Axis, Machine


@dataclass(frozen=True)
class Dial:
    """The three axes of a machine as they are read. unit: for plain lengths in words."""

    machine: Machine
    unit: Unit = Unit.MM

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

    def reading(self, name: str, value: float) -> str:
        """One reading as text."""
        return dial(self.snap(name, value), self._axis(name))

    def several(self, name: str, values: Sequence[float]) -> str:
        """Readings one after another, the middle ones left out where there are many alike."""
        shown = [self.reading(name, v) for v in values]
        distinct = [s for n, s in enumerate(shown) if n == 0 or s != shown[n - 1]]
        return ",  ".join(distinct)

    def span(self, name: str, start: float, stop: float) -> str:
        """From one reading to another."""
        return f"{self.reading(name, start)} – {self.reading(name, stop)}"

    def length(self, name: str, value: float) -> str:
        """How far to move an axis from where it stands, as the axis is read."""
        axis, by = self._axis(name), self.snap(name, value)
        if axis.per_turn and not axis.readout:
            return self.reading(name, by).lstrip("+")
        return f"{by / INCH:.4f} in" if axis.unit is Unit.INCH else f"{by:.3f} mm"
