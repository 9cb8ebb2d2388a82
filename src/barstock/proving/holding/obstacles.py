"""Bodies that a cutter, its shank and its holder must keep clear of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from barstock.proving.placing import FAR
from barstock.proving.upright_run import Run, Spot
from barstock.route import Body
from barstock.solids.shapes import Solid

CLEAR = 0.02  # meeting by less than this is touching [mm]
INTO = 0.5  # a solid entered by less is touched, by the rounding of readings [mm3]


class Obstacle(Protocol):
    """A body that the cutter must keep clear of. name: what is met, in words. top: its height [mm].
    how, mend: the words before the name, and what would help.
    """

    @property
    def name(self) -> str: ...

    @property
    def top(self) -> float: ...

    @property
    def how(self) -> str: ...

    @property
    def mend(self) -> str: ...

    def met_by(self, run: Run) -> bool:
        """Do a cutter's edges run into it?"""

    def met_above(self, run: Run, low: float, radius: float) -> bool:
        """Is it met by what is above `low` [mm] on the cutter's axis, of this radius?"""


@dataclass(frozen=True)
class Upright:
    """An obstacle that stands from the table up to `top` over a rectangle in plan.

    rounded: by how much it stands out round that rectangle, which of a round one is its middle.
    into, beside: how far it may be entered from above and from the side [mm].
    """

    name: str
    low: Spot
    high: Spot
    top: float
    mend: str
    how: str = "runs into"
    rounded: float = 0.0
    into: float = CLEAR
    beside: float = CLEAR

    def met_by(self, run: Run) -> bool:
        """Do a cutter's edges run into it?"""
        radius = run.radius_at(self.top - self.into)
        return radius > 0 and self._gap(run) < radius - self.beside

    def met_above(self, run: Run, low: float, radius: float) -> bool:
        """Is it met by what is above `low` [mm] on the cutter's axis, of this radius?"""
        return low < self.top - CLEAR and self._gap(run) < radius

    def _gap(self, run: Run) -> float:
        return run.gap(self.low, self.high) - self.rounded


@dataclass(frozen=True)
class Shaped:
    """An obstacle that a rectangle in plan does not do justice to: an exact solid."""

    name: str
    solid: Solid
    mend: str
    how: str = "runs into"

    @property
    def top(self) -> float:
        """The height of the solid [mm]."""
        return self.solid.bounds[1][2]

    def met_by(self, run: Run) -> bool:
        """Do a cutter's edges run into it?"""
        return run.tip < self.top and self._entered(run.solid(self.top))

    def met_above(self, run: Run, low: float, radius: float) -> bool:
        """Is it met by what is above `low` [mm] on the cutter's axis, of this radius?"""
        return low < self.top and self._entered(run.stadium(radius, low + CLEAR, self.top + 1.0))

    def _entered(self, swept: Solid) -> bool:
        return swept.common(self.solid).volume > INTO


def floor(name: str, mend: str, how: str = "runs into") -> Upright:
    """The table or the bed of a vise as an obstacle, which may not even be touched."""
    whole = (-FAR, -FAR), (FAR, FAR)
    return Upright(name, *whole, 0.0, mend, how, into=-CLEAR, beside=0.0)


def standing(body: Body, name: str, mend: str) -> Upright:
    """A body as high as its corners say, and all beneath it, as an obstacle."""
    return Upright(name, body.low[:2], body.high[:2], body.high[2], mend)
