"""Simulated annealing on a plan moves operations, runs and their ways about, for the big problems.

A move changes the cost at its seams alone, so a great many can be tried.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import pairwise
from math import exp, log

from barstock.sequencing.allowance import MOVE, Allowance
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.search import Path

CHECK = 512
SHORTEST, LONGEST = 200_000, 2_000_000
HOT, COLD = 0.4, 0.25


class Annealer:
    """Betters a plan by annealing. best, cost: the best plan met and its cost on top of the base
    costs.
    """

    def __init__(
        self, indexed: IndexedProblem, path: Path, seed: int, allowance: Allowance | None = None
    ) -> None:
        self.indexed, self.allowance = indexed, allowance or Allowance()
        self.random = random.Random(seed)
        self.moves = SHORTEST
        self.extra = [
            {way: cost - indexed.base[indexed.group[i]] for way, cost in options.items()}
            for i, options in enumerate(indexed.options)
        ]
        self.ways = [list(extra.items()) for extra in self.extra]
        self.bit = [1 << i for i in range(len(indexed.group))]
        self.at_place: list[dict[int, list[tuple[int, float]]]] = []
        for ways in self.ways:
            places: dict[int, list[tuple[int, float]]] = {}
            for way, extra in ways:
                places.setdefault(indexed.place[way], []).append((way, extra))
            self.at_place.append(places)
        self.restart(path)

    def restart(self, path: Path) -> None:
        """Goes on from a plan found elsewhere."""
        self.best = list(path)
        self.cost = sum(self.extra[operation][way] for operation, way in path)
        self.cost += sum(self.indexed.change[a][b] for (_, a), (_, b) in pairwise(path))

    def cycle(self, stop: Callable[[], bool] = bool) -> bool:
        """Cool once, each time longer than the last up to a limit. True: a better plan is found."""
        change = self.indexed.changes
        steps = change[change > 0]
        hot = float(steps.max()) * HOT if len(steps) else 1.0
        cold = float(steps.min()) * COLD if len(steps) else 0.5
        better = self.run(self.moves, hot, min(cold, hot / 2), stop)
        self.moves = min(self.moves * 2, LONGEST)
        return better

    def run(self, moves: int, hot: float, cold: float, stop: Callable[[], bool] = bool) -> bool:
        """Cool from `hot` to `cold` over `moves` tries, from the best plan. True: a better one was
        found.
        """
        rng = self.random.random
        order, ways = [o for o, _ in self.best], [k for _, k in self.best]
        now, before = self.cost, self.cost
        fall = log(cold / hot) / moves
        heat = hot
        for move in range(moves):
            if move % CHECK == 0:
                if stop():
                    break
                self.allowance.steps += CHECK * MOVE
                heat = hot * exp(fall * move)
            ceiling = -heat * log(rng() or 1e-12)
            kind = rng()
            if kind < 0.7:
                gain = self._relocate(order, ways, ceiling)
            elif kind < 0.9:
                gain = self._shift(order, ways, ceiling)
            else:
                gain = self._turn(order, ways, ceiling)
            if gain is not None:
                now += gain
                if now < self.cost - 1e-7:
                    self.cost = now
                    self.best = list(zip(order, ways, strict=True))
        return self.cost < before - 1e-7

    def _relocate(self, order: list[int], ways: list[int], ceiling: float) -> float | None:
        """One operation (or its like) to another place in the order, in the best way there."""
        indexed, rng, change = self.indexed, self.random.random, self.indexed.change
        size = len(order)
        i = int(rng() * size)
        old = order[i]
        like = indexed.groups[indexed.group[old]]
        new = old if len(like) == 1 else like[int(rng() * len(like))]
        a = ways[i - 1] if i else -1
        b = ways[i + 1] if i + 1 < size else -1
        way = ways[i]
        delta = -self.extra[old][way] + self._join(a, b) - self._join(a, way)
        if b >= 0:
            delta -= change[way][b]
        j = int(rng() * size)
        bit, needs = self.bit[old], indexed.names_of[new]
        if j > i:
            for p in range(i + 1, j + 1):
                if indexed.names_of[order[p]] & bit:
                    j = p - 1
                    break
        else:
            for p in range(i - 1, j - 1, -1):
                if needs & self.bit[order[p]]:
                    j = p + 1
                    break
        if new != old:
            mine = indexed.named_by[new]
            for p in range(size):
                if p < j and mine & self.bit[order[p]] and p != i:
                    return None
                if p > j and needs & self.bit[order[p]] and p != i:
                    return None
                if p == j and p != i and ((needs if j < i else mine) & self.bit[order[p]]):
                    return None
        if j > i:
            a, b = ways[j], (ways[j + 1] if j + 1 < size else -1)
        elif j < i:
            a, b = (ways[j - 1] if j else -1), ways[j]
        least, to = 1e18, -1
        row = change[a]
        if b >= 0:
            for k, extra in self.ways[new]:
                cost = extra + row[k] + change[k][b]
                if cost < least:
                    least, to = cost, k
            least -= self._join(a, b)
        else:
            for k, extra in self.ways[new]:
                cost = extra + row[k]
                if cost < least:
                    least, to = cost, k
        delta += least
        if delta > ceiling or (i == j and to == way and new == old):
            return None
        del order[i], ways[i]
        order.insert(j, new)
        ways.insert(j, to)
        return delta

    def _join(self, a: int, b: int) -> float:
        return self.indexed.change[a][b] if b >= 0 else 0.0

    def _shift(self, order: list[int], ways: list[int], ceiling: float) -> float | None:
        """A run of operations in one place, or part of it, to elsewhere in the order, as it is."""
        indexed, rng = self.indexed, self.random.random
        size = len(order)
        i = int(rng() * size)
        j = i + 1
        part = indexed.place if rng() < 0.7 else indexed.machine
        here = part[ways[i]]
        whole = rng() < 0.7
        if whole:
            while i and part[ways[i - 1]] == here:
                i -= 1
        while j < size and part[ways[j]] == here:
            j += 1
        if j - i == size:
            return None
        p = int(rng() * (size - (j - i) + 1))
        if p >= i:
            p += j - i
        join = self._join
        first, last = ways[i], ways[j - 1]
        a = ways[i - 1] if i else -1
        b = ways[j] if j < size else -1
        if p < i:
            needs = 0
            for o in order[i:j]:
                needs |= indexed.names_of[o]
            if any(needs & self.bit[o] for o in order[p:i]):
                return None
            c, d = (ways[p - 1] if p else -1), ways[p]
        elif p > j:
            bits = 0
            for o in order[i:j]:
                bits |= self.bit[o]
            if any(indexed.names_of[o] & bits for o in order[j:p]):
                return None
            c, d = ways[p - 1], (ways[p] if p < size else -1)
        else:
            return None
        delta = join(a, b) - join(a, first) - (join(last, b) if b >= 0 else 0.0)
        delta += join(c, first) + (join(last, d) if d >= 0 else 0.0) - join(c, d)
        if delta > ceiling:
            return None
        if p < i:
            order[p:j] = order[i:j] + order[p:i]
            ways[p:j] = ways[i:j] + ways[p:i]
        else:
            order[i:p] = order[j:p] + order[i:j]
            ways[i:p] = ways[j:p] + ways[i:j]
        return delta

    def _turn(self, order: list[int], ways: list[int], ceiling: float) -> float | None:
        """A run in one place, as far as it can, into another place; order kept."""
        indexed, rng, change = self.indexed, self.random.random, self.indexed.change
        size = len(order)
        i = int(rng() * size)
        here = indexed.place[ways[i]]
        while i and indexed.place[ways[i - 1]] == here and rng() < 0.9:
            i -= 1
        places = self.at_place[order[i]]
        options = list(places)
        there = options[int(rng() * len(options))]
        if there == here:
            return None
        a = ways[i - 1] if i else -1
        delta, last, j = 0.0, a, i
        new: list[int] = []
        while j < size and indexed.place[ways[j]] == here:
            choices = self.at_place[order[j]].get(there)
            if choices is None:
                break
            row = change[last]
            least, to = 1e18, -1
            for k, extra in choices:
                cost = extra + row[k]
                if cost < least:
                    least, to = cost, k
            delta += (
                least
                - self.extra[order[j]][ways[j]]
                - self._join(ways[j - 1] if j else -1, ways[j])
            )
            new.append(to)
            last = to
            j += 1
        if j < size:
            delta += change[last][ways[j]] - change[ways[j - 1]][ways[j]]
        if delta > ceiling:
            return None
        ways[i:j] = new
        return delta
