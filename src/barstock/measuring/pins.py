"""Dovetails, leaning slots and holes are measured between, or over, round pins.

A pin that touches two faces meeting at an angle has its centre on their bisector; every formula
here is that triangle. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, tan

from barstock.measuring.gauging import Gauging, GaugingError, above_zero, between


def cot(angle: float) -> float:
    """Cotangent of an angle in degrees.

    >>> round(cot(30), 4)
    1.7321
    """
    return 1 / tan(radians(angle))


def largest_pin(deep: float, angle: float) -> float:
    """The largest pin that touches the flank of a dovetail, and not its edge [mm].

    A pin in the corner touches the flank D (1 + cos angle) / 2 above the floor, which must be no
    more than the flank is deep.

    >>> largest_pin(6, 60)
    8.0
    """
    return round(2 * deep / (1 + cos(radians(angle))), 9)


def _touches(pin: float, deep: float, angle: float) -> None:
    """Raise GaugingError for a pin that stands on a dovetail's edge instead of its flank."""
    if deep and pin > largest_pin(deep, angle) + 1e-9:
        raise GaugingError(
            f"a pin of {pin:g} mm does not touch a flank {deep:g} mm deep at {angle:g}°: it would "
            f"lie on its edge; take one of {largest_pin(deep, angle):.2f} mm at most"
        )


@dataclass(frozen=True)
class DovetailSlot(Gauging):
    """The width of a dovetail slot, read between two pins lying in its corners.

    pin: diameter [mm]; angle: between floor and flank, under 90 [degrees]. The dimension is the
    width at the floor, corner to sharp corner, or across the mouth where `depth` [mm] is given.
    Source: Machinery's Handbook, Measuring Dovetail Slides: y = b - D (1 + cot(angle / 2)),
    mouth = b - 2 depth cot angle.

    >>> way = DovetailSlot(pin=6, angle=60)
    >>> round(way.reading(30), 4)  # 30 - 6 (1 + 1.73205)
    13.6077
    """

    pin: float
    angle: float
    depth: float = 0.0

    def __post_init__(self) -> None:
        above_zero(pin=self.pin)
        between("dovetail's angle", self.angle, 0, 90)
        _touches(self.pin, self.depth, self.angle)

    def reading(self, dimension: float) -> float:
        floor = dimension + 2 * self.depth * cot(self.angle)
        both = 1 + cot(self.angle / 2)
        if self.pin * both >= floor:
            raise GaugingError(
                f"two pins of {self.pin:g} mm do not go side by side into a slot {floor:.2f} mm "
                f"wide at its floor; take them under {floor / both:.2f} mm"
            )
        return floor - self.pin * both

    def dimension(self, reading: float) -> float:
        floor = reading + self.pin * (1 + cot(self.angle / 2))
        return floor - 2 * self.depth * cot(self.angle)


@dataclass(frozen=True)
class DovetailSlide(Gauging):
    """The width of a dovetail slide, read over two pins lying in its corners.

    pin: diameter [mm]; angle: between flank and floor beside it, under 90 [degrees]. The dimension
    is the width at the root, corner to sharp corner, or across the top where its `height` [mm] is
    given. Source: Machinery's Handbook, Measuring Dovetail Slides: x = a + D (1 + cot(angle / 2)),
    top = a + 2 height cot angle.

    >>> round(DovetailSlide(pin=6, angle=60).reading(30), 4)
    46.3923
    """

    pin: float
    angle: float
    height: float = 0.0

    def __post_init__(self) -> None:
        above_zero(pin=self.pin)
        between("dovetail's angle", self.angle, 0, 90)
        _touches(self.pin, self.height, self.angle)

    def reading(self, dimension: float) -> float:
        root = dimension - 2 * self.height * cot(self.angle)
        return root + self.pin * (1 + cot(self.angle / 2))

    def dimension(self, reading: float) -> float:
        root = reading - self.pin * (1 + cot(self.angle / 2))
        return root + 2 * self.height * cot(self.angle)


@dataclass(frozen=True)
class LeaningSlots(Gauging):
    """The width across two leaning floors at their wide end, read over two pins lying on them.

    pin: diameter [mm]; lean: of each floor to the middle plane [degrees]; stack: blocks between a
    stop flush with the wide end and the pins [mm]. A floor falls `tan lean` for each mm away from
    that end; the pin's centre stands half its diameter square off it.

    >>> way = LeaningSlots(pin=6, lean=1.5, stack=10)
    >>> round(way.reading(23), 4)  # 23 - 2 x 13 tan 1.5° + 6 (1 + 1 / cos 1.5°)
    34.3212
    """

    pin: float
    lean: float
    stack: float = 0.0

    def __post_init__(self) -> None:
        above_zero(pin=self.pin)
        between("lean", self.lean, -45, 45)

    def _over(self) -> float:
        lean = radians(self.lean)
        along = self.stack + self.pin / 2
        return self.pin * (1 + 1 / cos(lean)) - 2 * along * tan(lean)

    def reading(self, dimension: float) -> float:
        return dimension + self._over()

    def dimension(self, reading: float) -> float:
        return reading - self._over()


@dataclass(frozen=True)
class HoleCentres(Gauging):
    """The distance of two holes' centres, read over (or between) pins that fit them.

    first, second: diameters of the pins [mm]; outside: read over both, else between them.
    Half of each pin is added or taken away.

    >>> HoleCentres(first=3.4, second=3.4).reading(28)
    31.4
    """

    first: float
    second: float
    outside: bool = True

    def __post_init__(self) -> None:
        above_zero(first_pin=self.first, second_pin=self.second)

    def _both(self) -> float:
        half = (self.first + self.second) / 2
        return half if self.outside else -half

    def reading(self, dimension: float) -> float:
        return dimension + self._both()

    def dimension(self, reading: float) -> float:
        return reading - self._both()


@dataclass(frozen=True)
class HoleFromEdge(Gauging):
    """The distance of a hole's centre from an edge, read from the edge over a pin that fits it.

    pin: diameter [mm]; outside: read over the pin's far side, else to its near side.

    >>> HoleFromEdge(pin=10).reading(15)
    20.0
    """

    pin: float
    outside: bool = True

    def __post_init__(self) -> None:
        above_zero(pin=self.pin)

    def reading(self, dimension: float) -> float:
        return dimension + (self.pin if self.outside else -self.pin) / 2

    def dimension(self, reading: float) -> float:
        return reading - (self.pin if self.outside else -self.pin) / 2
