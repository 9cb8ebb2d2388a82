"""A problem in numbers: operations, groups and ways (machine, tool, setup) by index, sets as bits."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf

import numpy as np
from numpy.typing import NDArray

from barstock.planning.sequencing.model import Changeover, Problem, SequencingError

Floats = NDArray[np.float64]
Way = tuple[str, str, str]


class Terse:
    """What the search reads.

    groups: names of which one each is done; a group's bit in a `done` mask is 1 << its index.
    ways: the (machine, tool, setup) in use. options[operation]: way -> cost, all copies.
    before[operation]: mask of groups. base[group]: its least cost; costs in `free` and `paid` are
    what comes on top. change[a][b]: changeover from way a to way b; first[b]: to begin with b.
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
        self.before = [
            sum({1 << self.group[index[name]] for name in operation.after} - {1 << self.group[i]})
            for i, operation in enumerate(operations)
        ]
        self.ways: list[Way] = sorted(
            {(c.machine, c.tool, c.setup) for o in operations for c in o.choices}
        )
        number = {way: k for k, way in enumerate(self.ways)}
        works = [problem.works.get(operation.work) for operation in operations]
        self.options: list[dict[int, float]] = []
        for operation, work in zip(operations, works, strict=True):
            copies = work.copies if work else 1
            costs: dict[int, float] = {}
            for c in operation.choices:
                way = number[c.machine, c.tool, c.setup]
                costs[way] = min(costs.get(way, inf), c.cost * copies)
            self.options.append(costs)
        loaded = sorted(name for name, work in problem.works.items() if work.load > 0)
        self.loads = [problem.works[name].load * problem.works[name].copies for name in loaded]
        self.work = [
            1 << loaded.index(operation.work) if operation.work in loaded else 0
            for operation in operations
        ]
        self.full = (1 << len(self.groups)) - 1
        self._check_order()
        self._changes(problem.changeover)
        self._tables()

    def _check_order(self) -> None:
        done, moved = 0, True
        while moved:
            moved = False
            for i, before in enumerate(self.before):
                bit = 1 << self.group[i]
                if not done & bit and before & done == before:
                    done, moved = done | bit, True
        stuck = [self.names[g[0]] for i, g in enumerate(self.groups) if not done >> i & 1]
        if stuck:
            raise SequencingError(
                "these wait for each other, so none can be first: " + ", ".join(stuck)
            )

    def _changes(self, changeover: Changeover) -> None:
        machines, self.machine = _index([way[0] for way in self.ways])
        tools, self.tool = _index([way[1] for way in self.ways])
        setups, self.setup = _index([way[2] for way in self.ways])
        _, self.place = _index([way[0] + "\0" + way[2] for way in self.ways])
        self.machine_cost = _table(changeover.machine, machines, "machine")
        np.fill_diagonal(self.machine_cost, 0.0)
        self.tool_cost = _table(changeover.tool, tools, "tool")
        self.setup_cost = _table(changeover.setup, setups, "setup")
        self.revisit = changeover.revisit
        m, t, s = np.array(self.machine), np.array(self.tool), np.array(self.setup)
        moved = m[:, None] != m[None, :]
        change = self.machine_cost[m][:, m]
        change += np.where(moved | (t[:, None] != t[None, :]), self.tool_cost[t][:, t], 0.0)
        change += np.where(moved | (s[:, None] != s[None, :]), self.setup_cost[s][:, s], 0.0)
        self.changes: Floats = change
        self.change: list[list[float]] = change.tolist()
        self.first = [0.0] * len(self.ways)
        if changeover.first:
            for part in (changeover.tool, changeover.setup):
                if isinstance(part, Mapping) and any(isinstance(v, Mapping) for v in part.values()):
                    raise SequencingError("a from-to table does not say what the first one costs")
            self.first = [
                float(self.tool_cost[a, a] + self.setup_cost[b, b])
                for a, b in zip(self.tool, self.setup, strict=True)
            ]
        self.metric = all(
            _triangle(table) for table in (self.machine_cost, self.tool_cost, self.setup_cost)
        )
        self.plain = not self.loads and self.revisit == 0

    def _tables(self) -> None:
        """free[way], paid[way]: (operation, group bit, before[, cost on top], work bit)."""
        self.base = [min(min(self.options[i].values()) for i in members) for members in self.groups]
        count = len(self.ways)
        self.free: list[list[tuple[int, int, int, int]]] = [[] for _ in range(count)]
        self.paid: list[list[tuple[int, int, int, float, int]]] = [[] for _ in range(count)]
        for i, options in enumerate(self.options):
            bit, before, work = 1 << self.group[i], self.before[i], self.work[i]
            for way, cost in options.items():
                extra = cost - self.base[self.group[i]]
                if extra == 0 and self.metric:
                    self.free[way].append((i, bit, before, work))
                else:
                    self.paid[way].append((i, bit, before, extra, work))
        self.usable = [0] * len(self.groups)
        for i, options in enumerate(self.options):
            for way in options:
                self.usable[self.group[i]] |= 1 << self.place[way]


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
    if isinstance(row, Mapping):
        if b in row:
            return float(row[b])
    if a == b:
        rows = [row for row in costs.values() if isinstance(row, Mapping)]
        return max((float(row[b]) for row in rows if b in row), default=0.0)
    raise SequencingError(f"the changeover table lacks the cost of changing {what} {a} -> {b}")


def _triangle(table: Floats) -> bool:
    return bool((table[:, None, :] <= table[:, :, None] + table[None, :, :] + 1e-9).all())
