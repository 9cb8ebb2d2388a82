"""How sizes fall within their limits, where many parts are made."""

from __future__ import annotations

from enum import StrEnum
from typing import Any


class Law(StrEnum):
    """The law by which a size falls within its limits."""

    NORMAL = "normal"
    EVEN = "even"


def fall(rng: Any, law: Law, low: Any, high: Any, shape: Any) -> Any:
    """Sizes drawn by chance, in an array of that shape; normal: the limits at three deviations.

    rng: numpy's generator; low, high: limits, each one or one a size.
    """
    if law is Law.EVEN:
        return rng.uniform(low, high, shape)
    return rng.normal((low + high) / 2, (high - low) / 6, shape)
