"""How a reading is printed for the axis that is to be set: a readout's figures or a handwheel's.

Readings are first brought to what the axis can show, and the moves that are proven carry the very
same value.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, log10

from barstock.quantities import INCH, Unit
from barstock.workshop.model import Axis, Machine


@dataclass(frozen=True)
class Dial:
    """The three axes of a machine as they are read. unit: for plain lengths in words."""

    machine: Machine
    unit: Unit = Unit.MM

    def _axis(self, name: str) -> Axis:
        axis = {"X": self.machine.x, "Y": self.machine.y, "Z": self.machine.z}[name]
        return axis or Axis(1e9, readout=0.01)

    def step(self, name: str) -> float:
        """The least difference that can be set on an axis [mm]: half a division of a handwheel."""
        axis = self._axis(name)
        if axis.readout:
            return axis.readout
        if axis.per_turn and axis.divisions:
            return axis.per_turn / axis.divisions / 2
        return 0.01

    def snap(self, name: str, value: float) -> float:
        """The nearest reading the axis can be set to [mm]."""
        step = self.step(name)
        return round(round(value / step) * step, 6) + 0.0

    def reading(self, name: str, value: float, to: str = "") -> str:
        """One reading as text. to: "+" or "-", the side from which the wheel must come."""
        axis = self._axis(name)
        value = self.snap(name, value)
        if axis.readout or not (axis.per_turn and axis.divisions):
            return self._figures(axis, value)
        return _wheel(axis, value)

    def several(self, name: str, values: Sequence[float]) -> str:
        """Readings one after another, the middle ones left out where there are many alike."""
        shown = [self.reading(name, v) for v in values]
        distinct = [s for n, s in enumerate(shown) if n == 0 or s != shown[n - 1]]
        return ",  ".join(distinct)

    def span(self, name: str, start: float, stop: float) -> str:
        """From one reading to another."""
        return f"{self.reading(name, start)} – {self.reading(name, stop)}"

    def length(self, value: float) -> str:
        """A plain length in words."""
        if self.unit is Unit.INCH:
            return f"{value / INCH:.4f} in"
        return f"{value:.3f} mm"

    def _figures(self, axis: Axis, value: float) -> str:
        if axis.unit is Unit.INCH:
            step = (axis.readout or 0.0127) / INCH
            return f"{value / INCH:+.{_decimals(step)}f}"
        return f"{value:+.{_decimals(axis.readout or 0.01)}f}"


def _decimals(step: float) -> int:
    """Decimals that show a step fully: 0.005 -> 3, 0.01 -> 2, 0.0005 -> 4."""
    return max(0, ceil(-log10(step) - 1e-9))


def _wheel(axis: Axis, value: float) -> str:
    """Turns and divisions from zero: "+6 turns 17½ div"."""
    divisions = round(abs(value) / (axis.per_turn / axis.divisions) * 2) / 2
    turns, rest = divmod(divisions, axis.divisions)
    half = "½" if rest % 1 else ""
    whole = str(int(rest)) if rest >= 1 or not half else ""
    sign = "−" if value < 0 else "+"
    return f"{sign}{int(turns)} turn{'s' if turns != 1 else ''} {whole}{half} div"
