"""The door to the core: limits, Ctrl-C, seeds, bounds and errors."""

from __future__ import annotations

import random

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


def big(count=60, seed=1):
    """Operations on three machines, ten tools, six ways up: too many to be proven at once."""
    rng = random.Random(seed)
    operations = {}
    for i in range(count):
        tools = rng.sample("abcdefghij", 2)
        setups = rng.sample("uvwxyz", 2)
        choices = tuple(
            Choice(m, t, s, rng.randint(5, 40))
            for m in rng.sample("ABC", 2)
            for t in tools
            for s in setups
        )
        after = tuple(f"o{j}" for j in range(i) if rng.random() < 0.03)
        operations[f"o{i}"] = Operation(choices, after)
    return Problem(operations, (), Changeover(machine=200, tool=15, setup=80))


def test_a_limit_gives_a_valid_plan_bound_and_gap():
    problem, heard = big(), []
    solution = solve(
        problem,
        seconds=None,
        steps=300_000,
        progress=lambda cost, bound: heard.append((cost, bound)),
    )
    assert price(problem, solution.plan) == solution.cost
    assert 0 < solution.bound < solution.cost
    assert not solution.proven
    assert solution.gap == pytest.approx((solution.cost - solution.bound) / solution.cost)
    costs, bounds = [cost for cost, _ in heard], [bound for _, bound in heard]
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)
    assert (costs[-1], bounds[-1]) == (solution.cost, solution.bound)
    assert solution.cost < costs[0]


def test_ctrl_c_ends_it_once_it_is_good_enough():
    def enough(cost, bound):
        if bound > 0.7 * cost:
            raise KeyboardInterrupt

    problem = big()
    solution = solve(problem, seconds=3600, progress=enough)
    assert not solution.proven
    assert solution.gap < 0.3
    assert price(problem, solution.plan) == solution.cost


def test_ctrl_c_gives_the_best_so_far():
    def interrupt(cost, bound):
        raise KeyboardInterrupt

    problem = big()
    solution = solve(problem, seconds=60, progress=interrupt)
    assert price(problem, solution.plan) == solution.cost
    assert solution.bound <= solution.cost


def test_ctrl_c_goes_on_to_who_does_not_want_half_an_answer():
    def interrupt(cost, bound):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        solve(big(), seconds=60, progress=interrupt, stoppable=False)


def test_same_seed_same_plan():
    problem = big(count=12)
    one, two = solve(problem, seconds=30, seed=3), solve(problem, seconds=30, seed=3)
    assert one.proven
    assert one.plan == two.plan


def test_steps_of_work_end_it_at_the_same_plan_and_bound():
    problem = big(count=25)
    one, two = (solve(problem, seconds=None, steps=20_000) for _ in range(2))
    assert not one.proven
    assert (one.plan, one.bound) == (two.plan, two.bound)
    assert price(problem, one.plan) == one.cost
    assert solve(problem, seconds=None, steps=100_000).cost <= one.cost


def test_nothing_to_do():
    solution = solve(Problem({}))
    assert (solution.plan, solution.cost, solution.proven) == ((), 0, True)


MILL = Choice("mill", "cutter", "top", 1)


def test_waiting_for_each_other_is_an_error():
    operations = {"a": Operation((MILL,), ("b",)), "b": Operation((MILL,), ("a",))}
    with pytest.raises(SequencingError, match="none can be first: a, b"):
        solve(Problem(operations))


@pytest.mark.parametrize(
    ("plan", "message"),
    [
        ([], "leaves out a, b"),
        (["a"], "leaves out b"),
        (["b", "a"], "does 'b' before 'a'"),
        (["a", "a"], "does 'a' or its like twice"),
        (["a", "z"], "does 'z', not an operation"),
    ],
)
def test_a_wrong_plan_is_told(plan, message):
    problem = Problem({"a": Operation((MILL,)), "b": Operation((MILL,), ("a",))})
    with pytest.raises(SequencingError, match=message):
        price(problem, [Chosen(name, "mill", "cutter", "top") for name in plan])


def test_a_way_that_is_not_a_choice_is_told():
    problem = Problem({"a": Operation((MILL,))})
    with pytest.raises(SequencingError, match="'a' cannot be done by mill drill top"):
        price(problem, [Chosen("a", "mill", "drill", "top")])
