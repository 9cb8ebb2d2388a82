"""Orders of work kept on disk by the content of their problem: what did not change is not searched
for again."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path

from barstock.planning import sequencing
from barstock.planning.sequencing import Chosen, Problem, Solution, solve

Solver = Callable[[Problem, float], Solution]


def fresh(problem: Problem, seconds: float) -> Solution:
    """Search, remembering nothing."""
    return solve(problem, seconds=seconds, stoppable=False)


def kept_in(folder: Path) -> Solver:
    """A solver that keeps every solution in `folder`, under its problem and the search's source.

    An unreadable file is searched for anew. Raises OSError where the folder cannot be written.
    """
    source = Path(next(iter(sequencing.__path__)))
    program = b"".join(path.read_bytes() for path in sorted(source.glob("*.py")))

    def find(problem: Problem, seconds: float) -> Solution:
        key = hashlib.sha256(program + repr(problem).encode()).hexdigest()[:32]
        place = folder / f"{key}.json"
        try:
            known = json.loads(place.read_text())
            plan = tuple(Chosen(**chosen) for chosen in known.pop("plan"))
            return Solution(plan, **known)
        except (OSError, ValueError, TypeError, KeyError):
            pass
        solution = solve(problem, seconds=seconds, stoppable=False)
        folder.mkdir(parents=True, exist_ok=True)
        handle, draft = tempfile.mkstemp(dir=folder)
        with os.fdopen(handle, "w") as file:
            json.dump(asdict(solution), file)
        Path(draft).replace(place)
        return solution

    return find
