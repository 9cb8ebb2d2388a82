"""Dimension chains over the faces of a part and the zeros of its setups, along one axis.

A face, a hole's centre or a setup's zero is a place, by name. A link says how far one place lies
from another and within what limits: a reading dialled from a zero, the finding of that zero on a
face, a stop, a bought size. What a drawing asks between two places follows from the chain of links
that joins them. Two faces cut from one zero meet at that zero, so the error of finding it drops
out by itself. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass


class ChainError(ValueError):
    """A link without sense; says what is wrong with it."""


@dataclass(frozen=True)
class Link:
    """The distance from `start` to `end` along the axis: nominal [mm], and its deviations [mm].

    minus <= 0 <= plus is usual but not needed.
    """

    name: str
    start: str
    end: str
    nominal: float
    minus: float
    plus: float

    def __post_init__(self) -> None:
        if self.minus > self.plus:
            raise ChainError(f"'{self.name}' has its lower deviation above its upper one")
        if self.start == self.end:
            raise ChainError(f"'{self.name}' starts and ends at {self.start}")

    @property
    def width(self) -> float:
        """Distance between the limits [mm]."""
        return self.plus - self.minus


@dataclass(frozen=True)
class Chain:
    """What joins two places. links: each with 1 where it is gone along, -1 against.

    Half a link is gone to a centre line, the tangent of the lean where a length shifts a leaning
    floor. low, nominal, high: distance from start to end, at the worst [mm].
    """

    start: str
    end: str
    links: tuple[tuple[Link, float], ...]

    @property
    def nominal(self) -> float:
        return sum(sign * link.nominal for link, sign in self.links)

    @property
    def low(self) -> float:
        return self.nominal + sum(n * (k.minus if n > 0 else k.plus) for k, n in self.links)

    @property
    def high(self) -> float:
        return self.nominal + sum(n * (k.plus if n > 0 else k.minus) for k, n in self.links)


def together(start: str, end: str, *chains: tuple[Chain, float]) -> Chain:
    """A place reckoned from several: the sum of chains, each so many times.

    A link that they share counts once, and drops out where it cancels.

    >>> length = Chain("left", "right", ((Link("length", "left", "right", 40, -0.1, 0.1), 1),))
    >>> hole = Chain("left", "hole", ((Link("reading", "left", "hole", 8, -0.01, 0.01), 1),))
    >>> given = together("middle", "hole", (hole, 1), (length, -0.5))
    >>> [(link.name, times) for link, times in given.links]
    [('reading', 1.0), ('length', -0.5)]
    """
    times: dict[Link, float] = {}
    for one, often in chains:
        for link, sign in one.links:
            times[link] = times.get(link, 0.0) + often * sign
    return Chain(start, end, tuple((k, n) for k, n in times.items() if abs(n) > 1e-12))
