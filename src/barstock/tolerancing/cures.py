"""The cheapest cure for a dimension that the shop cannot guarantee as planned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from barstock.tolerancing.chains import Link, chain
from barstock.tolerancing.working_limits import share_out


@dataclass(frozen=True)
class Cure:
    """Something to do otherwise. words: for the bench; minutes: what it costs in all;

    links: those that replace the planned links of the same names.
    """

    words: str
    minutes: float
    links: tuple[Link, ...]


def from_one_zero(made: Sequence[Link], first: str, second: str, minutes: float) -> Cure:
    """Cut what link `second` places from the zero of link `first`: the other zero drops out.

    made: the planned links; minutes: what the change costs. Raises KeyError for an unknown name,
    ChainError where no links join the two.

    >>> one = [Link("zero 2", "face", "zero", 0, -0.02, 0.02)]
    >>> one += [Link("x", "face", "a", 5, -0.01, 0.01), Link("y", "zero", "b", 9, -0.01, 0.01)]
    >>> moved = from_one_zero(one, "x", "y", 4.0).links[0]
    >>> moved.start, moved.end, moved.nominal
    ('face', 'b', 9)
    """
    by_name = {link.name: link for link in made}
    a, b = by_name[first], by_name[second]
    nominal = chain(made, a.start, b.end).nominal
    moved = Link(b.name, a.start, b.end, nominal, b.minus, b.plus)
    return Cure(f"cut {b.end} from the same zero as {a.end}", minutes, (moved,))


def held_to(link: Link, error: float, words: str, minutes: float) -> Cure:
    """Hold one link closer: the edge found afresh, a first-off measured, a better stop.

    error: what it is then held to, either way [mm].

    >>> stop = Link("stop", "jaw", "end", 0, -0.05, 0.05)
    >>> held_to(stop, 0.01, "find the edge afresh on each copy", 16).links[0].plus
    0.01
    """
    held = Link(link.name, link.start, link.end, link.nominal, -error, error)
    return Cure(words, minutes, (held,))


def cheapest(
    made: Sequence[Link], wanted: Sequence[Link], cures: Sequence[Cure], most: int = 2
) -> list[tuple[Cure, ...]]:
    """Which of the cures, alone or up to `most` together, make every limit hold; cheapest first.

    Empty where nothing is amiss or nothing helps. Raises ChainError.

    >>> stop = Link("stop", "jaw", "end", 0, -0.05, 0.05)
    >>> made = [stop, Link("x", "jaw", "hole", 8, -0.01, 0.01)]
    >>> wanted = [Link("position", "end", "hole", 8, -0.05, 0.05)]
    >>> afresh = held_to(stop, 0.01, "find the edge afresh on each copy", 16)
    >>> [c.words for c in cheapest(made, wanted, [afresh])[0]]
    ['find the edge afresh on each copy']
    """
    if not share_out(made, wanted).shortfalls:
        return []
    helpful: list[tuple[Cure, ...]] = []
    for many in range(1, most + 1):
        for several in combinations(cures, many):
            if any(set(done) <= set(several) for done in helpful):
                continue
            if not share_out(_changed(made, several), wanted).shortfalls:
                helpful.append(several)
    return sorted(helpful, key=lambda several: sum(c.minutes for c in several))


def _changed(made: Sequence[Link], cures: Sequence[Cure]) -> list[Link]:
    new = {link.name: link for cure in cures for link in cure.links}
    return [new.get(link.name, link) for link in made]
