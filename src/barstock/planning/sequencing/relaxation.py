"""A lower bound for big problems: which machines, setups and tools must be used at all.

The problem without its order: each operation is done in one way, each machine, each setup of a
machine and each tool on a machine in use costs one change to it. A mixed-integer programme, with
the changes the precedence forces at least (counted by itself) put in.
"""

from __future__ import annotations

from math import inf

import numpy as np

from barstock.planning.sequencing.terse import Floats, Terse

MOST_FRONTS = 1500


def fewest_changes(terse: Terse, part: list[int]) -> int:
    """Least number of changes of machine (or tool, setup) that the precedence allows.

    part: the machine (tool, setup) of each way. Breadth-first over what can be done after so many
    changes, keeping only what is not part of another; stopped early it is still a lower bound.
    """
    able: list[list[tuple[int, int]]] = [[] for _ in range(max(part) + 1)]
    for i, options in enumerate(terse.options):
        for one in {part[way] for way in options}:
            able[one].append((1 << terse.group[i], terse.hard[i]))
    front, count = [0], -1
    while front and terse.full not in front:
        count += 1
        reached = {_all_of(able[one], done) for done in front for one in range(len(able))}
        if terse.full in reached:
            return count
        front = []
        for done in sorted(reached, key=lambda mask: (-mask.bit_count(), mask)):
            if not any(done & other == done for other in front):
                front.append(done)
            if len(front) > MOST_FRONTS:
                return count + 1
    return max(count, 0)


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

    def bound(self, seconds: float) -> float:
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import coo_matrix

        rows, columns, factors = zip(*self.entries, strict=True)
        shape = (len(self.low), len(self.cost))
        matrix = coo_matrix((factors, (rows, columns)), shape=shape).tocsr()
        result = milp(
            self.cost,
            constraints=LinearConstraint(matrix, self.low, inf),
            bounds=Bounds(0, self.upper),
            integrality=np.array(self.whole),
            options={"time_limit": max(seconds, 0.1)},
        )
        dual = result.mip_dual_bound
        return 0.0 if dual is None or not np.isfinite(dual) else float(dual)


def relaxed_bound(terse: Terse, seconds: float) -> float:
    """No plan costs less than this, on top of the base costs. seconds: for the solver."""
    programme = _Programme()
    parts = (
        terse.machine,
        [m * 100_000 + s for m, s in zip(terse.machine, terse.setup, strict=True)],
        [m * 100_000 + t for m, t in zip(terse.machine, terse.tool, strict=True)],
    )
    used = [{one: programme.column() for one in sorted(set(part))} for part in parts]
    ways = [programme.column() for _ in terse.ways]
    _assign(programme, terse, parts, used, ways)
    several = len(used[0]) > 1
    tables = (terse.machine_cost, terse.setup_cost, terse.tool_cost)
    least = (
        fewest_changes(terse, terse.machine),
        max(fewest_changes(terse, terse.setup), fewest_changes(terse, terse.place)),
        fewest_changes(terse, terse.tool),
    )
    counts = []
    for which, table in enumerate(tables):
        spent = programme.column(1.0, inf, 0)
        count = programme.column(0.0, inf, 0)
        counts.append(count)
        into = _into(table, several and which > 0)
        terms = [(column, -into[one % 100_000]) for one, column in used[which].items()]
        programme.at_least(-max(into), [(spent, 1.0), *terms])
        programme.at_least(-1.0, [(count, 1.0)] + [(c, -1.0) for c in used[which].values()])
        programme.at_least(least[which], [(count, 1.0)])
        programme.at_least(0.0, [(spent, 1.0), (count, -min(into))])
    machines, setups, tools = counts
    programme.at_least(0.0, [(setups, 1.0), (machines, -1.0)])
    programme.at_least(0.0, [(tools, 1.0), (machines, -1.0)])
    every = [(setups, 1.0), (tools, 1.0), (machines, -1.0)]
    programme.at_least(-1.0, every + [(column, -1.0) for column in ways])
    loads = terse.always_loaded()
    return programme.bound(seconds) - 1e-6 + loads


def _assign(
    programme: _Programme,
    terse: Terse,
    parts: tuple[list[int], ...],
    used: list[dict[int, int]],
    ways: list[int],
) -> None:
    for g, members in enumerate(terse.groups):
        least: dict[int, float] = {}
        for i in members:
            for way, cost in terse.options[i].items():
                least[way] = min(least.get(way, inf), cost - terse.base[g])
        done = {way: programme.column(cost, 1.0, 0) for way, cost in least.items()}
        programme.at_least(1.0, [(column, 1.0) for column in done.values()])
        for part, columns in zip(parts, used, strict=True):
            sharing: dict[int, list[int]] = {}
            for way, column in done.items():
                sharing.setdefault(part[way], []).append(column)
            for one, mine in sharing.items():
                programme.at_least(0.0, [(columns[one], 1.0)] + [(c, -1.0) for c in mine])
        for way, column in done.items():
            programme.at_least(0.0, [(ways[way], 1.0), (column, -1.0)])


def _into(table: Floats, kept: bool) -> list[float]:
    """Least cost of changing to each; kept: also by keeping it while the machine changes."""
    size = len(table)
    return [
        min((float(table[a, b]) for a in range(size) if a != b or kept), default=0.0)
        for b in range(size)
    ]
