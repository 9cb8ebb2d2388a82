"""What the pages work on: one build, its plan and its log, shared by all devices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from threading import RLock

from barstock.bench.changes import Change, changes
from barstock.bench.entry import Entry, Kind
from barstock.bench.log import Log
from barstock.bench.progress import Left, machines, progress
from barstock.bench.work import Work, standing_lines, work_of
from barstock.errors import FaultyError, WrongUseError
from barstock.pack.route_file import route_path
from barstock.reading.faults import fault_line
from barstock.route import Setup
from barstock.web.plan_shown import Plan, Written, load, read_written, stamp


@dataclass(frozen=True)
class Seen:
    """The log at one moment. lines: all, oldest first; standing: those not taken back."""

    lines: tuple[Entry, ...]
    standing: tuple[Entry, ...]
    work: Work

    @property
    def row(self) -> int:
        """Of the last line."""
        return self.lines[-1].row if self.lines else 0


@dataclass(frozen=True)
class Changed:
    """What is otherwise than planned. faults: of the files, so that nothing more can be said."""

    changes: tuple[Change, ...] = ()
    faults: tuple[str, ...] = ()


class Desk:
    """May be asked from several threads at once."""

    def __init__(self, folder: Path, log: Log) -> None:
        """Raises WrongUseError, FaultyError where there is no plan to show."""
        self.folder = folder.resolve()
        self.log = log
        self._lock = RLock()
        self._plan = load(self.folder)
        self._seen = Seen((), (), Work())
        self._written: Written | None = None

    @property
    def plan(self) -> Plan:
        """The plan as it now is in out/; the one before while that cannot be read."""
        now = stamp(route_path(self.folder))
        with self._lock:
            if now and now != self._plan.stamp:
                try:
                    self._plan = load(self.folder)
                except (WrongUseError, FaultyError, OSError):
                    return self._plan
            return self._plan

    @property
    def seen(self) -> Seen:
        """The log as it now is."""
        with self._lock:
            new = self.log.read(after=self._seen.row)
            if new:
                lines = (*self._seen.lines, *new)
                self._seen = Seen(lines, tuple(standing_lines(lines)), work_of(lines))
            return self._seen

    def write(self, *entries: Entry) -> list[Entry]:
        """Add lines to the log; they are safe when this returns."""
        return self.log.write(*entries)

    def written(self) -> Written:
        """What stands in the files now."""
        with self._lock:
            if self._written is None or not self._written.current:
                self._written = read_written(self.folder)
            return self._written


class Sight:
    """The desk as one request finds it: plan and log read once, the log again after a writing."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.folder, self.log = desk.folder, desk.log

    @cached_property
    def plan(self) -> Plan:
        """The plan."""
        return self._desk.plan

    @cached_property
    def seen(self) -> Seen:
        """The log."""
        return self._desk.seen

    @cached_property
    def lefts(self) -> list[Left]:
        """What is left of every setup."""
        return progress(self.plan.route, self.seen.work, self.plan.workshop.times)

    @cached_property
    def standing_on(self) -> dict[str, Setup]:
        """The setup that stands on each machine."""
        return machines(self.plan.route, self.seen.standing)

    def in_hand(self) -> Setup | None:
        """The setup that something was entered for last."""
        return next(reversed(self.standing_on.values()), None)

    def write(self, *entries: Entry) -> list[Entry]:
        """Add lines to the log; they are safe when this returns."""
        written = self._desk.write(*entries)
        self._forget()
        return written

    def bring_in(self, entries: Iterable[Entry]) -> int:
        """Add the lines of a history that are not here yet; how many they were."""
        new = self.log.bring_in(entries)
        self._forget()
        return new

    def undo(self, name: str, device: str) -> list[Entry]:
        """Take a line back; KeyError where it is not there."""
        line = next((e for e in self.seen.lines if e.id == name), None)
        if line is None:
            raise KeyError(name)
        return self.write(Entry(kind=Kind.UNDO, undoes=line.id, device=device))

    def _forget(self) -> None:
        for name in ("seen", "lefts", "standing_on"):
            self.__dict__.pop(name, None)

    def changed(self) -> Changed:
        """What is otherwise in the files than when the route was planned."""
        written, plan = self._desk.written(), self.plan
        build, workshop = written.build, written.workshop
        if build is None or workshop is None:
            wrong = [fault for fault in written.faults if fault.grade == "error"]
            return Changed(faults=tuple(map(fault_line, wrong)))
        found = changes(plan.build, build, plan.route, self.seen.work)
        if replace(workshop, times=plan.workshop.times) != plan.workshop:
            found.append(Change("", "the workshop"))
        return Changed(tuple(found))
