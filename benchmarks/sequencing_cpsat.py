"""Compares the sequencing core with CP-SAT, a general solver, on process-planning cases.

    python benchmarks/sequencing_cpsat.py FOLDER [--limit S]

Each case (see benchmarks/sequencing.py) is solved three times, by two processes or two workers: by
the core, by CP-SAT from a greedy plan ("warm"), and by CP-SAT from nothing ("cold"). A line has the
cost as the core's own pricing adds it up, the bound, the seconds until the best plan was found, and
the seconds of processor time spent, which tell how much of a busy machine there was to be had.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable
from math import inf
from pathlib import Path
from time import monotonic
from typing import Any

from ortools.sat.python import cp_model
from sequencing import CaseError, read_case

from barstock.sequencing import Problem, price, solve
from barstock.sequencing.bound import Bound
from barstock.sequencing.indexed_problem import IndexedProblem
from barstock.sequencing.relaxation import fewest_changes
from barstock.sequencing.search import Search

WORKERS = 2
WHOLE = 1000  # CP-SAT wants whole numbers: costs are counted in thousandths
Order = list[tuple[int, int]]
Result = tuple[float, float, float]  # cost, bound, seconds until the best plan was found


class Slots:
    """The model: as many slots in a row as groups, each with one machine, one setup and one tool.

    A group is done in one way and lies in a slot that has what the way needs. Any number may share
    a slot; none lies in a slot before one that it comes after. What the plan does not need are the
    last slots, which are as the one before them and empty.
    """

    def __init__(self, indexed: IndexedProblem) -> None:
        self.indexed, self.model = indexed, cp_model.CpModel()
        self.count = len(indexed.groups)
        self.parts = (indexed.machine, indexed.setup, indexed.tool)
        new = self.model.new_bool_var
        self.ways = [{way: new("") for way in options} for options in indexed.options]
        self.lies = [[new("") for _ in range(self.count)] for _ in range(self.count)]
        self.slot = [self.model.new_int_var(0, self.count - 1, "") for _ in range(self.count)]
        self.has = [
            [[new("") for _ in range(max(part) + 1)] for _ in range(self.count)]
            for part in self.parts
        ]
        self.needed = [new("") for _ in range(self.count)]
        self._place()
        self._order()
        cost: Any = sum(
            round(cost * WHOLE) * self.ways[i][way]
            for i, options in enumerate(indexed.options)
            for way, cost in options.items()
        )
        self.model.minimize(cost + self._changes())

    def _any(self, literals: list[Any]) -> Any:
        """A literal that is true where one of them is; no two of them ever are."""
        if len(literals) == 1:
            return literals[0]
        found = self.model.new_bool_var("")
        self.model.add(sum(literals) == found)
        return found

    def _place(self) -> None:
        """Each group is done in one way, in one slot that has what the way needs."""
        model = self.model
        for slots in self.has:
            for values in slots:
                model.add_exactly_one(values)
        for g, members in enumerate(self.indexed.groups):
            model.add_exactly_one(way for i in members for way in self.ways[i].values())
            model.add_exactly_one(self.lies[g])
            model.add(self.slot[g] == sum(k * here for k, here in enumerate(self.lies[g])))
            for part, has in zip(self.parts, self.has, strict=True):
                sharing: dict[int, list[Any]] = {}
                for i in members:
                    for way, literal in self.ways[i].items():
                        sharing.setdefault(part[way], []).append(literal)
                needs = {value: self._any(literals) for value, literals in sharing.items()}
                for here, values in zip(self.lies[g], has, strict=True):
                    model.add_bool_or(~here, *(values[value] for value in needs))
                    for value, literal in needs.items():
                        model.add_bool_or(~here, ~literal, values[value])

    def _order(self) -> None:
        """Of two that are done, one lies in no slot before that of one it comes after."""
        group = self.indexed.group
        done = [self._any(list(ways.values())) for ways in self.ways]
        for i, names in enumerate(self.indexed.names_of):
            for j in range(len(done)):
                if names >> j & 1 and group[i] != group[j]:
                    in_order = self.model.add(self.slot[group[j]] <= self.slot[group[i]])
                    in_order.only_enforce_if(done[i], done[j])

    def _changes(self) -> Any:
        """What the changes from slot to slot cost.

        For the bound's sake, too: every machine, setup of a machine and tool on a machine in use
        but the first is changed to, and there are the changes that the precedence forces.
        """
        indexed, model, cost = self.indexed, self.model, 0
        least = (
            fewest_changes(indexed, indexed.machine),
            max(fewest_changes(indexed, indexed.setup), fewest_changes(indexed, indexed.place)),
            fewest_changes(indexed, indexed.tool),
        )
        tables = (indexed.machine_cost, indexed.setup_cost, indexed.tool_cost)
        kinds: list[list[Any]] = []
        for part, has, table, fewest in zip(self.parts, self.has, tables, least, strict=True):
            size = len(table)
            costs = {float(table[a, b]) for a in range(size) for b in range(size) if a != b}
            if len(costs) > 1:
                raise CaseError("changes of one kind that cost differently are not compared")
            changed = [model.new_bool_var("") for _ in range(self.count - 1)]
            for k, change in enumerate(changed):
                for before, now in zip(has[k], has[k + 1], strict=True):
                    model.add_bool_or(~before, now, change)
                if kinds:
                    model.add_implication(kinds[0][k], change)
            kinds.append(changed)
            model.add(sum(changed) >= self._used(part) - 1)
            model.add(sum(changed) >= fewest)
            cost += round(WHOLE * float(table.max())) * sum(changed)
        self._order_slots(kinds)
        return cost

    def _order_slots(self, kinds: list[list[Any]]) -> None:
        """A slot is needed where something changes; those not needed are the last, and empty."""
        for k, changes in enumerate(zip(*kinds, strict=True), 1):
            needed = self.needed[k]
            self.model.add_max_equality(needed, changes)
            self.model.add_implication(needed, self.needed[k - 1])
            for lies in self.lies:
                self.model.add_implication(lies[k], needed)

    def _used(self, part: list[int]) -> Any:
        """How many machines, setups of a machine or tools on a machine are in use."""
        users: dict[tuple[int, int], dict[int, list[Any]]] = {}
        for i, ways in enumerate(self.ways):
            for way, literal in ways.items():
                groups = users.setdefault((self.indexed.machine[way], part[way]), {})
                groups.setdefault(self.indexed.group[i], []).append(literal)
        used = [self.model.new_bool_var("") for _ in users]
        for one, groups in zip(used, users.values(), strict=True):
            for literals in groups.values():
                self.model.add(sum(literals) <= one)
        return sum(used)

    def begin_with(self, order: Order) -> None:
        """Hints at a plan: each change of way begins a slot."""
        hint, ways = self.model.add_hint, [order[0][1]]
        for operation, way in order:
            if way != ways[-1]:
                ways.append(way)
            g = self.indexed.group[operation]
            hint(self.slot[g], len(ways) - 1)
            for slot, here in enumerate(self.lies[g]):
                hint(here, slot == len(ways) - 1)
            for i in self.indexed.groups[g]:
                for to, literal in self.ways[i].items():
                    hint(literal, (i, to) == (operation, way))
        for k, needed in enumerate(self.needed):
            hint(needed, k < len(ways))
            for part, has in zip(self.parts, self.has, strict=True):
                for value, literal in enumerate(has[k]):
                    hint(literal, part[ways[min(k, len(ways) - 1)]] == value)

    def found(self, solver: cp_model.CpSolver) -> Order:
        """The plan: slot by slot, and in one slot each operation after those it comes after."""
        left = [
            (solver.value(self.slot[self.indexed.group[i]]), i, way)
            for i, ways in enumerate(self.ways)
            for way, literal in ways.items()
            if solver.boolean_value(literal)
        ]
        order: Order = []
        while left:
            waiting = sum(1 << i for _, i, _ in left)
            first = min(item for item in left if not self.indexed.names_of[item[1]] & waiting)
            left.remove(first)
            order.append(first[1:])
        return order


class Watch(cp_model.CpSolverSolutionCallback):  # type: ignore[misc]
    """Notes when the last better plan was found."""

    def __init__(self, begun: float) -> None:
        super().__init__()
        self.begun, self.last = begun, inf

    def on_solution_callback(self) -> None:
        self.last = monotonic() - self.begun


def by_core(problem: Problem, seconds: float) -> Result:
    begun = monotonic()
    heard = [(inf, 0.0)]

    def hear(cost: float, bound: float) -> None:
        if cost < heard[-1][0]:
            heard.append((cost, monotonic() - begun))

    solution = solve(problem, seconds=seconds, progress=hear)
    return price(problem, solution.plan), solution.bound, heard[-1][1]


def by_cp_sat(problem: Problem, seconds: float, warm: bool) -> Result:
    begun = monotonic()
    indexed = IndexedProblem(problem)
    slots = Slots(indexed)
    if warm:
        greedy = Search(indexed, Bound(indexed)).beam(1).path
        if greedy:
            slots.begin_with(greedy)
    solver, watch = cp_model.CpSolver(), Watch(begun)
    solver.parameters.num_workers = WORKERS
    solver.parameters.max_time_in_seconds = max(0.1, seconds - (monotonic() - begun))
    status = solver.solve(slots.model, watch)
    bound = solver.best_objective_bound / WHOLE
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return inf, bound, inf
    return price(problem, indexed.plan(slots.found(solver))), bound, watch.last


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Compare the sequencing core with CP-SAT.")
    parser.add_argument("folder", type=Path, metavar="FOLDER")
    parser.add_argument("--limit", type=float, default=60.0, help="seconds a run (default 60)")
    options = parser.parse_args(arguments)
    solvers: dict[str, Callable[[Problem, float], Result]] = {
        "core": by_core,
        "warm": lambda problem, seconds: by_cp_sat(problem, seconds, True),
        "cold": lambda problem, seconds: by_cp_sat(problem, seconds, False),
    }
    paths = sorted(options.folder.glob("*.json"))
    if not paths:
        parser.error(f"{options.folder}: no .json file there")
    if not options.limit > 0:
        parser.error("--limit wants a number of seconds above 0")
    print(f"{'case':>12} {'solver':>6} {'cost':>12} {'bound':>12} {'to best':>8} {'cpu':>8}")
    try:
        for path in paths:
            case, problem = read_case(path)
            for name, solver in solvers.items():
                spent = sum(os.times()[:4])
                cost, bound, seconds = solver(problem, options.limit)
                spent = sum(os.times()[:4]) - spent
                print(
                    f"{case!s:>12} {name:>6} {cost:12.10g} {bound:12.10g} {seconds:8.2f} "
                    f"{spent:8.1f}",
                    flush=True,
                )
    except CaseError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
