"""The order of all parts' setups: alike setups follow one another, so that the vise stays as it is,
and of these the ones that share a hole pattern.

Each part's own setups keep their order. Maps to the sequencing core: a setup is an operation, what
its vise, packing, stop and tilt look like is its core setup.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

from barstock.drawing.build import Pin, within
from barstock.planning.order.alike_setups import likeness, saving
from barstock.planning.order.known_orders import Solver, fresh
from barstock.planning.order.part_order import has_circle
from barstock.planning.order.plain_orders import one_part, one_tool
from barstock.planning.order.shared_patterns import brought_together
from barstock.planning.order.user_pins import Clash, ClashError, fewest
from barstock.route import Setup
from barstock.route.statements import ReasonKind, because
from barstock.sequencing import Changeover, Choice, Operation, Problem
from barstock.workshop.shop import ShopTimes


@dataclass(frozen=True)
class Arranged:
    """Setups in order with the minutes that following an alike one saves each.

    one_part, one_tool: the minutes of the two plain orders.
    """

    setups: tuple[Setup, ...]
    saved: float
    proven: bool
    bound: float
    one_part: float = 0.0
    one_tool: float = 0.0


def arrange(
    chains: Sequence[Sequence[Setup]],
    times: ShopTimes,
    steps: int,
    pins: Sequence[Pin] = (),
    solver: Solver = fresh,
    operations_after: Mapping[str, set[str]] = MappingProxyType({}),
) -> Arranged:
    """Order the setups of several parts (each in its own order) for the least setting up.

    pins: one operation before another. operations_after: operations that come before each. The
    order is no slower than a plain one: where the search finds none quicker, that of the plain one
    is taken. Raises ClashError where the pins cannot all hold.
    """
    setups = {s.id: s for chain in chains for s in chain}
    if not setups:
        return Arranged((), 0.0, True, 0.0)
    kinds = {s.id: likeness(s) for s in setups.values()}
    saved_by = {kinds[s.id]: saving(s, times) for s in setups.values()}
    chained = {s.id: {before.id} for chain in chains for before, s in pairwise(chain)}

    def after(kept: Sequence[Pin]) -> dict[str, set[str]]:
        return {s.id: chained.get(s.id, set()) | _pinned(s, setups, kept) for s in setups.values()}

    def impossible(kept: Sequence[Pin]) -> bool:
        return has_circle(after(kept))

    if impossible(pins):
        reason = "the setups of the parts would wait for each other"
        raise ClashError(Clash(tuple(fewest(pins, impossible)), reason=reason))
    operations = {
        name: Operation(
            (Choice(setups[name].machine, "", kinds[name], 0.0),), tuple(sorted(before))
        )
        for name, before in after(pins).items()
    }
    problem = Problem(operations=operations, changeover=Changeover(setup=saved_by))
    solution = solver(problem, steps)
    waits = after(pins)
    plain = one_part(chains, waits, times), one_tool(chains, waits, operations_after, times)
    orders = ([c.operation for c in solution.plan], *(each.setups for each in plain))
    best = max(orders, key=lambda order: round(_saved([setups[i] for i in order], times), 6))
    ordered = brought_together([setups[name] for name in best], waits)
    saved = 0.0
    result: list[Setup] = []
    for s in ordered:
        if result and kinds[s.id] == kinds[result[-1].id]:
            gain = saved_by[kinds[s.id]]
            saved += gain
            s = s.model_copy(
                update={
                    "minutes": round(s.minutes - gain, 2),
                    "why": (*s.why, because(ReasonKind.HELD_ALIKE)),
                }
            )
        result.append(s)
    minutes = [each.minutes for each in plain]
    return Arranged(tuple(result), saved, solution.gap <= 1e-9, solution.bound, *minutes)


def _saved(order: Sequence[Setup], times: ShopTimes) -> float:
    """The minutes that setups held like those before them save."""
    return sum(saving(s, times) for one, s in pairwise(order) if likeness(one) == likeness(s))


def _pinned(setup: Setup, setups: Mapping[str, Setup], pins: Sequence[Pin]) -> set[str]:
    """The setups that pins put before this one."""
    found: set[str] = set()
    for pin in pins:
        first, then = pin.names
        if _does(setup, then):
            found |= {s.id for s in setups.values() if _does(s, first)} - {setup.id}
    return found


def _does(setup: Setup, name: str) -> bool:
    return any(within(name, o.id) for o in setup.operations)
