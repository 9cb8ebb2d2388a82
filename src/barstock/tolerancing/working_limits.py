"""Working limits: how far each reading, zero and stop may err so that every limit is guaranteed.

The room that the drawing leaves is shared so that the least comfortable link is as comfortable as
it can be: all errors grow together in proportion to what the shop holds anyway, until a chain is
full; its links stand still then, and the rest go on. (Progressive filling; it yields the max-min
fair share, Bertsekas and Gallager, Data Networks, 6.5.2.)
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barstock.tolerancing.chains import Chain, ChainError, Link, chain

TINY = 1e-12


@dataclass(frozen=True)
class Shortfall:
    """A dimension that this shop cannot guarantee. missing: room that lacks, either way [mm]."""

    wanted: Link
    chain: Chain
    missing: float

    def __str__(self) -> str:
        return f"{self.wanted.name} lacks ±{self.missing:.3f} mm: {self.chain}"


@dataclass(frozen=True)
class Shares:
    """allowed: name of a link -> how far it may err either way [mm]; shortfalls: what cannot be.

    A link that is in no chain, or only in ones that cannot be held, has what the shop holds.
    """

    allowed: dict[str, float]
    shortfalls: tuple[Shortfall, ...]


def share_out(made: Sequence[Link], wanted: Sequence[Link]) -> Shares:
    """Working limits for each link of `made` so that all of `wanted` is guaranteed.

    made: nominal readings with what the shop holds at best (its repeatability) as deviations;
    wanted: the drawing's dimensions. Raises ChainError for a link that the shop holds exactly
    (it has no share to grow by) or that no chain reaches.

    >>> made = [Link("x", "zero", "a", 5, -0.01, 0.01), Link("y", "zero", "b", 9, -0.02, 0.02)]
    >>> got = share_out(made, [Link("gap", "a", "b", 4, -0.06, 0.06)])
    >>> {name: round(room, 3) for name, room in got.allowed.items()}
    {'x': 0.02, 'y': 0.04}
    """
    floors = {link.name: max(-link.minus, link.plus) for link in made}
    if len(floors) != len(made):
        raise ChainError("two links have the same name; give each its own")
    for name, floor in floors.items():
        if floor <= 0:
            raise ChainError(f"'{name}' is held without any error; give what the shop repeats to")
    chains: list[tuple[Chain, float]] = []
    shortfalls = []
    for one in wanted:
        found = chain(made, one.start, one.end)
        off = found.nominal - one.nominal
        room = min(one.plus - off, off - one.minus)
        least = sum(abs(times) * floors[link.name] for link, times in found.links)
        if least > room + TINY:
            shortfalls.append(Shortfall(one, found, round(least - room, 9)))
        else:
            chains.append((found, room))
    return Shares(fill(floors, chains), tuple(shortfalls))


def fill(floors: Mapping[str, float], chains: Sequence[tuple[Chain, float]]) -> dict[str, float]:
    """Share the room of chains over their links: name -> how far it may err either way [mm].

    floors: what the shop holds each link to, above zero; chains: each with its room either way,
    which the floors must fit.
    """
    used = {link.name for found, _ in chains for link, _ in found.links}
    fixed = {name: floor for name, floor in floors.items() if name not in used}
    times = [{link.name: abs(n) for link, n in found.links} for found, _ in chains]
    rooms = [room for _, room in chains]
    while growing := [n for n, many in enumerate(times) if any(m not in fixed for m in many)]:
        factors = {}
        for n in growing:
            taken = sum(often * fixed.get(m, 0.0) for m, often in times[n].items())
            open_ = sum(often * floors[m] for m, often in times[n].items() if m not in fixed)
            factors[n] = (rooms[n] - taken) / open_
        factor = min(factors.values())
        full = [n for n in growing if factors[n] <= factor + TINY]
        fixed.update({m: floors[m] * factor for n in full for m in times[n] if m not in fixed})
    return {name: round(fixed[name], 9) for name in floors}
