"""Best-first search over what is done and where the plan stands; exact, or a beam of given width.

A state is (done groups, way). Whatever can be done here and now at its least cost is done at once:
moving it forward never costs more (see IndexedProblem.metric). So states are closed under such
work, and few.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from math import inf

from barstock.sequencing.allowance import Allowance
from barstock.sequencing.indexed_problem import IndexedProblem, Task

State = tuple[int, int]
Path = list[tuple[int, int]]
START: State = (0, -1)
MOST_STATES = 1_500_000
CLOSE = 1e-7


@dataclass(frozen=True)
class SearchResult:
    """The best plan a search found. path: (operation, way) in order, None where nothing better than
    `below` was found.

    cost, bound: on top of the base costs. bound: no plan costs less (min of it and `below`).
    """

    path: Path | None
    cost: float
    bound: float
    states: int


class Search:
    """The search of one problem. rest(done, way): admissible bound of what is still to pay.

    allowance: where the states it reaches are counted.
    """

    def __init__(
        self,
        indexed: IndexedProblem,
        rest: Callable[[int, int], float],
        allowance: Allowance | None = None,
    ) -> None:
        self.indexed, self.rest = indexed, rest
        self.allowance = allowance or Allowance()

    def exact(
        self, below: float = inf, stop: Callable[[], bool] = bool, states: int = MOST_STATES
    ) -> SearchResult:
        """A*: the cheapest plan costing less than `below`; stop() or `states` ends it early."""
        full = self.indexed.full
        self._begin()
        heap: list[tuple[float, float, State]] = []
        self._spread(START, 0.0, below, heap)
        heapify(heap)
        count = 0
        while heap:
            estimate, spent, state = heappop(heap)
            spent = -spent
            if self.best[state] < spent:
                continue
            if state[0] & full == full:
                return SearchResult(self._path(state), spent, spent, len(self.best))
            count += 1
            if count % 64 == 0 and (stop() or len(self.best) > states):
                return SearchResult(None, inf, estimate, len(self.best))
            more: list[tuple[float, float, State]] = []
            self._spread(state, spent, below, more)
            for item in more:
                heappush(heap, item)
        return SearchResult(None, inf, below, len(self.best))

    def beam(self, width: int, below: float = inf, stop: Callable[[], bool] = bool) -> SearchResult:
        """A good plan: of the states with equally many groups done only the `width` best go on."""
        full = self.indexed.full
        self._begin()
        levels: list[list[tuple[float, float, State]]] = [
            [] for _ in range(len(self.indexed.base) + 1)
        ]
        self._deal(START, 0.0, below, levels)
        for level in levels[:-1]:
            level.sort()
            went: set[State] = set()
            for _, spent, state in level:
                if len(went) >= width or stop():
                    break
                if state not in went and self.best[state] >= -spent:
                    went.add(state)
                    self._deal(state, -spent, below, levels)
        ends = [item for item in levels[-1] if item[2][0] & full == full]
        if not ends:
            return SearchResult(None, inf, 0.0, len(self.best))
        _, spent, state = min(ends)
        return SearchResult(self._path(state), -spent, 0.0, len(self.best))

    def _deal(
        self,
        state: State,
        spent: float,
        below: float,
        levels: list[list[tuple[float, float, State]]],
    ) -> None:
        more: list[tuple[float, float, State]] = []
        self._spread(state, spent, below, more)
        for item in more:
            levels[(item[2][0] & self.indexed.full).bit_count()].append(item)

    def _begin(self) -> None:
        self.best: dict[State, float] = {START: 0.0}
        self.came: dict[State, tuple[State, int, int]] = {}

    def _spread(
        self, state: State, spent: float, below: float, into: list[tuple[float, float, State]]
    ) -> None:
        """Puts what can follow a state into the list: (estimate, -spent, state)."""
        indexed = self.indexed
        done, way = state
        change, free, paid = indexed.change[way], indexed.free, indexed.paid
        for to in indexed.active:
            cost = spent + change[to]
            if cost >= below:
                continue
            for _, _, block, before, _, _, _ in free[to]:
                if not done & block and before & done == before:
                    self._reach(state, -1, (done, to), cost, below, into)
                    break
            else:
                for task in paid[to]:
                    self._do(task, state, to, cost, below, into)

    def _do(
        self,
        task: Task,
        state: State,
        to: int,
        cost: float,
        below: float,
        into: list[tuple[float, float, State]],
    ) -> None:
        operation, bit, block, before, keep, extra, soft = task
        done = state[0]
        if done & block or before & done != before:
            return
        if soft:
            bars = 0
            for group, bar in soft:
                if not done & group:
                    bars |= bar
            if not bars:
                return
            done |= bars
            if self.indexed.attainable((done | bit) & keep) != self.indexed.full:
                return
        self._reach(state, operation, ((done | bit) & keep, to), cost + extra, below, into)

    def _reach(
        self,
        origin: State,
        operation: int,
        at: State,
        cost: float,
        below: float,
        into: list[tuple[float, float, State]],
    ) -> None:
        self.allowance.steps += 1
        done, way = at
        state = (self._close(done, way), way)
        if cost >= self.best.get(state, inf):
            return
        estimate = cost + self.rest(*state)
        if estimate >= below - CLOSE:
            return
        self.best[state] = cost
        self.came[state] = (origin, operation, done)
        into.append((estimate, -cost, state))

    def _close(self, done: int, way: int, order: Path | None = None) -> int:
        """Does all that is free here, noting it in `order`."""
        ready = True
        while ready:
            ready = False
            for operation, bit, block, before, keep, _, _ in self.indexed.free[way]:
                if not done & block and before & done == before:
                    done = (done | bit) & keep
                    ready = True
                    if order is not None:
                        order.append((operation, way))
        return done

    def _path(self, state: State) -> Path:
        legs = []
        while state != START:
            origin, operation, done = self.came[state]
            legs.append((operation, done, state))
            state = origin
        path: Path = []
        for operation, done, (_, way) in reversed(legs):
            if operation >= 0:
                path.append((operation, way))
            self._close(done, way, path)
        return path
