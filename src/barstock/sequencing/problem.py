"""The sequencing problem, free of workshop detail: what is done, how, and what changes cost.

Costs are plain numbers in one unit of the caller's choice (minutes, money).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

Pairs = Mapping[str, Mapping[str, float]]


class SequencingError(ValueError):
    """The problem contradicts itself, or no order of work satisfies it."""


@dataclass(frozen=True)
class Choice:
    """One way of doing an operation."""

    machine: str
    tool: str
    setup: str
    cost: float


@dataclass(frozen=True)
class Operation:
    """Something to be done, in one of its ways.

    after: operations that come before it, as far as they are done: where another of a choose-one
    group is done in a named one's stead, nothing is asked.
    """

    choices: tuple[Choice, ...]
    after: tuple[str, ...] = ()


@dataclass(frozen=True)
class Changeover:
    """What passing from one operation to the next costs.

    machine, tool, setup: a number, a table by what is changed to, or a table from -> to. A machine
    change pays tool and setup change too, even where their names stay (a from -> to table then
    needs that entry; else it is the dearest change to it). To begin costs nothing.
    """

    machine: float | Pairs = 0.0
    tool: float | Mapping[str, float] | Pairs = 0.0
    setup: float | Mapping[str, float] | Pairs = 0.0


@dataclass(frozen=True)
class Problem:
    """Operations by id, of which every one is done except in a choose-one group, where one is."""

    operations: Mapping[str, Operation]
    choose_one: Sequence[Sequence[str]] = ()
    changeover: Changeover = Changeover()

    def groups(self) -> dict[str, str]:
        """What the choose-one group of each operation goes by: itself where it is in none."""
        found = {name: name for name in self.operations}
        for names in self.choose_one:
            found.update(dict.fromkeys(names, names[0]))
        return found

    def __post_init__(self) -> None:
        """Raises SequencingError saying which operation is wrong and how."""
        grouped: set[str] = set()
        for group in self.choose_one:
            if not group:
                raise SequencingError("a choose-one group is empty")
            for name in group:
                if name not in self.operations:
                    raise SequencingError(f"choose-one group names '{name}', not an operation")
                if name in grouped:
                    raise SequencingError(f"'{name}' stands twice in choose-one groups")
                grouped.add(name)
        for name, operation in self.operations.items():
            if not operation.choices:
                raise SequencingError(f"operation '{name}' has no choice of machine and tool")
            for before in operation.after:
                if before not in self.operations:
                    raise SequencingError(f"'{name}' comes after '{before}', not an operation")
                if before == name:
                    raise SequencingError(f"'{name}' comes after itself")
            for choice in operation.choices:
                if not 0 <= choice.cost < inf:
                    raise SequencingError(f"operation '{name}' has a choice costing {choice.cost}")


@dataclass(frozen=True)
class Chosen:
    """An operation of the plan and how it is done."""

    operation: str
    machine: str
    tool: str
    setup: str


@dataclass(frozen=True)
class Solution:
    """The best plan found, its cost, and a lower bound no plan can beat.

    gap: (cost - bound) / cost. proven: the plan is optimal. seconds: spent finding it.
    """

    plan: tuple[Chosen, ...]
    cost: float
    bound: float
    seconds: float

    @property
    def gap(self) -> float:
        """How far the bound lies below the cost, as a share of the cost."""
        return max(0.0, self.cost - self.bound) / self.cost if self.cost > 0 else 0.0

    @property
    def proven(self) -> bool:
        """Is the plan proven to be the best there is?"""
        return self.bound >= self.cost - 1e-6 * max(1.0, abs(self.cost))
