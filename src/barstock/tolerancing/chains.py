"""Dimension chains along one axis: what a distance is made up of, and how far that may be out.

A link is one thing that counts: a reading dialled from a zero, the finding of that zero on a face,
a stop, a bought size. Two faces cut from one zero have the finding of it in both their chains, so
that it drops out between them. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass


class ChainError(ValueError):
    """Raised for a link without sense; says what is wrong with it."""


@dataclass(frozen=True)
class Link:
    """One length in a chain, by its name: nominal [mm], and its deviations [mm].

    minus <= 0 <= plus is usual but not needed.
    """

    name: str
    nominal: float
    minus: float
    plus: float

    def __post_init__(self) -> None:
        if self.minus > self.plus:
            raise ChainError(f"'{self.name}' has its lower deviation above its upper one")

    @property
    def width(self) -> float:
        """The distance between the limits [mm]."""
        return self.plus - self.minus


@dataclass(frozen=True)
class Chain:
    """A distance as a chain of links. links: each with 1 where it is gone along, -1 against.

    Half a link is gone to a centre line, the tangent of the lean where a length shifts a leaning
    floor. low, nominal, high: the distance, at the worst [mm].
    """

    links: tuple[tuple[Link, float], ...]

    @property
    def nominal(self) -> float:
        """The nominal distance [mm]."""
        return sum(sign * link.nominal for link, sign in self.links)

    @property
    def low(self) -> float:
        """The least distance in the worst case [mm]."""
        return self.nominal + sum(n * (k.minus if n > 0 else k.plus) for k, n in self.links)

    @property
    def high(self) -> float:
        """The greatest distance in the worst case [mm]."""
        return self.nominal + sum(n * (k.plus if n > 0 else k.minus) for k, n in self.links)


def together(*chains: tuple[Chain, float]) -> Chain:
    """The place reckoned from several: the sum of chains, each so many times.

    A link that they share counts once, and drops out where it cancels.

    >>> length = Chain(((Link("length", 40, -0.1, 0.1), 1),))
    >>> hole = Chain(((Link("reading", 8, -0.01, 0.01), 1),))
    >>> given = together((hole, 1), (length, -0.5))
    >>> [(link.name, times) for link, times in given.links]
    [('reading', 1.0), ('length', -0.5)]
    """
    times: dict[Link, float] = {}
    for one, often in chains:
        for link, sign in one.links:
            times[link] = times.get(link, 0.0) + often * sign
    return Chain(tuple((k, n) for k, n in times.items() if abs(n) > 1e-12))
