"""A sequencing problem in numbers: operations, groups, ways (machine, tool, setup) by index; sets
as bits.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, inf

import numpy as np
from numpy.typing import NDArray

from barstock.sequencing.problem import Changeover, Chosen, Problem, SequencingError

Floats = NDArray[np.float64]
Way = tuple[str, str, str]
UNITS, SAFE = (1.0, 0.5, 0.25), 1e-3
Task = tuple[int, int, int, int, int, float, tuple[tuple[int, int], ...]]
"""operation, group bit, what blocks it, what comes before, bars to keep, extra, soft."""


class IndexedProblem:
    """A sequencing problem as the search reads it.

    groups: names of which one each is done; a group's bit in a `done` mask is 1 << its index.
    ways: the (machine, tool, setup) in use. options[operation]: way -> cost.
    names_of, named_by[operation]: masks of operations it comes after, and that come after it, where
    both are done. base[group]: its least cost; costs in `free` and `paid` are
    what comes on top. change[a][b]: changeover from way a to way b; from -1, the start, nothing.
    metric: going through a third way is never cheaper, so a detour never pays.
    """

    def __init__(self, problem: Problem) -> None:
        self.names = list(problem.operations)
        index = {name: i for i, name in enumerate(self.names)}
        self.group = [-1] * len(self.names)
        self.groups: list[list[int]] = []
        for names in [*problem.choose_one, *([name] for name in self.names)]:
            members = [index[name] for name in names if self.group[index[name]] < 0]
            for member in members:
                self.group[member] = len(self.groups)
            if members:
                self.groups.append(members)
        operations = list(problem.operations.values())
        named = [sorted({index[name] for name in operation.after}) for operation in operations]
        self.names_of = [_mask(members) for members in named]
        self.named_by = [0] * len(operations)
        for i, members in enumerate(named):
            for j in members:
                self.named_by[j] |= 1 << i
        self.ways: list[Way] = sorted(
            {(c.machine, c.tool, c.setup) for o in operations for c in o.choices}
        )
        number = {way: k for k, way in enumerate(self.ways)}
        self.options: list[dict[int, float]] = []
        for operation in operations:
            costs: dict[int, float] = {}
            for c in operation.choices:
                way = number[c.machine, c.tool, c.setup]
                costs[way] = min(costs.get(way, inf), c.cost)
            self.options.append(costs)
        self.full = (1 << len(self.groups)) - 1
        self._changes(problem.changeover)
        self._precedence(named)
        self._tables()

    def _precedence(self, named: Sequence[Sequence[int]]) -> None:
        """named: which operations each comes after.

        hard: groups to be done before. soft: (group bit, bars) where only some of a group count.

        Doing an operation while such a group is open bars the named ones from being chosen later;
        the bars are bits of a `done` mask above the groups'.
        """
        count = len(named)
        bars = [0] * count
        self.hard = [0] * count
        self.soft: list[list[tuple[int, int]]] = [[] for _ in range(count)]
        for i, firsts in enumerate(named):
            by_group: dict[int, list[int]] = {}
            for j in firsts:
                if self.group[j] != self.group[i]:
                    by_group.setdefault(self.group[j], []).append(j)
            for g, members in by_group.items():
                if len(members) == len(self.groups[g]):
                    self.hard[i] |= 1 << g
                    continue
                for j in members:
                    bars[j] = bars[j] or 1 << len(self.groups) + j
                self.soft[i].append((1 << g, sum(bars[j] for j in members)))
        self.block = [1 << g | bar for g, bar in zip(self.group, bars, strict=True)]
        self.keep = [~sum(bars[j] for j in self.groups[g]) for g in self.group]
        done = self.attainable(0)
        stuck = [self.names[g[0]] for i, g in enumerate(self.groups) if not done >> i & 1]
        if stuck:
            raise SequencingError(
                "these wait for each other, so none can be first: " + ", ".join(stuck)
            )

    def attainable(self, done: int) -> int:
        """The groups that can be done at best; others never will be."""
        everything = list(zip(self.block, self.hard, self.group, strict=True))
        moved = True
        while moved:
            moved = False
            for block, hard, group in everything:
                if not done & block and hard & done == hard:
                    done, moved = done | 1 << group, True
        return done & self.full

    def task(self, operation: int, extra: float, after: int = 0) -> Task:
        """What the search reads of an operation that costs `extra` on top, once `after` is done."""
        before = self.hard[operation] | after
        for group, _ in self.soft[operation]:
            before |= group
        bit = 1 << self.group[operation]
        return (operation, bit, self.block[operation], before, self.keep[operation], extra, ())

    def early(self, operation: int, extra: float, after: int = 0) -> list[Task]:
        """The same done before a group is decided of which it names some, which bars those."""
        if not self.soft[operation]:
            return []
        operation, bit, block, _, keep, extra, _ = self.task(operation, extra)
        soft = tuple(self.soft[operation])
        return [(operation, bit, block, self.hard[operation] | after, keep, extra, soft)]

    def _changes(self, changeover: Changeover) -> None:
        machines, self.machine = _index([way[0] for way in self.ways])
        tools, self.tool = _index([way[1] for way in self.ways])
        setups, self.setup = _index([way[2] for way in self.ways])
        _, self.place = _index([way[0] + "\0" + way[2] for way in self.ways])
        self.machine_cost = _table(changeover.machine, machines, "machine")
        np.fill_diagonal(self.machine_cost, 0.0)
        self.tool_cost = _table(changeover.tool, tools, "tool")
        self.setup_cost = _table(changeover.setup, setups, "setup")
        m, t, s = np.array(self.machine), np.array(self.tool), np.array(self.setup)
        moved = m[:, None] != m[None, :]
        change = self.machine_cost[m][:, m]
        change += np.where(moved | (t[:, None] != t[None, :]), self.tool_cost[t][:, t], 0.0)
        change += np.where(moved | (s[:, None] != s[None, :]), self.setup_cost[s][:, s], 0.0)
        self.changes: Floats = change
        self.change: list[list[float]] = [*change.tolist(), [0.0] * len(self.ways)]
        self.metric = all(
            _triangle(table) for table in (self.machine_cost, self.tool_cost, self.setup_cost)
        )

    def _tables(self) -> None:
        """free[way]: tasks costing nothing on top there; paid[way]: the others."""
        self.base = [min(min(self.options[i].values()) for i in members) for members in self.groups]
        self.free: list[list[Task]] = [[] for _ in self.ways]
        self.paid: list[list[Task]] = [[] for _ in self.ways]
        for i, options in enumerate(self.options):
            for way, cost in options.items():
                self.offer(i, way, cost - self.base[self.group[i]])
        self.active = list(range(len(self.ways)))

    def rounded(self, bound: float) -> float:
        """The bound raised to the next cost there can be: all costs are multiples of some unit."""
        costs = [cost for options in self.options for cost in options.values()]
        costs += np.unique(self.changes).tolist()
        for unit in UNITS:
            if all(cost % unit == 0 for cost in costs):
                return unit * ceil(bound / unit - SAFE)
        return bound

    def plan(self, path: list[tuple[int, int]]) -> tuple[Chosen, ...]:
        """The plan of these (operation, way) pairs, in the caller's names."""
        return tuple(Chosen(self.names[o], *self.ways[way]) for o, way in path)

    def offer(self, operation: int, way: int, extra: float, after: int = 0) -> None:
        """Let the search do an operation in a way."""
        free = self.metric and extra == 0
        (self.free if free else self.paid)[way].append(self.task(operation, extra, after))
        self.paid[way] += self.early(operation, extra, after)


