"""Orders of work kept on disk by the content of their problem: what did not change is not searched
for again."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import partial
from pathlib import Path

from barstock.drawing.content import program
from barstock.methods.known import kept
from barstock.planning.sequencing import Problem, Solution, solve

Solver = Callable[[Problem, float], Solution]


def fresh(problem: Problem, seconds: float) -> Solution:
    """Search, remembering nothing."""
    return solve(problem, seconds=seconds, stoppable=False)


def kept_in(folder: Path) -> Solver:
    """A solver that keeps every solution in `folder`, under its problem and the search's source.

    An unreadable file is searched for anew. Raises OSError where the folder cannot be written.
    """
    source = program("planning/sequencing")

    def find(problem: Problem, seconds: float) -> Solution:
        key = hashlib.sha256((source + repr(problem)).encode()).hexdigest()[:32]
        solution: Solution = kept(
            folder / f"{key}.json", Solution, partial(fresh, problem, seconds)
        )
        return solution

    return find
