"""The gap a joint is designed with, cold and at heat, against what its filler can fill."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Finding
from barstock.quantities import Dimension


@dataclass(frozen=True)
class Link:
    """One size in the chain from pieces to gap. sign: +1 where it opens the gap, -1 closes it;
    share: 0.5 for a diameter seen from its axis."""

    what: str
    size: Dimension
    sign: int
    share: float = 1.0


@dataclass(frozen=True)
class Gap:
    """A gap's limits, worst case [mm], cold (20 C) and at heat; links: what it comes from.

    A hot figure is the cold one where growth does not matter.
    """

    joint: str
    least: float
    most: float
    least_hot: float
    most_hot: float
    links: tuple[Link, ...] = ()


def gap_of(joint: str, links: tuple[Link, ...], opens: float = 0.0) -> Gap:
    """The gap from its chain; opens: what it opens by at heat (negative closes) [mm]."""
    raise NotImplementedError


def check_gap(gap: Gap, alloy: str) -> tuple[Finding, ...]:
    """What is wrong with a gap for an alloy: closes at heat, too narrow, too wide; with a cure."""
    raise NotImplementedError
