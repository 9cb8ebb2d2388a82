"""What the route leaves to the person: features and parts that it does not make, and why."""

from __future__ import annotations

from enum import StrEnum

from barstock.route.record import Record


class LeftHow(StrEnum):
    """How what is left comes about: LEFT, where no way was found that the proof passes; all others
    are what the person, or the limits, say of it. BOUGHT, ELSEWHERE and CAST are of whole parts.
    """

    LEFT = "left"
    BY_HAND = "by hand"
    FILED = "filed"
    WITH_MATE = "with its mate"
    BOUGHT = "bought"
    ELSEWHERE = "turned elsewhere"
    CAST = "cast"


class Tried(Record):
    """One way that was tried and failed.

    way: what was to be done, or how the work was held for it; "" where the refusal is of neither.
    refusal: in the words of who refused it, be it the reading, the planner or the proof.
    """

    way: str = ""
    refusal: str


class Left(Record):
    """What is left of a part. features: those left; none: the whole part is."""

    part: str
    features: tuple[str, ...] = ()
    how: LeftHow = LeftHow.LEFT
    tried: tuple[Tried, ...] = ()

    @property
    def whole(self) -> bool:
        """Is the whole part left?"""
        return not self.features
