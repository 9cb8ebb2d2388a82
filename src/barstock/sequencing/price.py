"""What a given plan costs, added up from the problem's own figures, after checking its order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from barstock.sequencing.problem import Chosen, Problem, SequencingError


def price(problem: Problem, plan: Sequence[Chosen]) -> float:
    """Cost of a plan.

    Raises SequencingError where an operation is missing, done twice, too early, or in a way that is
    not among its choices.
    """
    _check(problem, plan)
    changeover = problem.changeover
    total = 0.0
    last: Chosen | None = None
    visited: set[tuple[str, str]] = set()
    loaded: set[str] = set()
    for chosen in plan:
        operation = problem.operations[chosen.operation]
        work = problem.works.get(operation.work)
        way = (chosen.machine, chosen.tool, chosen.setup)
        total += (work.copies if work else 1) * min(
            c.cost for c in operation.choices if (c.machine, c.tool, c.setup) == way
        )
        moved = last is not None and last.machine != chosen.machine
        begun = last is None and changeover.first
        if last is not None and moved:
            total += _cost(changeover.machine, last.machine, chosen.machine)
        if begun or (last is not None and (moved or last.tool != chosen.tool)):
            total += _cost(changeover.tool, last.tool if last else chosen.tool, chosen.tool)
        if begun or (last is not None and (moved or last.setup != chosen.setup)):
            total += _cost(changeover.setup, last.setup if last else chosen.setup, chosen.setup)
        place = (chosen.machine, chosen.setup)
        if last is None or (last.machine, last.setup) != place:
            if place in visited:
                if changeover.revisit == inf:
                    raise SequencingError(f"'{chosen.operation}' comes back to a setup left before")
                total += changeover.revisit
            visited.add(place)
            loaded = set()
        if work and operation.work not in loaded:
            loaded.add(operation.work)
            total += work.load * work.copies
        last = chosen
    return total


def _check(problem: Problem, plan: Sequence[Chosen]) -> None:
    group = problem.groups()
    picked = {chosen.operation for chosen in plan}
    done: set[str] = set()
    made: set[str] = set()
    for chosen in plan:
        operation = problem.operations.get(chosen.operation)
        if operation is None:
            raise SequencingError(f"the plan does '{chosen.operation}', not an operation")
        mine = group[chosen.operation]
        if mine in done:
            raise SequencingError(f"the plan does '{chosen.operation}' or its like twice")
        for name in operation.after:
            if name in picked and name not in made:
                raise SequencingError(f"the plan does '{chosen.operation}' before '{name}'")
        way = (chosen.machine, chosen.tool, chosen.setup)
        if way not in {(c.machine, c.tool, c.setup) for c in operation.choices}:
            raise SequencingError(f"'{chosen.operation}' cannot be done by {' '.join(way)}")
        done.add(mine)
        made.add(chosen.operation)
    missing = sorted(set(group.values()) - done)
    if missing:
        raise SequencingError("the plan leaves out " + ", ".join(missing))


def _cost(
    costs: float | Mapping[str, float] | Mapping[str, Mapping[str, float]], a: str, b: str
) -> float:
    if not isinstance(costs, Mapping):
        return costs
    flat = costs.get(b)
    if isinstance(flat, (int, float)):
        return flat
    rows = {key: row for key, row in costs.items() if isinstance(row, Mapping)}
    if b in rows.get(a, {}):
        return float(rows[a][b])
    return max((float(row[b]) for row in rows.values() if b in row), default=0.0)
