"""Countersinks and V grooves measured by a ball, a pin or the depth fed in from touching.

Half of the top's width, the depth and the cone's half angle make one right-angled triangle; a
ball touches the cone square to its side. Lengths in mm, angles (included) in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, tan

from barstock.measuring.gauging import Gauging, GaugingError, above_zero, between


@dataclass(frozen=True)
class PinInCone(Gauging):
    """The top diameter of a countersink, read as the depth at which its cone is `start` wide.

    start [mm]: the diameter of a flat-ended pin dropped in, the reading being how far its end
    stands below the face; or that of the hole, the reading being the depth to feed the countersink
    from where it just touches the hole's edge. angle: included, of the cone [degrees].
    depth = (top - start) / 2 / tan(angle / 2).

    >>> PinInCone(start=2, angle=90).reading(4)
    1.0
    """

    start: float
    angle: float

    def __post_init__(self) -> None:
        above_zero(start=self.start)
        between("included angle", self.angle, 0, 180)

    def reading(self, dimension: float) -> float:
        if dimension < self.start:
            raise GaugingError(
                f"{self.start:g} mm does not go into a countersink {dimension:g} mm wide"
            )
        return round((dimension - self.start) / 2 / _slope(self.angle), 12)

    def dimension(self, reading: float) -> float:
        if reading < 0:
            raise GaugingError(f"the depth below the face is not negative: {reading:g} mm")
        return self.start + 2 * reading * _slope(self.angle)


@dataclass(frozen=True)
class BallInCone(Gauging):
    """The top diameter of a countersink, read as the height of a ball's top above the face.

    ball: diameter [mm]; angle: included [degrees]; hole: diameter below the cone [mm], 0 where it
    ends in a point. A negative reading: the ball's top is below the face. Just so the width of a V
    groove, a pin lying in it. top = 2 (r / cos h + (r - reading) tan h), h half the angle; the ball
    touches where the cone is 2 r cos h wide, which must be between hole and top.

    >>> round(BallInCone(ball=6, angle=90).reading(8), 4)  # 3 / sin 45° + 3 - 8 / 2
    3.2426
    """

    ball: float
    angle: float
    hole: float = 0.0

    def __post_init__(self) -> None:
        above_zero(ball=self.ball)
        between("included angle", self.angle, 0, 180)
        if self.touches <= self.hole:
            raise GaugingError(
                f"a {self.ball:g} mm ball drops into the {self.hole:g} mm hole; take one above "
                f"{self.hole / cos(radians(self.angle / 2)):.3g} mm"
            )

    @property
    def touches(self) -> float:
        """The diameter of the circle on which the ball touches the cone [mm]."""
        return self.ball * cos(radians(self.angle / 2))

    def reading(self, dimension: float) -> float:
        if dimension < self.touches:
            raise GaugingError(
                f"a {self.ball:g} mm ball sits on the edge of a countersink {dimension:g} mm wide;"
                f" take one under {dimension / cos(radians(self.angle / 2)):.3g} mm"
            )
        radius = self.ball / 2
        square = radius / cos(radians(self.angle / 2))
        return radius + (square - dimension / 2) / _slope(self.angle)

    def dimension(self, reading: float) -> float:
        radius = self.ball / 2
        square = radius / cos(radians(self.angle / 2))
        top = 2 * (square + (radius - reading) * _slope(self.angle))
        if top < self.touches:
            raise GaugingError(f"a {self.ball:g} mm ball reading {reading:g} mm sits on the edge")
        return top


def _slope(angle: float) -> float:
    return tan(radians(angle / 2))
