"""Lengths, angles and limits: what a drawing says, in one internal unit.

Everything inside barstock is plain millimetres and degrees (floats). A `Dimension` keeps what the
drawing said beside them, so that the user reads back the drawing's own words.
This module imports nothing of barstock.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

MM = 1.0
INCH = 25.4
THOU = 0.0254


class Unit(StrEnum):
    """The unit a figure is written and printed in."""

    MM = "mm"
    INCH = "inch"


@dataclass(frozen=True)
class Dimension:
    """A size on the drawing with its limits.

    nominal, minus, plus: [mm], or [degrees] for an angle; minus <= plus are deviations.
    text: as written in the file. stated: True where the drawing gives the limits itself,
    False where they come from the build's general tolerance.
    """

    nominal: float
    minus: float = 0.0
    plus: float = 0.0
    text: str = ""
    unit: Unit = Unit.MM
    stated: bool = False

    @property
    def low(self) -> float:
        """Low limit [mm]."""
        return self.nominal + self.minus

    @property
    def high(self) -> float:
        """High limit [mm]."""
        return self.nominal + self.plus

    @property
    def middle(self) -> float:
        """Middle of the limits, the size to aim for [mm]."""
        return self.nominal + (self.minus + self.plus) / 2
