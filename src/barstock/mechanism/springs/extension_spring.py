"""This module works out a helical extension spring of round wire, coiled close, looped at each end.

It goes by the formulas of EN 13906-2:2013; stress in the loops is as in Shigley's Mechanical
Engineering Design, chapter on springs. They are typed from memory and checked in tests.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, pi

from barstock.handbook.spring_grades import MODULUS, SHEAR_MODULUS
from barstock.mechanism.springs.round_wire_coil import Sheared


@dataclass(frozen=True)
class Extension(Sheared):
    """An Extension is a spring that is drawn out.

    turns: of the body, all working, and the loops work with it; initial: tension in it [N]. loop:
    mean radius of the loops; bend: that of the bend from body to loop [mm], half the coil and four
    wires where not given. shear, young: moduli [MPa].
    """

    turns: float
    initial: float
    loop: float = 0.0
    bend: float = 0.0
    shear: float = SHEAR_MODULUS
    young: float = MODULUS

    @property
    def active(self) -> float:
        """Return the working turns, with what both loops give: Nb + G/E.

        Shigley, Mechanical Engineering Design, equation 10-40.
        """
        return self.turns + self.shear / self.young

    @property
    def rate(self) -> float:
        """Return the rate beyond the initial tension, G d⁴ / (8 D³ n) [N/mm]."""
        return self.shear * self.wire**4 / (8 * self.mean**3 * self.active)

    @property
    def body(self) -> float:
        """Return the length of the close coils, (n + 1) d [mm]."""
        return (self.turns + 1) * self.wire

    @property
    def free(self) -> float:
        """Return the unloaded length inside the loops [mm].

        It is the body and two full loops, less the wire of each.
        """
        return self.body + 2 * (self.mean - self.wire)

    def length_at(self, load: float) -> float:
        """Return the length inside the loops under a load [mm]."""
        return self.free + max(0.0, load - self.initial) / self.rate

    def loop_bending(self, load: float) -> float:
        """Return the normal stress at the top of the loop [MPa].

        F (K 16 D/(π d³) + 4/(π d²)), K = (4C² - C - 1)/(4C (C - 1)), C = twice the radius over d.
        """
        c = 2 * (self.loop or self.mean / 2) / self.wire
        k = (4 * c * c - c - 1) / (4 * c * (c - 1))
        return load * (k * 16 * self.mean / (pi * self.wire**3) + 4 / (pi * self.wire**2))

    def loop_shear(self, load: float) -> float:
        """Return the shear stress in the bend from body to loop [MPa].

        It is that of the coil times (4C - 1)/(4C - 4).
        """
        c = 2 * (self.bend or 2 * self.wire) / self.wire
        return (4 * c - 1) / (4 * c - 4) * self.stress(load)


def initial_stress(index: float) -> float:
    """Return the shear stress to which coiling on a lathe can bring the initial tension [MPa].

    It is the middle of the range given in Shigley's Mechanical Engineering Design for what can be
    made without special care: 231 / e^(0.105 C) ± 6.9 (4 - (C - 3)/6.5). From memory.
    """
    return 231 / exp(0.105 * index)
