"""How far the work has come, as the log's lines tell it: what still stands after all undoing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from barstock.bench.entry import Entry, Kind


@dataclass
class Work:
    """The work so far: the lines that stand, sorted.

    ticks: operation or heat -> copy -> its ticks. sizes, timings: oldest first. running: by device,
    what is being timed. A spoiled copy's ticks and sizes do not count: it is made again.
    """

    ticks: dict[str, dict[int, list[Entry]]] = field(default_factory=lambda: defaultdict(dict))
    sizes: list[Entry] = field(default_factory=list)
    spoiled: list[Entry] = field(default_factory=list)
    timings: list[Entry] = field(default_factory=list)
    running: dict[str, Entry] = field(default_factory=dict)

    def copies(self, operation: str) -> frozenset[int]:
        """The copies that have an operation."""
        return frozenset(self.ticks[operation]) if operation in self.ticks else frozenset()

    def has(self, operation: str, nth: int) -> bool:
        """Has that copy had the operation?"""
        return nth in self.copies(operation)

    def spoiled_of(self, part: str) -> int:
        """How many pieces of a part are spoiled since the beginning."""
        return sum(entry.work == part for entry in self.spoiled)

    def measured(self, work: str, dimension: str) -> dict[int, Entry]:
        """The last size measured of a dimension, by copy."""
        return {e.nth: e for e in self.sizes if e.work == work and e.dimension == dimension}

    def add(self, entry: Entry) -> None:
        """Count a line that stands, later than all before it."""
        match entry.kind:
            case Kind.TICK | Kind.HEAT:
                self.ticks[entry.operation].setdefault(entry.nth, []).append(entry)
            case Kind.SIZE:
                self.sizes.append(entry)
            case Kind.SPOILED:
                self.spoiled.append(entry)
                self._made_again(entry.work, entry.nth)
            case Kind.START:
                self.running[entry.device] = entry
            case Kind.STOP:
                self.running.pop(entry.device, None)
                self.timings.append(entry)

    def _made_again(self, work: str, nth: int) -> None:
        for copies in self.ticks.values():
            if nth in copies and copies[nth][0].work == work:
                del copies[nth]
        self.sizes = [e for e in self.sizes if (e.work, e.nth) != (work, nth)]


def standing_lines(entries: Sequence[Entry]) -> list[Entry]:
    """The lines that no other takes back; an undoing taken back stands for nothing."""
    undone: set[str] = set()
    for entry in reversed(entries):
        if entry.kind is Kind.UNDO and entry.id not in undone:
            undone.add(entry.undoes)
    return [e for e in entries if e.id not in undone and e.kind is not Kind.UNDO]


def undone(entries: Iterable[Entry]) -> frozenset[str]:
    """The ids of all lines taken back."""
    entries = list(entries)
    left = {e.id for e in standing_lines(entries)}
    taken = {e.undoes for e in entries if e.kind is Kind.UNDO}
    return frozenset(taken - left)


def work_of(entries: Sequence[Entry]) -> Work:
    """How far the work has come after these lines, oldest first."""
    work = Work()
    for entry in standing_lines(entries):
        work.add(entry)
    return work
