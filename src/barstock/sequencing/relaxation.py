"""A lower bound for big problems: which machines, setups and tools must be used at all.

Each operation is done in one way; each machine, each setup of a machine and each tool on a machine
in use costs one change to it. A mixed-integer programme, with the changes that the precedence
forces at least (counted by itself) put in, and, where asked for, with the order of machines or
setups: one of two is left for good before the other is come to, or one of them is come back to.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np

from barstock.sequencing.indexed_problem import IndexedProblem, least_into

MOST_FRONTS, MOST_TRIED = 800, 15_000
MOST_ROWS = 30_000
NODES, MOST_ENTRIES = 400_000, 60_000  # of branching, times the entries; entries, without a time
MOST_CHAINED = 12
MACHINES, SETUPS = 0, 1


def fewest_changes(indexed: IndexedProblem, part: list[int]) -> int:
    """Least number of changes of machine (or tool, setup) that the precedence allows.

    part: the machine (tool, setup) of each way. Breadth-first over what can be done after so many
    changes, keeping only what is not part of another; stopped early it is still a lower bound.
    """
    able: list[list[tuple[int, int]]] = [[] for _ in range(max(part) + 1)]
    for i, options in enumerate(indexed.options):
        for one in {part[way] for way in options}:
            able[one].append((1 << indexed.group[i], indexed.hard[i]))
    front, count = [0], -1
    while len(front) * len(able) <= MOST_TRIED:
        count += 1
        reached = {_all_of(able[one], done) for done in front for one in range(len(able))}
        if indexed.full in reached:
            return count
        front = []
        for done in sorted(reached, key=lambda mask: (-mask.bit_count(), mask)):
            if not any(done & other == done for other in front):
                front.append(done)
            if len(front) > MOST_FRONTS:
                return count + 1
    return count + 1


def _all_of(able: list[tuple[int, int]], done: int) -> int:
    moved = True
    while moved:
        moved = False
        for bit, hard in able:
            if not done & bit and hard & done == hard:
                done |= bit
                moved = True
    return done


class _Programme:
    """Rows and columns of a mixed-integer programme being built."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.upper: list[float] = []
        self.whole: list[int] = []
        self.entries: list[tuple[int, int, float]] = []
        self.low: list[float] = []

    def column(self, cost: float = 0.0, upper: float = 1.0, whole: int = 1) -> int:
        self.cost.append(cost)
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.cost) - 1

    def at_least(self, low: float, terms: list[tuple[int, float]]) -> None:
        self.entries += [(len(self.low), column, factor) for column, factor in terms]
        self.low.append(low)

    def bound(self, seconds: float | None) -> float:
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import coo_matrix

        limit: dict[str, float] = {"node_limit": NODES // len(self.entries)}
        if seconds is not None:
            limit = {"time_limit": max(seconds, 0.1)}
        elif len(self.entries) > MOST_ENTRIES:
            return 0.0
        rows, columns, factors = zip(*self.entries, strict=True)
        shape = (len(self.low), len(self.cost))
        matrix = coo_matrix((factors, (rows, columns)), shape=shape).tocsr()
        result = milp(
            self.cost,
            constraints=LinearConstraint(matrix, self.low, inf),
            bounds=Bounds(0, self.upper),
            integrality=np.array(self.whole),
            options=limit,
        )
        dual = result.mip_dual_bound
        return 0.0 if dual is None or not np.isfinite(dual) else float(dual)


def relaxed_bound(
    indexed: IndexedProblem, seconds: float | None, ordered: Sequence[int] = ()
) -> float:
    """No plan costs less than this, on top of the base costs.

    seconds: for the solver, else it branches a set number of times; the bound is valid wherever it
    stops. ordered: MACHINES, SETUPS or
    both, whose order is to be heeded: a better bound for more time.
    """
    programme = _Programme()
    parts = (
        indexed.machine,
        [m * 100_000 + s for m, s in zip(indexed.machine, indexed.setup, strict=True)],
        [m * 100_000 + t for m, t in zip(indexed.machine, indexed.tool, strict=True)],
    )
    used = [{one: programme.column() for one in sorted(set(part))} for part in parts]
    ways = [programme.column() for _ in indexed.ways]
    done = _assign(programme, indexed, parts, used, ways)
    visits = [list(columns.items()) for columns in used]
    for which in ordered:
        visits[which] += _order(programme, indexed, parts[which], used[which], done).items()
    several = len(used[0]) > 1
    tables = (indexed.machine_cost, indexed.setup_cost, indexed.tool_cost)
    least = (
        fewest_changes(indexed, indexed.machine),
        max(fewest_changes(indexed, indexed.setup), fewest_changes(indexed, indexed.place)),
        fewest_changes(indexed, indexed.tool),
    )
    counts = []
    for which, table in enumerate(tables):
        spent = programme.column(1.0, inf, 0)
        count = programme.column(0.0, inf, 0)
        counts.append(count)
        into = least_into(table, several and which > 0)
        terms = [(column, -into[one % 100_000]) for one, column in visits[which]]
        programme.at_least(-max(into), [(spent, 1.0), *terms])
        programme.at_least(-1.0, [(count, 1.0)] + [(column, -1.0) for _, column in visits[which]])
        programme.at_least(least[which], [(count, 1.0)])
        programme.at_least(0.0, [(spent, 1.0), (count, -min(into))])
    machines, setups, tools = counts
    programme.at_least(0.0, [(setups, 1.0), (machines, -1.0)])
    programme.at_least(0.0, [(tools, 1.0), (machines, -1.0)])
    every = [(setups, 1.0), (tools, 1.0), (machines, -1.0)]
    programme.at_least(-1.0, every + [(column, -1.0) for column in ways])
    return programme.bound(seconds) - 1e-6


def _assign(
    programme: _Programme,
    indexed: IndexedProblem,
    parts: tuple[list[int], ...],
    used: list[dict[int, int]],
    ways: list[int],
) -> list[dict[int, int]]:
    """Each group in one way, which uses its machine, setup and tool. Per group: way -> column."""
    all_done = []
    for g, members in enumerate(indexed.groups):
        least: dict[int, float] = {}
        for i in members:
            for way, cost in indexed.options[i].items():
                least[way] = min(least.get(way, inf), cost - indexed.base[g])
        done = {way: programme.column(cost, 1.0, 0) for way, cost in least.items()}
        programme.at_least(1.0, [(column, 1.0) for column in done.values()])
        for part, columns in zip(parts, used, strict=True):
            for one, mine in _sharing(done, part).items():
                programme.at_least(0.0, [(columns[one], 1.0)] + [(c, -1.0) for c in mine])
        for way, column in done.items():
            programme.at_least(0.0, [(ways[way], 1.0), (column, -1.0)])
        all_done.append(done)
    return all_done


def _order(
    programme: _Programme,
    indexed: IndexedProblem,
    part: list[int],
    used: dict[int, int],
    done: list[dict[int, int]],
) -> dict[int, int]:
    """Heeds the order of machines (or setups). Returns columns: one come back to at least once.

    Of two groups in order, done at a and b: a is left for good before b is come to, or one of them
    is come back to. "Before" is without cycles.
    """
    sharing = [_sharing(columns, part) for columns in done]
    rows = [
        (a, b, sharing[first][a] + sharing[then][b])
        for first, then in _pairs(indexed)
        for a in sharing[first]
        for b in sharing[then]
        if a != b
    ]
    if len(rows) > MOST_ROWS:
        return {}
    again = {one: programme.column() for one in used}
    for one, column in again.items():
        programme.at_least(0.0, [(used[one], 1.0), (column, -1.0)])
    few = len(used) <= MOST_CHAINED
    met = {(a, b) for a, b, _ in rows}
    if few:
        met = {(a, b) for a in used for b in used if a != b}
    before = {pair: programme.column() for pair in sorted(met)}
    for a, b, both in rows:
        sides = [(before[a, b], 1.0), (again[a], 1.0), (again[b], 1.0)]
        programme.at_least(-1.0, sides + [(column, -1.0) for column in both])
    if few:
        for a, b in before:
            programme.at_least(-1.0, [(before[a, b], -1.0), (before[b, a], -1.0)])
            for c in used:
                if c not in (a, b):
                    chain = [(before[a, c], 1.0), (before[a, b], -1.0), (before[b, c], -1.0)]
                    programme.at_least(-1.0, chain)
        return again
    size = float(len(used))
    turn = {one: programme.column(0.0, size, 0) for one in used}
    for (a, b), column in before.items():
        programme.at_least(-size, [(turn[b], 1.0), (turn[a], -1.0), (column, -size - 1.0)])
    return again


def _pairs(indexed: IndexedProblem) -> list[tuple[int, int]]:
    """Groups of which the first is always done before the second, however far between."""
    count = len(indexed.groups)
    before = [indexed.hard[m[0]] if len(m) == 1 else 0 for m in indexed.groups]
    for by in range(count):
        for g in range(count):
            if before[g] >> by & 1:
                before[g] |= before[by]
    return [(a, g) for g in range(count) for a in range(count) if before[g] >> a & 1]


def _sharing(columns: dict[int, int], part: list[int]) -> dict[int, list[int]]:
    sharing: dict[int, list[int]] = {}
    for way, column in columns.items():
        sharing.setdefault(part[way], []).append(column)
    return sharing
