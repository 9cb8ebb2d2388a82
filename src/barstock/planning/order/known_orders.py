"""Orders of work kept on disk by the content of their problem: what did not change is not searched
for again.

What an operation takes in every order alike is left out of the problem first: a deeper cut is no
other problem.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import inf
from pathlib import Path

from barstock.sequencing import Problem, Solution, solve
from barstock.store.kept_values import kept_value

Solver = Callable[[Problem, int], Solution]
"""A solver is given a problem and the steps it may take."""

DIGITS = 9
"""Costs that differ by less are the same: sums are rounded."""


def fresh(problem: Problem, steps: int) -> Solution:
    """Search without remembering anything."""
    return solve(problem, seconds=None, steps=steps, stoppable=False)


def kept_in(folder: Path) -> Solver:
    """A solver that keeps every solution in `folder`, by its problem.

    An unreadable file is searched for anew. Raises OSError where the folder cannot be written.
    """

    def find(problem: Problem, steps: int) -> Solution:
        bare, least = bared(problem)
        found: Solution = kept_value(folder, Solution, partial(fresh, bare, steps), bare, steps)
        return replace(found, cost=found.cost + least, bound=found.bound + least)

    return find


def bared(problem: Problem) -> tuple[Problem, float]:
    """The problem without what every order of it costs alike, and how much that is."""
    group = problem.groups()
    least = dict.fromkeys(group.values(), inf)
    for name, operation in problem.operations.items():
        cheapest = min(choice.cost for choice in operation.choices)
        least[group[name]] = min(least[group[name]], cheapest)
    operations = {}
    for name, operation in problem.operations.items():
        each = least[group[name]]
        choices = [replace(c, cost=abs(round(c.cost - each, DIGITS))) for c in operation.choices]
        operations[name] = replace(operation, choices=tuple(choices))
    return replace(problem, operations=operations), sum(least.values())
