"""What every coil of round wire has."""

from __future__ import annotations

from dataclasses import dataclass


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
