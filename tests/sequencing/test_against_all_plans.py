"""The core against exhaustive enumeration: every plan of thousands of small random problems.

The problems have every feature of the core. `added_up` and `all_plans` use none of its pricing or
search, only the records that state a problem.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import inf

import pytest

from barstock.sequencing import (
    Changeover,
    Choice,
    Chosen,
    Operation,
    Problem,
    SequencingError,
    price,
    solve,
)
from barstock.sequencing.anneal import Annealer
from barstock.sequencing.improve import Improver
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.relaxation import MACHINES, SETUPS, relaxed_bound
from barstock.sequencing.search import Search

BATCH = 150


def random_problem(seed: int) -> Problem:
    """Two to five operations; costs are whole numbers, so that sums are exact."""
    rng = random.Random(seed)
    count = rng.choice([2, 3, 3, 4, 4, 5])
    names = [f"o{i}" for i in range(count)]
    machines, tools, setups = "AB"[: rng.randint(1, 2)], "tuv"[: rng.randint(1, 3)], "xyz"
    groups: list[list[str]] = []
    if rng.random() < 0.5:
        pool = names[:]
        rng.shuffle(pool)
        groups = [pool[:2]]
        if count == 5 and rng.random() < 0.5:
            groups.append(pool[2:4])
    operations = {}
    for i, name in enumerate(names):
        ways = {
            (rng.choice(machines), rng.choice(tools), rng.choice(setups))
            for _ in range(rng.randint(1, 2 if count == 5 else 3))
        }
        choices = tuple(Choice(*way, rng.randint(1, 12)) for way in sorted(ways))
        after = tuple(other for other in names[:i] if rng.random() < 0.3)
        operations[name] = Operation(choices, after)
    return Problem(
        operations,
        groups,
        Changeover(
            machine=_costs(rng, machines),
            tool=_costs(rng, tools),
            setup=_costs(rng, setups),
        ),
    )


def _costs(rng: random.Random, names: str) -> object:
    kind = rng.random()
    if kind < 0.4:
        return rng.randint(0, 9)
    if kind < 0.7:
        return {name: rng.randint(0, 9) for name in names}
    return {a: {b: rng.randint(0, 9) for b in names} for a in names}


def added_up(problem: Problem, plan: Sequence[Chosen]) -> float:
    """The plan's cost, every item by itself; inf for a plan that breaks a rule."""
    at = {chosen.operation: i for i, chosen in enumerate(plan)}
    if len(at) != len(plan):
        return inf
    for names in problem.choose_one:
        if sum(name in at for name in names) != 1:
            return inf
    grouped = {name for names in problem.choose_one for name in names}
    if any(name not in at and name not in grouped for name in problem.operations):
        return inf
    for name, i in at.items():
        if any(before in at and at[before] > i for before in problem.operations[name].after):
            return inf
    cutting = 0.0
    for chosen in plan:
        operation = problem.operations[chosen.operation]
        cutting += min(
            choice.cost
            for choice in operation.choices
            if [choice.machine, choice.tool, choice.setup]
            == [chosen.machine, chosen.tool, chosen.setup]
        )
    changing, changeover = 0.0, problem.changeover
    for a, b in pairwise(plan):
        moved = a.machine != b.machine
        changing += _changed(changeover.machine, a.machine, b.machine) if moved else 0
        changing += _changed(changeover.tool, a.tool, b.tool) if moved or a.tool != b.tool else 0
        if moved or a.setup != b.setup:
            changing += _changed(changeover.setup, a.setup, b.setup)
    return cutting + changing


def _changed(costs: object, a: str, b: str) -> float:
    if not isinstance(costs, dict):
        return costs  # type: ignore[return-value]
    return costs[a][b] if isinstance(costs[b], dict) else costs[b]


def all_plans(problem: Problem) -> Iterator[list[Chosen]]:
    """Every order of every selection of operations, each in every way."""
    groups = [list(names) for names in problem.choose_one]
    grouped = {name for names in groups for name in names}
    groups += [[name] for name in problem.operations if name not in grouped]

    def go_on(plan: list[Chosen], left: list[list[str]]) -> Iterator[list[Chosen]]:
        if not left:
            yield plan
        for i, names in enumerate(left):
            for name in names:
                for c in problem.operations[name].choices:
                    step = Chosen(name, c.machine, c.tool, c.setup)
                    yield from go_on([*plan, step], left[:i] + left[i + 1 :])

    return go_on([], groups)


def least(problem):
    return min(added_up(problem, plan) for plan in all_plans(problem))


@pytest.mark.parametrize("batch", range(16))
def test_optimum_is_that_of_all_plans(batch):
    for seed in range(batch * BATCH, (batch + 1) * BATCH):
        problem = random_problem(seed)
        expected = least(problem)
        solution = solve(problem, seconds=20)
        assert solution.proven, seed
        assert solution.cost == pytest.approx(expected), seed
        assert solution.bound == pytest.approx(expected), seed
        assert added_up(problem, solution.plan) == pytest.approx(expected), seed


def test_price_agrees_with_adding_up_every_item():
    for seed in range(200):
        problem = random_problem(seed)
        for plan in list(all_plans(problem))[::7]:
            expected = added_up(problem, plan)
            if expected == inf:
                with pytest.raises(SequencingError):
                    price(problem, plan)
            else:
                assert price(problem, plan) == pytest.approx(expected), seed


def test_relaxed_bound_is_never_above_the_optimum():
    for seed in range(120):
        problem = random_problem(seed)
        expected = least(problem)
        indexed = IndexedProblem(problem)
        for ordered in ((), (MACHINES,), (SETUPS,), (MACHINES, SETUPS)):
            bound = relaxed_bound(indexed, 5.0, ordered) + sum(indexed.base)
            assert bound <= expected + 1e-6, seed


def test_improving_keeps_plans_valid_and_their_cost_right():
    better = 0
    for seed in range(400):
        problem = random_problem(seed)
        indexed = IndexedProblem(problem)
        found = Search(indexed, lambda done, way: 0.0).beam(1)
        assert found.path, seed
        ways = []
        improver = Improver(indexed, found.path, found.cost, seed)
        for _ in range(6):
            improver.step()
        ways.append((improver.path, improver.cost))
        annealer = Annealer(indexed, found.path, seed)
        annealer.run(600, 8.0, 0.5)
        ways.append((annealer.best, annealer.cost))
        for path, cost in ways:
            plan = indexed.plan(path)
            assert added_up(problem, plan) == pytest.approx(cost + sum(indexed.base)), seed
            better += cost < found.cost
    assert better > 20
