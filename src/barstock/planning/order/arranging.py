"""The order of all parts' setups: alike setups follow one another, so that the vise stays as it is,
and of these the ones that share a hole pattern.

Each part's own setups keep their order. Maps to the sequencing core: a setup is an operation, what
its vise, packing, stop and tilt look like is its core setup.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from barstock.drawing.build import Pin, within
from barstock.planning.holding.ways import WAYS
from barstock.planning.order.alike_setups import likeness
from barstock.planning.order.known_orders import Solver, fresh
from barstock.planning.order.part_order import has_circle
from barstock.planning.order.shared_patterns import brought_together
from barstock.planning.order.user_pins import Clash, ClashError, fewest
from barstock.route import Setup
from barstock.route.statements import ReasonKind, because
from barstock.sequencing import Changeover, Choice, Operation, Problem
from barstock.workshop.shop import ShopTimes


@dataclass(frozen=True)
class Arranged:
    """Setups in order with the minutes that following an alike one saves each."""

    setups: tuple[Setup, ...]
    saved: float
    proven: bool
    bound: float


def arrange(
    chains: Sequence[Sequence[Setup]],
    times: ShopTimes,
    steps: int,
    pins: Sequence[Pin] = (),
    solver: Solver = fresh,
) -> Arranged:
    """Order the setups of several parts (each in its own order) for the least setting up.

    pins: one operation before another. Raises ClashError where they cannot all hold.
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
    ordered = brought_together([setups[c.operation] for c in solution.plan], after(pins))
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
    return Arranged(tuple(result), saved, solution.gap <= 1e-9, solution.bound)


def saving(setup: Setup, times: ShopTimes) -> float:
    """The minutes saved where the setup before was held alike."""
    return WAYS[setup.holding.way].kept(times, bool(setup.holding.tilt))


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
