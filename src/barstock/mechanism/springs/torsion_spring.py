"""This module works out a helical torsion spring of round wire, wound up on a rod.

It goes by the formulas of EN 13906-3:2014, typed from memory and checked in tests against a
textbook.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, pi

from barstock.handbook.spring_grades import MODULUS
from barstock.mechanism.springs.round_wire_coil import Coil


@dataclass(frozen=True)
class Torsion(Coil):
    """A Torsion is a spring that is wound up. turns: of the body. young: modulus [MPa]."""

    turns: float
    young: float = MODULUS

    @property
    def rate(self) -> float:
        """Return moment over angle, E d⁴ / (64 D n) [N mm per radian]."""
        return self.young * self.wire**4 / (64 * self.mean * self.turns)

    @property
    def body(self) -> float:
        """Return the length of the close coils [mm].

        Winding up adds a wire for each turn wound.
        """
        return (self.turns + 1) * self.wire

    def angle(self, moment: float) -> float:
        """Return how far a moment winds it up [degrees]."""
        return degrees(moment / self.rate)

    def stress(self, moment: float) -> float:
        """Return the bending stress without the effect of curvature, 32 M / (π d³) [MPa]."""
        return 32 * moment / (pi * self.wire**3)

    def corrected(self, moment: float) -> float:
        """Return the bending stress at the inside of the coil [MPa].

        It is the stress times (w + 0.07)/(w - 0.75).
        """
        return (self.index + 0.07) / (self.index - 0.75) * self.stress(moment)

    def inside(self, moment: float) -> float:
        """Return the inside diameter when wound up [mm].

        The coil grows turns and so shrinks.
        """
        wound = self.turns + self.angle(moment) / 360
        return self.mean * self.turns / wound - self.wire
