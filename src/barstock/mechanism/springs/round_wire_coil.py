"""This module says what every coil of round wire has."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi


@dataclass(frozen=True)
class Coil:
    """A Coil is round wire wound round.

    wire: its diameter; mean: diameter of the coil on the wire's middle [mm].
    """

    wire: float
    mean: float

    @property
    def index(self) -> float:
        """Return the mean diameter over the wire's (w)."""
        return self.mean / self.wire

    @property
    def outside(self) -> float:
        """Return the outside diameter (De) [mm]."""
        return self.mean + self.wire


@dataclass(frozen=True)
class Sheared(Coil):
    """A Sheared is a coil whose wire a load along its axis twists.

    It is pressed together or drawn apart.
    """

    def stress(self, load: float) -> float:
        """Return the shear stress without the effect of curvature, 8 D F / (π d³) [MPa]."""
        return 8 * self.mean * load / (pi * self.wire**3)

    def corrected(self, load: float) -> float:
        """Return the shear stress at the inside of the coil [MPa].

        It is the stress times (w + 0.5) / (w - 0.75).
        """
        return curvature(self.index) * self.stress(load)


def curvature(index: float) -> float:
    """Return how many times higher the stress is at the inside of the coil.

    The formula is Bergsträsser's. EN 13906-1, 7.

    >>> round(curvature(8), 4)
    1.1724
    """
    return (index + 0.5) / (index - 0.75)
