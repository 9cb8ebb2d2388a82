"""The door to the sequencing core: the best plan found, with a bound, until proof or its allowance.

The general solver CP-SAT does not take its place: of twelve process-planning cases it found as good
plans for the eight of up to 30 operations, two of them without the proof that takes two seconds
here; for the four of 55 to 85 operations, with six times the processor time, its plans cost 7 to
16 % more and its bounds lay 15 to 26 % lower (benchmarks/sequencing_cpsat.py compares the two).
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf

from barstock.sequencing.allowance import Allowance
from barstock.sequencing.anneal import Annealer
from barstock.sequencing.annealing_process import AnnealingProcess
from barstock.sequencing.bound import Bound
from barstock.sequencing.improve import Improver
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.price import price
from barstock.sequencing.problem import Problem, SequencingError, Solution
from barstock.sequencing.relaxation import MACHINES, SETUPS, relaxed_bound
from barstock.sequencing.search import Path, Search, SearchResult

Progress = Callable[[float, float], None]
WIDTHS = (1, 4, 20)
FEW_STATES = 20_000
RELAXING, SEARCHING = 0.25, 0.5
LONGEST = 15.0
BEGINNING = 0.05
SHORT = 3.0
STEPS = 40
CLOSE = 1e-6


def solve(
    problem: Problem,
    *,
    seconds: float | None = 60.0,
    steps: int | None = None,
    seed: int = 0,
    progress: Progress | None = None,
    stoppable: bool = True,
) -> Solution:
    """The cheapest order of work.

    seconds, steps: limits of time and of work; without proof by the first of them, the best plan so
    far is returned with its bound. With steps and no seconds the same seed gives the same plan and
    bound on any machine. progress(cost, bound) is called at each better plan or bound. Ctrl-C ends
    it early where it is stoppable; else it is raised to the caller.
    Raises SequencingError where no order of work satisfies the problem.
    """
    allowance = Allowance(seconds, steps)
    if not problem.operations:
        return Solution((), 0.0, 0.0, 0.0)
    planning = _Planning(problem, allowance, seed, progress)
    try:
        planning.run()
    except KeyboardInterrupt:
        if planning.path is None or not stoppable:
            raise
    if planning.path is None:
        if planning.bound < inf:
            limit = f"{seconds:g} s" if seconds else f"{steps} steps"
            raise SequencingError(f"no order of work found within {limit}; allow more")
        raise SequencingError("no order of work satisfies the problem")
    plan = planning.indexed.plan(planning.path)
    cost = price(problem, plan)
    bound = min(cost, planning.bound + planning.base)
    if cost - bound < CLOSE * max(1.0, cost):
        bound = cost
    return Solution(plan, cost, bound, allowance.elapsed)


class _Planning:
    """One run: the best plan and bound so far. cost, bound: on top of the base costs."""

    def __init__(
        self,
        problem: Problem,
        allowance: Allowance,
        seed: int,
        progress: Progress | None,
    ) -> None:
        self.problem, self.indexed = problem, IndexedProblem(problem)
        self.allowance, self.seed = allowance, seed
        self.progress = progress
        self.base = sum(self.indexed.base)
        self.path: Path | None = None
        self.cost, self.bound = inf, 0.0

    def halted(self, share: float = 1.0) -> bool:
        """Whether the share of the allowance is used."""
        return self.allowance.used > share

    @property
    def proven(self) -> bool:
        return self.bound >= self.cost - CLOSE * max(1.0, abs(self.cost + self.base))

    def run(self) -> None:
        search = Search(self.indexed, Bound(self.indexed), self.allowance)
        for width in WIDTHS:
            if self.path is not None and self.halted(BEGINNING):
                break
            self._take(search.beam(width, self.cost, self.halted))
            self._take(search.exact(self.cost, self.halted, FEW_STATES * width // WIDTHS[-1]))
            if self.proven or self.halted():
                return
        annealing = None
        timed = self.allowance.most_steps is None  # what another process finds, and when, is chance
        if self.path and timed and self.allowance.left > SHORT:
            annealing = AnnealingProcess(self.problem, self.path, self.seed + 1)
        try:
            self._relax()
            self._hear(annealing)
            self._take(search.exact(self.cost, lambda: self.halted(SEARCHING) or self.proven))
            self._improve(annealing)
        finally:
            if annealing:
                annealing.close()

    def _relax(self) -> None:
        for ordered in ((), (MACHINES,), (SETUPS,)):
            if not (self.proven or self.halted()):
                timed = self.allowance.seconds is not None
                limit = min(self.allowance.left * RELAXING, LONGEST) if timed else None
                self._raise(relaxed_bound(self.indexed, limit, ordered))

    def _improve(self, annealing: AnnealingProcess | None) -> None:
        if self.path is None:
            return
        annealer = Annealer(self.indexed, self.path, self.seed, self.allowance)
        improver = Improver(self.indexed, self.path, self.cost, self.seed, self.allowance)
        while not (self.proven or self.halted()):
            annealer.restart(self.path)
            annealer.cycle(self.halted)
            self._annealed(annealer.best)
            self._hear(annealing)
            improver.restart(self.path, self.cost)
            for _ in range(STEPS):
                if self.halted():
                    break
                improver.step(self.halted)
            self._better(improver.path, improver.cost)

    def _hear(self, annealing: AnnealingProcess | None) -> None:
        path = annealing.newest() if annealing else None
        if path:
            self._annealed(path)

    def _annealed(self, path: Path) -> None:
        self._better(path, price(self.problem, self.indexed.plan(path)) - self.base)

    def _take(self, found: SearchResult) -> None:
        if found.path is not None:
            self._better(found.path, found.cost)
        self._raise(min(found.bound, self.cost))

    def _better(self, path: Path, cost: float) -> None:
        if cost < self.cost - CLOSE:
            self.path, self.cost = path, cost
            self._report()

    def _raise(self, bound: float) -> None:
        bound = self.indexed.rounded(bound) if bound < inf else bound
        if bound > self.bound + CLOSE:
            self.bound = bound
            self._report()

    def _report(self) -> None:
        if self.progress and self.path is not None:
            self.progress(self.cost + self.base, min(self.cost, self.bound) + self.base)
