"""The least that the rest of a plan must still cost on top of the operations' own least costs."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from barstock.sequencing.indexed_problem import IndexedProblem, least_into

Few = NDArray[np.float32]
ROOM = 1 << 14
KEPT = 1 << 28
NEVER = 1e9


class Bound:
    """A lower bound by counting which machines and setups the rest will still visit.

    For every subset of machines and every subset of setups: each operation left costs at least its
    cheapest way inside them, each machine not yet at hand must be changed to, each setup too. The
    best subset gives the bound. Tools add what operations sharing none of their tools must change.
    """

    def __init__(self, indexed: IndexedProblem) -> None:
        self.indexed = indexed
        machines, setups = max(indexed.machine) + 1, max(indexed.setup) + 1
        self.machines = machines if 1 << machines <= ROOM else 0
        self.setups = setups if 1 << (self.machines + setups) <= ROOM else 0
        self._extras()
        self._counts()
        tools, places = least_into(indexed.tool_cost), least_into(indexed.setup_cost)
        self.apart = [(self._apart(indexed.tool, tools), indexed.tool)]
        if not self.setups:
            self.apart.append((self._apart(indexed.setup, places), indexed.setup))
        self.dearest = float(indexed.tool_cost.min()) * max(indexed.machine)
        self.sums: dict[int, Few] = {}
        self.room = max(64, KEPT // (4 * self.extra.shape[1]))

    def _extras(self) -> None:
        indexed, machines, setups = self.indexed, self.machines, self.setups
        least = np.full((len(indexed.groups), max(machines, 1), max(setups, 1)), NEVER, np.float32)
        for i, options in enumerate(indexed.options):
            g = indexed.group[i]
            for way, cost in options.items():
                m = indexed.machine[way] if machines else 0
                s = indexed.setup[way] if setups else 0
                least[g, m, s] = min(least[g, m, s], cost - indexed.base[g])
        within = _subset_least(_subset_least(least, 1, machines), 2, setups)
        useful = np.ones(within.shape[1:], dtype=bool)
        for axis, size in ((1, machines), (2, setups)):
            for member in range(size):
                useful &= _helped(within, axis, member)
        self.useful = useful.reshape(-1)
        self.extra: Few = np.ascontiguousarray(
            within.reshape(len(indexed.groups), -1)[:, self.useful]
        )

    def _counts(self) -> None:
        """What the machines and setups of each subset cost to reach from each place."""
        indexed, machines, setups = self.indexed, self.machines, self.setups
        tool = float(indexed.tool_cost.min())
        setup = float(indexed.setup_cost.min())
        reach_machine, reach_setup = (
            least_into(indexed.machine_cost),
            least_into(indexed.setup_cost),
        )
        self.count: dict[tuple[int, int], tuple[Few, Few]] = {}
        for m, s in sorted(set(zip(indexed.machine, indexed.setup, strict=True))):
            moves = _subset_sum([1.0 * (i != m) for i in range(machines)])
            machine = _subset_sum([reach_machine[i] * (i != m) for i in range(machines)])
            turned = _subset_sum([reach_setup[i] * (i != s) for i in range(setups)])
            bare = machine[:, None] + np.maximum(turned[None, :], setup * moves[:, None])
            full = bare + tool * moves[:, None]
            self.count[m, s] = (
                full.reshape(-1)[self.useful].astype(np.float32),
                bare.reshape(-1)[self.useful].astype(np.float32),
            )
        begin = [np.min([pair[i] for pair in self.count.values()], axis=0) for i in (0, 1)]
        self.begin = (begin[0], begin[1])

    def _apart(self, part: list[int], into: list[float]) -> list[tuple[int, int, float]]:
        """Groups of which no two share a tool (or setup): (group bit, its tools, least change)."""
        indexed = self.indexed
        masks = [0] * len(indexed.groups)
        for i, options in enumerate(indexed.options):
            for way in options:
                masks[indexed.group[i]] |= 1 << part[way]
        taken, chosen = 0, []
        for g in sorted(range(len(masks)), key=lambda g: masks[g].bit_count()):
            if not masks[g] & taken:
                taken |= masks[g]
                cost = min(into[i] for i in range(masks[g].bit_length()) if masks[g] >> i & 1)
                chosen.append((1 << g, masks[g], cost))
        return chosen

    def __call__(self, done: int, way: int) -> float:
        """The least that is still to pay. way: where the plan stands now, or -1 before the first
        operation.
        """
        indexed = self.indexed
        done &= indexed.full
        if done == indexed.full:
            return 0.0
        rest = self.sums.get(done)
        if rest is None:
            rest = self._rest(done)
        if way < 0:
            full, bare = self.begin
        else:
            full, bare = self.count[indexed.machine[way], indexed.setup[way]]
        tools = self._changes(done, way, 0)
        best = float((rest + bare).min()) + tools
        if tools < self.dearest:
            best = max(best, float((rest + full).min()))
        return best if self.setups else max(best, self._changes(done, way, 1) + tools)

    def _rest(self, done: int) -> Few:
        left = [g for g in range(len(self.indexed.groups)) if not done >> g & 1]
        rest: Few = self.extra[left].sum(axis=0)
        if len(self.sums) < self.room:
            self.sums[done] = rest
        return rest

    def _changes(self, done: int, way: int, which: int) -> float:
        """What groups sharing no tool (or setup) must at least pay to change."""
        apart, part = self.apart[which]
        here = 1 << part[way] if way >= 0 else 0
        costs = [cost for bit, mask, cost in apart if not (done & bit or mask & here)]
        return sum(costs) - (max(costs, default=0.0) if way < 0 else 0.0)


def _helped(least: Few, axis: int, member: int) -> NDArray[np.bool_]:
    """Which subsets lack the member, or let some group cost less by having it."""
    helped = np.ones(least.shape[1:], dtype=bool)
    subsets = np.arange(least.shape[axis])
    having = subsets[subsets >> member & 1 == 1]
    better = (least.take(having, axis) < least.take(having ^ (1 << member), axis)).any(axis=0)
    if axis == 1:
        helped[having] = better
    else:
        helped[:, having] = better
    return helped


def _subset_sum(values: list[float]) -> NDArray[np.float64]:
    sums = np.zeros(1)
    for value in values:
        sums = np.concatenate([sums, sums + value])
    return sums


def _subset_least(values: Few, axis: int, size: int) -> Few:
    """Along the axis, from each member's value to each subset's least (the empty one: never)."""
    if not size:
        return values
    parts = np.moveaxis(values, axis, 0)
    least = np.full((1, *parts.shape[1:]), NEVER, np.float32)
    for i in range(size):
        least = np.concatenate([least, np.minimum(least, parts[i])])
    return np.moveaxis(least, 0, axis)
