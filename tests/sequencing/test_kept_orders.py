"""Orders kept on disk: a dearer cut is no other problem, and its cost is told all the same."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.planning.order.known_orders import kept_in
from barstock.sequencing import Choice, Operation, Problem
from tests.sequencing.test_against_all_plans import added_up, least, random_problem


@pytest.mark.parametrize("seed", range(5000, 5150))
def test_a_kept_order_costs_the_least_of_all(seed: int, tmp_path: Path) -> None:
    problem, solver = random_problem(seed), kept_in(tmp_path)
    expected = least(problem)
    for found in (solver(problem, 9_000_000), solver(problem, 9_000_000)):
        assert found.cost == pytest.approx(expected)
        assert added_up(problem, found.plan) == pytest.approx(expected)
        assert found.proven


def deep(cutting: float) -> Problem:
    """Two operations, one of them also to be done by another machine."""
    ways = (Choice("mill", "drill", "flat", cutting), Choice("press", "drill", "flat", cutting + 1))
    return Problem(
        {
            "hole": Operation(ways),
            "face": Operation((Choice("mill", "cutter", "flat", 2.0),)),
        }
    )


def test_a_deeper_hole_is_not_ordered_anew(tmp_path: Path) -> None:
    solver = kept_in(tmp_path)
    before, after = solver(deep(1.7), 9_000_000), solver(deep(2.9), 9_000_000)
    assert len(list(tmp_path.iterdir())) == 1
    assert after.plan == before.plan
    assert after.cost - before.cost == pytest.approx(1.2)
    assert after.bound - before.bound == pytest.approx(1.2)


def test_another_difference_between_two_ways_is_ordered_anew(tmp_path: Path) -> None:
    solver, one = kept_in(tmp_path), deep(1.7)
    cheap_press = replace(one.operations["hole"].choices[1], cost=0.1)
    hole = replace(one.operations["hole"], choices=(one.operations["hole"].choices[0], cheap_press))
    solver(one, 9_000_000)
    solver(replace(one, operations=one.operations | {"hole": hole}), 9_000_000)
    assert len(list(tmp_path.iterdir())) == 2
