"""Every indirect measurement gives the dimension from the reading, the reading from the dimension,
and how much of an error in the one becomes an error in the other.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import ClassVar

NUDGE = 1e-5
"""Half of the difference over which a sensitivity is taken [mm or degrees]."""


class GaugingError(ValueError):
    """Raised for pins, balls or wires that cannot measure this; says which would."""


class Gauging(ABC):
    """One way of measuring a dimension that no instrument reaches directly.

    Lengths in mm; a dimension that is an angle (`angular`) is in degrees.
    """

    angular: ClassVar[bool] = False

    @abstractmethod
    def reading(self, dimension: float) -> float:
        """What the instrument reads where the part has this dimension [mm]. Raises GaugingError."""

    @abstractmethod
    def dimension(self, reading: float) -> float:
        """The part's dimension where the instrument reads this [mm]. Raises GaugingError."""

    def sensitivity(self, dimension: float) -> float:
        """Error in the dimension for each mm of error in the reading, near a dimension.

        1 is a plain measurement; more magnifies errors; the sign says which way it goes.
        """
        change = self.reading(dimension + NUDGE) - self.reading(dimension - NUDGE)
        return 2 * NUDGE / change

    def limits(self, low: float, high: float) -> tuple[float, float]:
        """The least and greatest reading of a part within its limits [mm]."""
        ends = (self.reading(low), self.reading(high))
        return min(ends), max(ends)


def above_zero(**lengths: float) -> None:
    """Raise GaugingError for the first length that is not above zero."""
    for name, value in lengths.items():
        if value <= 0:
            raise GaugingError(f"the {name.replace('_', ' ')} must be above zero, not {value:g}")


def between(name: str, value: float, low: float, high: float) -> None:
    """Raise GaugingError for an angle that is not strictly between two others [degrees]."""
    if not low < value < high:
        raise GaugingError(
            f"the {name} must be between {low:g} and {high:g} degrees, not {value:g}"
        )
