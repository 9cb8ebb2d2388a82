"""What is told to whoever waits: how far long work has come, and what it left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barstock.reading.faults import Fault

Progress = Callable[[str, float], None]
"""Told what is being done and the share of the whole that is done, 0 to 1."""

LeftOut = Callable[[Sequence["Fault"]], None]
"""Told the faults for which something was left out."""


def silent(words: str, share: float) -> None:
    """Take what is told and do nothing with it; for callers that do not ask."""


def share_of(tell: Progress, start: float, stop: float, before: str = "") -> Progress:
    """The progress of one step within that of the whole, its words with others before them."""
    return lambda words, share: tell(before + words, start + (stop - start) * share)
