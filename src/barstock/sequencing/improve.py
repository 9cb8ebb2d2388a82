"""Large-neighbourhood search: part of a plan is freed, the rest held in order, and that solved
exactly.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import copy
from itertools import pairwise

from barstock.sequencing.allowance import Allowance
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.search import Path, Search

HEAT = 0.002
SMALLEST, LARGEST = 6, 24
STATES = 2000
NEW_PLACES = 3


class Improver:
    """Betters a plan step by step. cost: on top of the base costs."""

    def __init__(
        self,
        indexed: IndexedProblem,
        path: Path,
        cost: float,
        seed: int,
        allowance: Allowance | None = None,
    ) -> None:
        self.indexed, self.allowance = indexed, allowance or Allowance()
        self.restart(path, cost)
        self.random = random.Random(seed)
        self.size = 10.0
        self.base = sum(indexed.base)

    def restart(self, path: Path, cost: float) -> None:
        """Goes on from a plan found elsewhere."""
        self.path, self.cost = path, cost
        self.now, self.spent = path, cost

    def step(self, stop: Callable[[], bool] = bool) -> None:
        """Frees some operations and puts them back as well as can be."""
        freed = self._pick(round(self.size))
        held = held_problem(self.indexed, self.now, freed, self._banned(freed), self._allowed())
        offset = sum(held.base) - self.base
        rest = HeldBound(held, [item for item in self.now if item[0] not in freed])
        slack = -HEAT * self.spent * self.random.random()
        found = Search(held, rest, self.allowance).exact(self.spent - offset - slack, stop, STATES)
        if found.states > STATES:
            self.size = max(SMALLEST, self.size - 0.5)
        else:
            self.size = min(LARGEST, self.size + 0.05)
        if found.path is None:
            return
        self.now, self.spent = found.path, found.cost + offset
        if self.spent < self.cost - 1e-7:
            self.path, self.cost = self.now, self.spent

    def _banned(self, freed: set[int]) -> dict[int, int]:
        return {o: k for o, k in self.now if o in freed and self.random.random() < 0.1}

    def _allowed(self) -> set[int]:
        places = {self.indexed.place[k] for _, k in self.now}
        for _ in range(NEW_PLACES):
            places.add(self.random.choice(self.indexed.place))
        return places

    def _pick(self, count: int) -> set[int]:
        """Operations to free: a stretch, whole blocks of one place, or look-alikes of one."""
        path, indexed, rng = self.now, self.indexed, self.random
        count = min(count, len(path))
        kind = rng.random()
        if kind < 0.3:
            start = rng.randrange(len(path) - count + 1)
            return {operation for operation, _ in path[start : start + count]}
        if kind < 0.75:
            blocks: list[list[int]] = [[path[0][0]]]
            for (_, a), (o, b) in pairwise(path):
                if indexed.place[a] != indexed.place[b]:
                    blocks.append([])
                blocks[-1].append(o)
            rng.shuffle(blocks)
            freed: set[int] = set()
            for block in blocks:
                if len(freed) + len(block) <= count:
                    freed.update(block)
            return freed
        if kind < 0.9:
            seed_way = rng.choice(path)[1]
            near = sorted(
                path, key=lambda item: indexed.change[item[1]][seed_way] + 100 * rng.random()
            )
            return {operation for operation, _ in near[:count]}
        return {operation for operation, _ in rng.sample(path, count)}


class HeldBound:
    """The least that is still to pay: the held operations' own changeovers, in their order."""

    def __init__(self, indexed: IndexedProblem, chain: Path) -> None:
        self.mask = sum(1 << indexed.group[operation] for operation, _ in chain)
        self.ways = [way for _, way in chain]
        self.change = indexed.change
        self.after = [0.0] * (len(chain) + 1)
        for i in range(len(chain) - 2, -1, -1):
            self.after[i] = self.after[i + 1] + indexed.change[self.ways[i]][self.ways[i + 1]]

    def __call__(self, done: int, way: int) -> float:
        position = (done & self.mask).bit_count()
        if position == len(self.ways):
            return 0.0
        return self.after[position] + self.change[way][self.ways[position]]


def held_problem(
    indexed: IndexedProblem, path: Path, freed: set[int], banned: dict[int, int], allowed: set[int]
) -> IndexedProblem:
    """The problem in which all but the freed operations keep their way and order."""
    held = copy(indexed)
    held.base = list(indexed.base)
    held.free = [[] for _ in indexed.ways]
    held.paid = [[] for _ in indexed.ways]
    last = 0
    for operation, way in path:
        g = indexed.group[operation]
        if operation in freed:
            for like in indexed.groups[g]:
                for to, cost in indexed.options[like].items():
                    if banned.get(like) != to and indexed.place[to] in allowed:
                        held.offer(like, to, cost - indexed.base[g])
        else:
            held.base[g] = indexed.options[operation][way]
            held.offer(operation, way, 0.0, last)
            last = 1 << g
    held.active = [k for k in range(len(indexed.ways)) if held.free[k] or held.paid[k]]
    return held
