"""What every indirect measurement offers: the dimension from the reading, the reading from the
dimension, and how much of an error in the one becomes an error in the other.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

NUDGE = 1e-5
"""Half of the difference over which a sensitivity is taken [mm or degrees]."""

FINE_ENOUGH = 0.2
"""An instrument's error should eat at most this share of the limits (common practice)."""


class GaugingError(ValueError):
    """Pins, balls or wires that cannot measure this; says which would."""


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

    def share(self, low: float, high: float, error: float) -> float:
        """Share of the limits that an instrument's error eats, 1 being all of them.

        error: how far a reading may be wrong either way [mm]. Raises GaugingError.
        """
        if low >= high:
            raise GaugingError(f"the limits {low:g} and {high:g} leave nothing between them")
        return 2 * error * abs(self.sensitivity((low + high) / 2)) / (high - low)


@dataclass(frozen=True)
class Ranked:
    """A check with the share of the limits that its error eats. worth: at most a fifth."""

    name: str
    share: float

    @property
    def worth(self) -> bool:
        """Is the check fine enough for these limits?"""
        return self.share <= FINE_ENOUGH


def rank(ways: Mapping[str, tuple[Gauging, float]], low: float, high: float) -> list[Ranked]:
    """Ways of checking one dimension, the surest first.

    ways: name -> (the way, error of its reading either way [mm]). low, high: the dimension's
    limits [mm]. Raises GaugingError.

    >>> from barstock.measuring.cones import BallInCone, PinInCone
    >>> ways = {"ball": (BallInCone(6, 90), 0.005), "pin": (PinInCone(4, 90), 0.03)}
    >>> [(r.name, round(r.share, 2), r.worth) for r in rank(ways, 7.9, 8.1)]
    [('ball', 0.1, True), ('pin', 0.6, False)]
    """
    found = [Ranked(name, way.share(low, high, error)) for name, (way, error) in ways.items()]
    return sorted(found, key=lambda r: (r.share, r.name))


def above_zero(**lengths: float) -> None:
    """Raises GaugingError for the first length that is not above zero."""
    for name, value in lengths.items():
        if value <= 0:
            raise GaugingError(f"the {name.replace('_', ' ')} must be above zero, not {value:g}")


def between(name: str, value: float, low: float, high: float) -> None:
    """Raises GaugingError for an angle that is not strictly between two others [degrees]."""
    if not low < value < high:
        raise GaugingError(
            f"the {name} must be between {low:g} and {high:g} degrees, not {value:g}"
        )
