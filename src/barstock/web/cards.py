"""A setup as cards, one thing to do on each: hold the work, set what holds it, find zero, dial,
measure, tick the copies.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import dropwhile
from typing import Literal

from barstock.bench.work import Work
from barstock.pack.pack_pages import OperationBox, Pass, SetupPage
from barstock.route import Expect, Operation, Setup
from barstock.words.checks import CheckLine
from barstock.words.lines import Line


@dataclass(frozen=True)
class Measured:
    """A dimension to measure: as printed, and as the route has it."""

    shown: CheckLine
    check: Expect
    operation: Operation


@dataclass(frozen=True)
class Ticks:
    """The boxes to tick for the copies of a pass. ids: its operations; boxes: what is printed in
    each, from copy 1.
    """

    ids: tuple[str, ...]
    boxes: tuple[str, ...]

    def done(self, work: Work) -> frozenset[int]:
        """The copies that have all of its operations."""
        every = range(1, len(self.boxes) + 1)
        return frozenset(n for n in every if all(work.has(i, n) for i in self.ids))


@dataclass(frozen=True)
class Card:
    """One thing to do. sort tells which of the rest is there; number counts from 1.

    first: is it the first card of its operation, with what is to be known before?
    """

    number: int
    sort: Literal["hold", "set", "zero", "dial", "measure", "copies"]
    box: OperationBox | None = None
    line: Line | None = None
    measured: tuple[Measured, ...] = ()
    loading: Pass | None = None
    ticks: Ticks | None = None
    first: bool = False


def cards(page: SetupPage, setup: Setup) -> list[Card]:
    """All cards of a setup, in order."""
    found = [Card(1, "hold")]

    def add(sort: Literal["set", "zero", "dial", "measure", "copies"], **rest: object) -> None:
        found.append(Card(len(found) + 1, sort, **rest))  # type: ignore[arg-type]

    for placed in measured_out(page):
        add("set", line=placed)
    if page.zeros:
        add("zero")
    for one in page.passes:
        ids = []
        for box in one.operations:
            operation = setup.operations[box.number - 1]
            ids.append(operation.id)
            for n, line in enumerate(box.lines or (None,)):
                add("dial", box=box, line=line, first=n == 0, loading=one)
            if box.checks:
                both = zip(box.checks, operation.checks, strict=True)
                found_here = tuple(Measured(shown, check, operation) for shown, check in both)
                add("measure", box=box, measured=found_here, loading=one)
        add("copies", loading=one, ticks=Ticks(tuple(ids), one.boxes))
    return found


def measured_out(page: SetupPage) -> tuple[Line, ...]:
    """What is done in setting up from the first that goes by a number: the rest is told at once."""
    return tuple(dropwhile(lambda line: not (line.axes or line.other), page.steps))


def resume(found: list[Card], work: Work) -> int:
    """The number of the card to go on at: the first, or where a begun setup has copies to do."""
    passes = [card for card in found if card.ticks is not None]
    if not any(card.ticks and card.ticks.done(work) for card in passes):
        return 1
    for card in passes:
        if card.ticks and len(card.ticks.done(work)) < len(card.ticks.boxes):
            if card.ticks.done(work):
                return card.number
            return next(c.number for c in found if c.loading is card.loading)
    return found[-1].number


def next_copy(ticks: Ticks, work: Work) -> int | None:
    """The first copy still to do, None where all are done."""
    done = ticks.done(work)
    return next((n for n in range(1, len(ticks.boxes) + 1) if n not in done), None)