def _mask(members: Iterable[int]) -> int:
    return sum(1 << member for member in members)


def _index(values: list[str]) -> tuple[list[str], list[int]]:
    known = sorted(set(values))
    number = {value: i for i, value in enumerate(known)}
    return known, [number[value] for value in values]


def _table(
    costs: float | Mapping[str, float] | Mapping[str, Mapping[str, float]],
    names: list[str],
    what: str,
) -> Floats:
    """table[a, b]: from a to b; on the diagonal, keeping it while the machine changes."""
    size = len(names)
    table = np.zeros((size, size))
    if not isinstance(costs, Mapping):
        table[:] = costs
    else:
        for b, name in enumerate(names):
            table[:, b] = [_entry(costs, other, name, what) for other in names]
    if not (np.isfinite(table).all() and (table >= 0).all()):
        raise SequencingError(f"a {what} change costs less than nothing, or is not a number")
    return table


def _entry(
    costs: Mapping[str, float] | Mapping[str, Mapping[str, float]], a: str, b: str, what: str
) -> float:
    flat = costs.get(b)
    if isinstance(flat, (int, float)):
        return float(flat)
    row = costs.get(a)
    if isinstance(row, Mapping) and b in row:
        return float(row[b])
    if a == b:
        rows = [row for row in costs.values() if isinstance(row, Mapping)]
        return max((float(row[b]) for row in rows if b in row), default=0.0)
    raise SequencingError(f"the changeover table lacks the cost of changing {what} {a} -> {b}")


def least_into(table: Floats, kept: bool = False) -> list[float]:
    """Least cost of changing to each; kept: also by keeping it while the machine changes."""
    size = len(table)
    return [
        min((float(table[a, b]) for a in range(size) if a != b or kept), default=0.0)
        for b in range(size)
    ]


def _triangle(table: Floats) -> bool:
    return bool((table[:, None, :] <= table[:, :, None] + table[None, :, :] + 1e-9).all())
