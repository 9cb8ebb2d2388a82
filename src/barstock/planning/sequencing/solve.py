"""The door to the sequencing core: the best plan found, with a bound, until time, stop or proof."""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from time import monotonic

from barstock.planning.sequencing.bound import Bound
from barstock.planning.sequencing.model import Chosen, Problem, SequencingError, Solution
from barstock.planning.sequencing.price import price
from barstock.planning.sequencing.search import Path, Search
from barstock.planning.sequencing.terse import Terse

Progress = Callable[[float, float], None]


def solve(
    problem: Problem,
    *,
    seconds: float = 60.0,
    seed: int = 0,
    threads: int = 2,
    progress: Progress | None = None,
    stop: Callable[[], bool] | None = None,
) -> Solution:
    """The cheapest order of work.

    seconds: time limit; without proof by then, the best plan so far is returned with its bound.
    progress(cost, bound) is called at each better plan. stop() may end it early.
    Raises SequencingError where no order of work satisfies the problem.
    """
    begun = monotonic()
    if not problem.operations:
        return Solution((), 0.0, 0.0, 0.0)
    terse = Terse(problem)
    base = sum(terse.base)

    def halted() -> bool:
        return monotonic() - begun > seconds or (stop is not None and stop())

    bound = Bound(terse)
    search = Search(terse, bound, bound.load)
    best: Path | None = None
    cost = inf
    for width in (3, 30):
        found = search.beam(width, cost)
        if found.path is not None:
            best, cost = found.path, found.cost
    found = search.exact(cost, halted)
    if found.path is not None:
        best, cost = found.path, found.cost
    if best is None:
        raise SequencingError("no order of work satisfies the problem")
    plan = tuple(Chosen(terse.names[o], *terse.ways[k]) for o, k in best)
    total = price(problem, plan)
    return Solution(plan, total, min(total, found.bound + base), monotonic() - begun)
