"""What every coil of round wire has."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi


@dataclass(frozen=True)
class Coil:
    """wire: diameter; mean: diameter of the coil on the wire's middle [mm]."""

    wire: float
    mean: float

    @property
    def index(self) -> float:
        """Mean diameter over wire (w)."""
        return self.mean / self.wire

    @property
    def outside(self) -> float:
        """Outside diameter (De) [mm]."""
        return self.mean + self.wire


@dataclass(frozen=True)
class Sheared(Coil):
    """A coil whose wire a load along its axis twists: pressed together or drawn apart."""

    def stress(self, load: float) -> float:
        """Shear stress without the effect of curvature, 8 D F / (π d³) [MPa]."""
        return 8 * self.mean * load / (pi * self.wire**3)

    def corrected(self, load: float) -> float:
        """Shear stress at the inside of the coil [MPa]: times (w + 0.5) / (w - 0.75)."""
        return curvature(self.index) * self.stress(load)


def curvature(index: float) -> float:
    """How much higher the stress is at the inside of the coil, by Bergsträsser. EN 13906-1, 7.

    >>> round(curvature(8), 4)
    1.1724
    """
    return (index + 0.5) / (index - 0.75)
