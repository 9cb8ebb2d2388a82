"""Why an operation stands where it does, and what it would cost to have it otherwise."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from barstock.quantities import Unit
from barstock.route.operations import Operation
from barstock.route.record import Record, Statement
from barstock.route.setups import Setup
from barstock.route.statements import Choice, Reason


class Rule(Record):
    """One operation comes after another, and why. then, first: their ids."""

    then: str
    first: str
    reason: Reason

    def __str__(self) -> str:
        return f"{self.then} comes after {self.first}"


class ChangeKind(StrEnum):
    """The kinds of change that are tried."""

    BEFORE = "before"
    AFTER = "after"
    HELD = "held"
    TOOL = "tool"


class Change(Statement):
    """One thing tried otherwise with an operation."""

    kind: ChangeKind


class WhatIf(Record):
    """A change tried, and what becomes of it. minutes: what the whole plan would take more; None:
    it cannot be, for these rules, pinned choices, and what `because` says.
    """

    change: Change
    minutes: float | None
    rules: tuple[Rule, ...] = ()
    pins: tuple[Choice, ...] = ()
    because: str = ""


class Why(Record):
    """All there is to say of one operation's place: the setup it stands in, `number` of `of`.

    unit: of its part. operations: all of the part's. rules: why it comes after others, and where it
    does. followers: what must wait for it, by id. savings: what its setup saves. alone: minutes
    that a setup of its own would take, 0 where it has one. same_tool: its neighbours with the same
    tool, by id, each with the minutes that saves.
    """

    operation: str
    setup: Setup
    number: int
    of: int
    unit: Unit
    operations: tuple[Operation, ...]
    rules: tuple[Reason, ...]
    savings: tuple[Reason, ...] = ()
    followers: dict[str, Reason] = Field(default={})
    alone: float = 0.0
    same_tool: dict[str, float] = Field(default={})
    what_if: tuple[WhatIf, ...] = ()
