"""Fits of two parts, paint and plating included: worst case and by chance.

Clearance is the inside size less the outside size, less every coat twice where both walls wear it
(a box in its guide, a pin in its bore). Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.size_distribution import Law
from barstock.quantities import Dimension
from barstock.tolerancing.by_chance import SAMPLES, Spread, throw
from barstock.tolerancing.chains import Chain, Link


@dataclass(frozen=True)
class Coat:
    """A coat of paint or plating. low, high: its thickness on one wall [mm]; walls: that wear it, 1
    or 2.
    """

    name: str
    low: float
    high: float
    walls: int = 2

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high or self.walls not in (1, 2):
            raise ValueError(f"coat '{self.name}': give 0 <= low <= high in mm, on 1 or 2 walls")


@dataclass(frozen=True)
class Fit:
    """An inside size, the outside size that goes into it, and what coats the walls of either.

    inside_less, outside_less: sizes taken off either, as two rebates off a width.
    """

    name: str
    inside: Dimension
    outside: Dimension
    coats: tuple[Coat, ...] = ()
    inside_less: tuple[Dimension, ...] = ()
    outside_less: tuple[Dimension, ...] = ()

    @property
    def chain(self) -> Chain:
        """The clearance as a dimension chain."""
        links = [
            (Link("inside", *_link(self.inside)), 1.0),
            (Link("outside", *_link(self.outside)), -1.0),
        ]
        for which, taken, sign in (
            ("inside", self.inside_less, -1.0),
            ("outside", self.outside_less, 1.0),
        ):
            for n, size in enumerate(taken, 1):
                links.append((Link(f"{which} less {n}", *_link(size)), sign))
        for coat in self.coats:
            middle, half = (coat.low + coat.high) / 2, (coat.high - coat.low) / 2
            deviations = (coat.walls * middle, -coat.walls * half, coat.walls * half)
            links.append((Link(coat.name, *deviations), -1.0))
        return Chain(tuple(links))

    def clearance(self) -> tuple[float, float]:
        """The least and greatest clearance [mm]; below zero is interference.

        >>> h7g6 = Fit("pin", Dimension(10, 0, 0.015), Dimension(10, -0.014, -0.005))
        >>> [round(c, 3) for c in h7g6.clearance()]
        [0.005, 0.029]
        >>> painted = Fit("pin", h7g6.inside, h7g6.outside, (Coat("paint", 0.02, 0.04),))
        >>> [round(c, 3) for c in painted.clearance()]
        [-0.075, -0.011]
        """
        return self.chain.low, self.chain.high

    def by_chance(
        self,
        least: float = 0.0,
        most: float = float("inf"),
        *,
        law: Law = Law.NORMAL,
        samples: int = SAMPLES,
        seed: int = 1,
    ) -> Spread:
        """The clearance over many pairs, `outside` being the share not within least to most [mm].

        >>> h7g6 = Fit("pin", Dimension(10, 0, 0.015), Dimension(10, -0.014, -0.005))
        >>> round(h7g6.by_chance(samples=10_000).mean, 3)  # middle of 5 and 29 micrometres
        0.017
        """
        return throw(self.chain, (least, most), law=law, samples=samples, seed=seed)


def _link(d: Dimension) -> tuple[float, float, float]:
    return d.nominal, d.minus, d.plus
