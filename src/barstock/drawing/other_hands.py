"""What the plan does not make: parts that come ready made, and features finished by hand."""

from __future__ import annotations

from enum import StrEnum
from typing import Generic, Literal, TypeVar

from pydantic import Field

from barstock.reading.fields import Fields


class Source(StrEnum):
    """Where a part comes from that the plan does not make."""

    BOUGHT = "bought"
    ELSEWHERE = "turned elsewhere"
    BY_HAND = "by hand"
    CAST = "cast"


class HandFinish(StrEnum):
    """How a feature is made that no machine of the plan makes."""

    BY_HAND = "by hand"
    FILED = "filed"
    WITH_MATE = "with its mate"


ByHand = Literal["by hand", "filed", "with its mate"]
"""The words of `HandFinish`, as a feature's record lists them."""

Words = TypeVar("Words")


class FeatureFields(Fields, Generic[Words]):
    """What may be written of a feature of any kind. Words: of its finish."""

    kind: str
    finish: Words | None = Field(
        None,
        description="Made by hand, or with its mate clamped on; the plan makes the rest.",
    )
