"""This module works out a helical compression spring of round wire, cold coiled.

It gives stiffness, stress, lengths and swelling by the formulas of EN 13906-1:2013, clauses 7 and
9, with its symbols in the comments; they are typed from memory and checked in tests against
textbooks' worked examples and against elastic theory.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi, sqrt

from barstock.handbook.spring_grades import MODULUS, SHEAR_MODULUS
from barstock.mechanism.springs.round_wire_coil import Sheared

SEATED = 0.5
"""Seating coefficient: both ends stand flat on parallel faces. EN 13906-1, 9.14."""

END_TURNS = {"closed and ground": 2.0, "closed": 2.0, "open": 0.0}
"""Turns that do not work. EN 13906-1, 9.8 for closed ends, cold coiled; open ones common practice.
"""

ENDS = {"closed and ground": 2.0, "closed": 3.0, "open": 1.0}
"""Wires of the unloaded length that its ends take up, besides the working turns' pitches: pitch is
(L0 - 2d)/n ground, (L0 - 3d)/n closed, (L0 - d)/n open. Shigley, Mechanical Engineering Design,
table 10-1."""


@dataclass(frozen=True)
class Compression(Sheared):
    """A Compression is a spring that is pressed together.

    free: length [mm]; active: working turns. shear, young: moduli [MPa]; density [g/cm3].
    """

    active: float
    free: float
    ends: str = "closed and ground"
    shear: float = SHEAR_MODULUS
    young: float = MODULUS
    density: float = 7.85

    @property
    def inside(self) -> float:
        """Return the inside diameter (Di) [mm]."""
        return self.mean - self.wire

    @property
    def turns(self) -> float:
        """Return the number of all turns (nt)."""
        return self.active + END_TURNS[self.ends]

    @property
    def rate(self) -> float:
        """Return the rate, R = G d⁴ / (8 D³ n) [N/mm]."""
        return self.shear * self.wire**4 / (8 * self.mean**3 * self.active)

    @property
    def solid(self) -> float:
        """Return the solid length (Lc) [mm].

        It is nt d where ends are ground, else (nt + 1.5) d; with open ends (nt + 1) d.
        """
        more = {"closed and ground": 0.0, "closed": 1.5, "open": 1.0}[self.ends]
        return (self.turns + more) * self.wire

    @property
    def pitch(self) -> float:
        """Return the pitch of the working turns, unloaded (m) [mm].

        It is the free length less ENDS, over their number.
        """
        return (self.free - ENDS[self.ends] * self.wire) / self.active

    @property
    def gaps(self) -> float:
        """Return the sum of the least gaps between coils in service (Sa) [mm].

        Sa = n (0.0015 D²/d + 0.1 d), for loads at rest most of the time.
        """
        return self.active * (0.0015 * self.mean**2 / self.wire + 0.1 * self.wire)

    @property
    def least(self) -> float:
        """Return the least length in service (Ln) [mm]."""
        return self.solid + self.gaps

    @property
    def solid_load(self) -> float:
        """Return the load that brings it solid [N]."""
        return self.load_at(self.solid)

    def load_at(self, length: float) -> float:
        """Return the load at a length [N]; it is never less than 0."""
        return max(0.0, (self.free - length) * self.rate)

    def length_at(self, load: float) -> float:
        """Return the length under a load [mm]."""
        return max(self.solid, self.free - load / self.rate)

    @property
    def frequency(self) -> float:
        """Return the frequency of its own first surge, both ends held [Hz].

        It is half the root of rate over mass, the same as EN 13906-1, 9.12: f = 3560 d/(n D²)
        √(G/ρ), ρ in kg/dm³.
        """
        mass = 1e-6 * self.density * pi * self.mean * self.active * pi * self.wire**2 / 4
        return 0.5 * sqrt(self.rate * 1000 / mass)

    @property
    def swollen(self) -> float:
        """Return the outside diameter when solid, free to roll on its seats [mm].

        ΔDe = 0.1 (m² - 0.8 m d - 0.2 d²) / D with the pitch m. EN 13906-1, 9.11.
        """
        m, d = self.pitch, self.wire
        grown = 0.1 * (m**2 - 0.8 * m * d - 0.2 * d**2) / self.mean
        return self.outside + max(0.0, grown)

    def buckles_at(self) -> float:
        """Return the deflection at which it buckles [mm].

        It is infinite where the spring cannot buckle. EN 13906-1, 9.14.
        """
        ratio = self.shear / self.young
        slender = pi * self.mean / (SEATED * self.free)
        under = 1 - (1 - ratio) / (0.5 + ratio) * slender**2
        return inf if under < 0 else self.free * 0.5 / (1 - ratio) * (1 - sqrt(under))


def mean_for(rate: float, wire: float, active: float, shear: float = SHEAR_MODULUS) -> float:
    """Return the mean diameter that gives a rate [mm].

    >>> s = Compression(1.0, mean_for(10.0, 1.0, 6.0), 6.0, 20.0)
    >>> round(s.rate, 6)
    10.0
    """
    return float((shear * wire**4 / (8 * rate * active)) ** (1 / 3))
