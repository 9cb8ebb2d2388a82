"""Working limits: how far each reading, zero and stop may err so that every limit is guaranteed.

The room that the drawing leaves is shared so that the least comfortable link is as comfortable as
it can be: all errors grow together in proportion to what the shop holds anyway, until a chain is
full; its links stand still then, and the rest go on. (Progressive filling; it yields the max-min
fair share, Bertsekas and Gallager, Data Networks, 6.5.2.)
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.tolerancing.chains import Chain

TINY = 1e-12


def fill(floors: Mapping[str, float], chains: Sequence[tuple[Chain, float]]) -> dict[str, float]:
    """Share the room of chains over their links: name -> how far it may err either way [mm].

    floors: what the shop holds each link to, above zero; chains: each with its room either way,
    which the floors must fit.

    >>> from barstock.tolerancing.chains import Link
    >>> x, y = Link("x", 5, -0.01, 0.01), Link("y", 9, -0.02, 0.02)
    >>> fill({"x": 0.01, "y": 0.02}, [(Chain(((x, -1), (y, 1))), 0.06)])
    {'x': 0.02, 'y': 0.04}
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
