"""How far long work has come, told to whoever waits for it."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[str, float], None]
"""Told what is being done and the share of the whole that is done, 0 to 1."""


def silent(words: str, share: float) -> None:
    """Tell nobody; for callers that do not ask."""


def share_of(tell: Progress, start: float, stop: float, before: str = "") -> Progress:
    """The progress of one step within that of the whole, its words with others before them."""
    return lambda words, share: tell(before + words, start + (stop - start) * share)
