"""Dimension chains over the faces of a part and the zeros of its setups, along one axis.

A face, a hole's centre or a setup's zero is a place, by name. A link says how far one place lies
from another and within what limits: a reading dialled from a zero, the finding of that zero on a
face, a stop, a bought size. What a drawing asks between two places follows from the chain of links
that joins them. Two faces cut from one zero meet at that zero, so the error of finding it drops
out by itself. Lengths in mm.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


class ChainError(ValueError):
    """Places that no links join, or links without sense; says what to add."""


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

    def __str__(self) -> str:
        return " ".join(_term(link, times) for link, times in self.links)


def _term(link: Link, times: float) -> str:
    often = "" if abs(times) == 1 else "½ " if abs(times) == 0.5 else f"{abs(times):.3g} × "
    return f"{'+' if times > 0 else '−'} {often}{link.name}"


def together(start: str, end: str, *chains: tuple[Chain, float]) -> Chain:
    """A place reckoned from several: the sum of chains, each so many times.

    A link that they share counts once, and drops out where it cancels.

    >>> length = Chain("left", "right", ((Link("length", "left", "right", 40, -0.1, 0.1), 1),))
    >>> hole = Chain("left", "hole", ((Link("reading", "left", "hole", 8, -0.01, 0.01), 1),))
    >>> str(together("middle", "hole", (hole, 1), (length, -0.5)))
    '+ reading − ½ length'
    """
    times: dict[Link, float] = {}
    for one, often in chains:
        for link, sign in one.links:
            times[link] = times.get(link, 0.0) + often * sign
    return Chain(start, end, tuple((k, n) for k, n in times.items() if abs(n) > 1e-12))


def chain(links: Iterable[Link], start: str, end: str) -> Chain:
    """The chain with the least worst case between two places. Raises ChainError.

    The least is found exactly, by the shortest path over the links' widths.

    >>> links = [Link("bottom", "zero", "a", 0, -0.02, 0.02), Link("slot", "zero", "b", 8, 0, 0.05)]
    >>> c = chain(links, "a", "b")
    >>> str(c), round(c.low, 3), round(c.high, 3)
    ('− bottom + slot', 7.98, 8.07)
    """
    beside: dict[str, list[tuple[str, Link, int]]] = {}
    for link in links:
        beside.setdefault(link.start, []).append((link.end, link, 1))
        beside.setdefault(link.end, []).append((link.start, link, -1))
    queue: list[tuple[float, int, int, str, tuple[tuple[Link, int], ...]]] = [
        (0.0, 0, 0, start, ())
    ]
    done: set[str] = set()
    order = 0
    while queue:
        width, length, _, place, so_far = heapq.heappop(queue)
        if place == end:
            return Chain(start, end, so_far)
        if place in done:
            continue
        done.add(place)
        for other, link, sign in beside.get(place, ()):
            if other not in done:
                order += 1
                further = (*so_far, (link, sign))
                heapq.heappush(queue, (width + link.width, length + 1, order, other, further))
    raise ChainError(f"nothing ties {end} to {start}; add the dimension or reading that does")


@dataclass(frozen=True)
class Verdict:
    """Does what is made hold what is wanted? missing: how much too wide at the worst [mm].

    side: the limit that is passed, "low", "high", "both" or "".
    """

    wanted: Link
    chain: Chain
    missing: float
    side: str

    @property
    def holds(self) -> bool:
        """Is the drawing's limit guaranteed?"""
        return self.missing <= 0

    def __str__(self) -> str:
        if self.holds:
            return f"{self.wanted.name} holds: {self.chain}"
        limits = "both its limits" if self.side == "both" else f"its {self.side} limit"
        return f"{self.wanted.name} may miss {limits} by {self.missing:.3f} mm: {self.chain}"


def judge(made: Sequence[Link], wanted: Sequence[Link]) -> list[Verdict]:
    """For every dimension of the drawing, the worst that these links can make of it.

    made: what the setups hold; wanted: what the drawing asks. Raises ChainError.

    >>> made = [Link("dial", "zero", "face", 10, -0.01, 0.01)]
    >>> print(judge(made, [Link("depth", "zero", "face", 10, 0, 0.02)])[0])
    depth may miss its low limit by 0.010 mm: + dial
    """
    verdicts = []
    for one in wanted:
        found = chain(made, one.start, one.end)
        under = round(one.nominal + one.minus - found.low, 9)
        over = round(found.high - one.nominal - one.plus, 9)
        side = (
            "both" if under > 0 and over > 0 else "low" if under > 0 else "high" if over > 0 else ""
        )
        verdicts.append(Verdict(one, found, max(under, over, 0.0), side))
    return verdicts
