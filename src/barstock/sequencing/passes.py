"""Passes: in one setup, for a number of copies, where to change tools and where to change copies.

A pass loads every copy once and does the same operations on each before the next. A pass with one
tool needs one tool change in all; with several, every copy needs them, and going from one copy to
the next needs the change back to the first, unless the copies are worked forward and back in turn,
which the precedence must allow: nothing in the pass may wait for something done with another of its
tools.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from heapq import heappop, heappush
from math import inf

from barstock.sequencing.problem import SequencingError

State = tuple[int, int, int]
NONE = -1


@dataclass(frozen=True)
class Pass:
    """operations: in order on the first copy. alternate: every other copy, the tools backwards."""

    operations: tuple[str, ...]
    alternate: bool = False


@dataclass(frozen=True)
class Passes:
    """minutes: loading and changing tools and heads, not cutting. last: the tool left in place."""

    passes: tuple[Pass, ...]
    minutes: float
    last: str

    @property
    def order(self) -> tuple[str, ...]:
        """All operations in order."""
        return tuple(name for one in self.passes for name in one.operations)


def passes(
    tools: Mapping[str, str],
    after: Mapping[str, Collection[str]],
    *,
    copies: int,
    load: float,
    change: Callable[[str | None, str], float],
    start: str | None = None,
) -> Passes:
    """The quickest passes, exactly (shortest path over what is done and which tool is in).

    tools: operation -> tool. after: operation -> those to be done before it. copies: at least 1.
    load: loading one copy once [min]. change(a, b): from tool a to tool b, with the head's move
    where their holders need it [min]; from None where the machine stands without a tool. Going by
    way of a third tool counts where that is quicker. start: the tool in place before.
    Raises SequencingError where operations wait for each other or for one that is not there.
    """
    if copies < 1:
        raise SequencingError(f"{copies} copies make no pass")
    if not tools:
        return Passes((), 0.0, start or "")
    return _Passing(tools, after, copies, load, change, start).best()


class _Passing:
    """The search: states are (done, tool in place, first tool of the pass)."""

    def __init__(
        self,
        tools: Mapping[str, str],
        after: Mapping[str, Collection[str]],
        copies: int,
        load: float,
        change: Callable[[str | None, str], float],
        start: str | None,
    ) -> None:
        self.names = list(tools)
        self.copies, self.loading = copies, load * copies
        number = {name: i for i, name in enumerate(self.names)}
        known = sorted(set(tools.values()))
        self.tools = known
        self.mine: list[list[tuple[int, int, int]]] = [[] for _ in known]
        for name, tool in tools.items():
            for other in after.get(name, ()):
                if other not in number:
                    raise SequencingError(f"'{name}' comes after '{other}', not in this setup")
            before = sum({1 << number[other] for other in after.get(name, ())})
            self.mine[known.index(tool)].append((number[name], 1 << number[name], before))
        self.full = (1 << len(self.names)) - 1
        self.change = _shortest([[change(a, b) if a != b else 0.0 for b in known] for a in known])
        fit = [0.0 if start == b else change(start, b) for b in known]
        self.fit = [
            min(fit[a] + self.change[a][b] for a in range(len(known))) for b in range(len(known))
        ]

    def best(self) -> Passes:
        begin: State = (0, NONE, NONE)
        least: dict[State, float] = {begin: 0.0}
        came: dict[State, tuple[State, tuple[int, ...], bool]] = {}
        heap: list[tuple[float, State]] = [(0.0, begin)]
        while heap:
            cost, state = heappop(heap)
            if cost > least[state]:
                continue
            if state[0] == self.full and state[2] == NONE:
                return self._told(state, cost, came)
            for more, blocks, alternate, to in self._next(state):
                if cost + more < least.get(to, inf):
                    least[to] = cost + more
                    came[to] = (state, blocks, alternate)
                    heappush(heap, (cost + more, to))
        stuck = max((state[0] for state in least), key=int.bit_count)
        waiting = [name for i, name in enumerate(self.names) if not stuck >> i & 1]
        raise SequencingError("these wait for each other: " + ", ".join(waiting))

    def _next(self, state: State) -> Iterator[tuple[float, tuple[int, ...], bool, State]]:
        """cost, tools used, alternate, state: what can follow. A first tool: a pass is open."""
        done, tool, first = state
        if first == NONE:
            fit = self.change[tool] if tool != NONE else self.fit
            for to in range(len(self.tools)):
                reached = self._do(done, to)
                if reached != done:
                    yield self.loading + fit[to], (to,), False, (reached, to, to)
            yield from self._alternating(done, fit)
            return
        back = (self.copies - 1) * self.change[tool][first]
        yield back, (), False, (done, tool, NONE)
        for to in range(len(self.tools)):
            reached = self._do(done, to)
            if reached != done:
                more = self.copies * self.change[tool][to]
                yield more, (to,), False, (reached, to, first)

    def _alternating(
        self, done: int, fit: list[float]
    ) -> Iterator[tuple[float, tuple[int, ...], bool, State]]:
        """Whole passes worked forward and back: with tools that do not wait for each other."""
        if self.copies == 1:
            return
        adds = {t: self._do(done, t) for t in range(len(self.tools))}
        ready = [t for t, reached in adds.items() if reached != done]
        forward, backward = (self.copies + 1) // 2, self.copies // 2
        routes: dict[tuple[int, ...], float] = {(t,): self.loading + fit[t] for t in ready}
        while routes:
            longer: dict[tuple[int, int, frozenset[int]], tuple[float, tuple[int, ...]]] = {}
            for route, cost in routes.items():
                for t in ready:
                    if t in route:
                        continue
                    there, back = self.change[route[-1]][t], self.change[t][route[-1]]
                    more = cost + forward * there + backward * back
                    key = (route[0], t, frozenset(route))
                    if more < longer.get(key, (inf, ()))[0]:
                        longer[key] = (more, (*route, t))
            routes = {}
            for more, route in longer.values():
                routes[route] = more
                reached = done
                for t in route:
                    reached |= adds[t]
                last = route[-1] if self.copies % 2 else route[0]
                yield more, route, True, (reached, last, NONE)

    def _do(self, done: int, tool: int, order: list[int] | None = None) -> int:
        """All that the tool can do now."""
        moved = True
        while moved:
            moved = False
            for i, bit, before in self.mine[tool]:
                if not done & bit and before & done == before:
                    done |= bit
                    moved = True
                    if order is not None:
                        order.append(i)
        return done

    def _told(
        self,
        state: State,
        minutes: float,
        came: dict[State, tuple[State, tuple[int, ...], bool]],
    ) -> Passes:
        legs: list[tuple[State, tuple[int, ...], bool]] = []
        last = self.tools[state[1]]
        while state in came:
            legs.append(came[state])
            state = came[state][0]
        told: list[Pass] = []
        open_pass: list[int] = []
        for (done, _, _), blocks, alternate in reversed(legs):
            if not blocks:
                told.append(self._pass(open_pass, False))
                open_pass = []
            for tool in blocks:
                reached = self._do(done, tool, open_pass)
                done = done if alternate else reached
            if alternate:
                told.append(self._pass(open_pass, True))
                open_pass = []
        return Passes(tuple(told), minutes, last)

    def _pass(self, operations: list[int], alternate: bool) -> Pass:
        return Pass(tuple(self.names[i] for i in operations), alternate)


def _shortest(table: list[list[float]]) -> list[list[float]]:
    """Least cost from each tool to each, by way of others where that is less (Floyd)."""
    size = range(len(table))
    for by in size:
        for a in size:
            for b in size:
                table[a][b] = min(table[a][b], table[a][by] + table[by][b])
    return table
