"""Tapers measured by rollers, and bores by balls.

Lengths in mm, angles (included) in degrees. Sources: the tangent triangle of each; the same sums
are in any metrology text under "taper measurement".
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, atan, degrees, radians, sin, sqrt, tan
from typing import ClassVar

from barstock.measuring.gauging import Gauging, GaugingError, above_zero, between
from barstock.measuring.pins import cot


@dataclass(frozen=True)
class TaperByRollers(Gauging):
    """The included angle of a taper plug standing on its small end [degrees].

    Read over two equal rollers on the plate, then over the same two raised on equal stacks: the
    reading is the second less the first [mm]. stack: height of each [mm].
    tan(angle / 2) = reading / (2 stack).

    >>> round(TaperByRollers(stack=50).dimension(5), 4)  # 1 in 10
    5.7248
    """

    stack: float
    angular: ClassVar[bool] = True

    def __post_init__(self) -> None:
        above_zero(stack=self.stack)

    def reading(self, dimension: float) -> float:
        between("included angle", dimension, -180, 180)
        return 2 * self.stack * tan(radians(dimension / 2))

    def dimension(self, reading: float) -> float:
        return 2 * degrees(atan(reading / 2 / self.stack))


@dataclass(frozen=True)
class SmallEnd(Gauging):
    """The diameter of a taper plug's small end, standing on a plate, read over two rollers beside.

    roller: diameter [mm]; angle: included, of the taper [degrees].
    reading = small end + roller (1 + cot(45° - angle / 4)).

    >>> SmallEnd(roller=10, angle=0).reading(20)  # a plain cylinder between two rollers
    40.0
    """

    roller: float
    angle: float

    def __post_init__(self) -> None:
        above_zero(roller=self.roller)
        between("included angle", self.angle, -180, 180)

    def _over(self) -> float:
        return self.roller * (1 + cot(45 - self.angle / 4))

    def reading(self, dimension: float) -> float:
        return round(dimension + self._over(), 12)

    def dimension(self, reading: float) -> float:
        return reading - self._over()


@dataclass(frozen=True)
class TaperByBalls(Gauging):
    """The included angle of a taper bore by two balls laid in it one after the other [degrees].

    large, small: diameters [mm]. The reading is how much lower the small ball's top lies than the
    large one's [mm]. With R, r their radii: sin(angle / 2) = (R - r) / (reading - (R - r)).

    >>> round(TaperByBalls(large=40, small=32).dimension(84), 4)  # 4 in 80
    5.732
    """

    large: float
    small: float
    angular: ClassVar[bool] = True

    def __post_init__(self) -> None:
        above_zero(small_ball=self.small)
        if self.large <= self.small:
            raise GaugingError("the large ball must be larger than the small one")

    def reading(self, dimension: float) -> float:
        between("included angle", dimension, 0, 180)
        step = (self.large - self.small) / 2
        return step + step / sin(radians(dimension / 2))

    def dimension(self, reading: float) -> float:
        step = (self.large - self.small) / 2
        if reading <= 2 * step:
            raise GaugingError(
                f"the small ball's top must lie more than {2 * step:g} mm below the large one's; "
                "else they touch no taper"
            )
        return 2 * degrees(asin(step / (reading - step)))


@dataclass(frozen=True)
class BoreByBalls(Gauging):
    """The diameter of a plain bore by two balls, one lying on the other, both on the wall.

    lower, upper: diameters [mm], both under the bore and together over it. The reading is the
    height of the upper ball's top over the bottom [mm].
    bore = s + sqrt(s² - (reading - s)²), s half the sum of the diameters.

    >>> round(BoreByBalls(lower=20, upper=20).dimension(36), 9)  # 20 + sqrt(20² - 16²)
    32.0
    """

    lower: float
    upper: float

    def __post_init__(self) -> None:
        above_zero(lower_ball=self.lower, upper_ball=self.upper)

    @property
    def _sum(self) -> float:
        return (self.lower + self.upper) / 2

    def reading(self, dimension: float) -> float:
        s = self._sum
        if not max(self.lower, self.upper) <= dimension <= 2 * s:
            raise GaugingError(
                f"balls of {self.lower:g} and {self.upper:g} mm do not lean on each other in a "
                f"{dimension:g} mm bore; each must be under it, both together over it"
            )
        return s + sqrt(s * s - (dimension - s) ** 2)

    def dimension(self, reading: float) -> float:
        s = self._sum
        if not s <= reading <= 2 * s:
            raise GaugingError(
                f"two balls of {self.lower:g} and {self.upper:g} mm stand {s:g} to {2 * s:g} mm "
                f"high, not {reading:g}"
            )
        return s + sqrt(s * s - (reading - s) ** 2)
