"""What a given plan costs, added up from the problem's own figures, after checking its order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

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
    for chosen in plan:
        way = (chosen.machine, chosen.tool, chosen.setup)
        total += min(
            c.cost
            for c in problem.operations[chosen.operation].choices
            if (c.machine, c.tool, c.setup) == way
        )
        if last is not None:
            moved = last.machine != chosen.machine
            if moved:
                total += _cost(changeover.machine, last.machine, chosen.machine)
            if moved or last.tool != chosen.tool:
                total += _cost(changeover.tool, last.tool, chosen.tool)
            if moved or last.setup != chosen.setup:
                total += _cost(changeover.setup, last.setup, chosen.setup)
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
