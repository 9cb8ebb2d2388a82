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
from barstock.bench.progress import SetupLeft, machines, progress
from barstock.bench.work import Work, standing_lines, work_of
from barstock.errors import FaultyError, WrongUseError
from barstock.pack.route_file import route_path
from barstock.reading.faults import fault_line
from barstock.route import Setup
from barstock.web.plan_shown import Plan, WrittenFiles, load, read_written, stamp


@dataclass(frozen=True)
class LogState:
    """The log at one moment. lines: all, oldest first; standing: those not taken back."""

    lines: tuple[Entry, ...]
    standing: tuple[Entry, ...]
    work: Work

    @property
    def row(self) -> int:
        """The row of the last line, 0 where there is none."""
        return self.lines[-1].row if self.lines else 0


@dataclass(frozen=True)
class Differences:
    """What differs from the plan. faults: of the files, so that nothing more can be said."""

    changes: tuple[Change, ...] = ()
    faults: tuple[str, ...] = ()


class BenchState:
    """One build with its plan and its log as they now are. Several threads may ask it at once."""

    def __init__(self, folder: Path, log: Log) -> None:
        """Read the plan. Raises WrongUseError, FaultyError where there is no plan to show."""
        self.folder = folder.resolve()
        self.log = log
        self._lock = RLock()
        self._plan = load(self.folder)
        self._log_state = LogState((), (), Work())
        self._written: WrittenFiles | None = None

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
    def log_state(self) -> LogState:
        """The log as it now is."""
        with self._lock:
            new = self.log.read(after=self._log_state.row)
            if new:
                lines = (*self._log_state.lines, *new)
                self._log_state = LogState(lines, tuple(standing_lines(lines)), work_of(lines))
            return self._log_state

    def write(self, *entries: Entry) -> list[Entry]:
        """Add lines to the log; they are safe when this returns."""
        return self.log.write(*entries)

    def written(self) -> WrittenFiles:
        """The drawing and the shop as they now stand in the files."""
        with self._lock:
            if self._written is None or not self._written.current:
                self._written = read_written(self.folder)
            return self._written


class BenchSnapshot:
    """The bench as one request finds it: plan and log read once, the log again after a writing."""

    def __init__(self, bench: BenchState) -> None:
        self._bench = bench
        self.folder, self.log = bench.folder, bench.log

    @cached_property
    def plan(self) -> Plan:
        """The plan as it was when first asked for."""
        return self._bench.plan

    @cached_property
    def log_state(self) -> LogState:
        """The log as it was when first asked for or last written."""
        return self._bench.log_state

    @cached_property
    def lefts(self) -> list[SetupLeft]:
        """What is left to do of every setup."""
        return progress(self.plan.route, self.log_state.work, self.plan.workshop.times)

    @cached_property
    def standing_on(self) -> dict[str, Setup]:
        """The setup that stands on each machine, by the machine."""
        return machines(self.plan.route, self.log_state.standing)

    def in_hand(self) -> Setup | None:
        """The setup that something was entered for last, None before the first entry."""
        return next(reversed(self.standing_on.values()), None)

    def write(self, *entries: Entry) -> list[Entry]:
        """Add lines to the log; they are safe when this returns."""
        written = self._bench.write(*entries)
        self._forget()
        return written

    def bring_in(self, entries: Iterable[Entry]) -> int:
        """Add the lines of a history that are not here yet, and say how many they were."""
        new = self.log.bring_in(entries)
        self._forget()
        return new

    def undo(self, name: str, device: str) -> list[Entry]:
        """Take a line back. Raises KeyError where it is not there."""
        line = next((e for e in self.log_state.lines if e.id == name), None)
        if line is None:
            raise KeyError(name)
        return self.write(Entry(kind=Kind.UNDO, undoes=line.id, device=device))

    def _forget(self) -> None:
        for name in ("log_state", "lefts", "standing_on"):
            self.__dict__.pop(name, None)

    def changed(self) -> Differences:
        """How the files differ from what the route was planned from."""
        written, plan = self._bench.written(), self.plan
        build, workshop = written.build, written.workshop
        planned_with = {(fault.what, fault.part, fault.feature) for fault in plan.faults}
        wrong = [
            fault
            for fault in written.faults
            if fault.grade == "error"
            and (fault.what, fault.part, fault.feature) not in planned_with
        ]
        if build is None or workshop is None or wrong:
            return Differences(faults=tuple(map(fault_line, wrong)))
        found = changes(plan.build, build, plan.route, self.log_state.work)
        if replace(workshop, times=plan.workshop.times) != plan.workshop:
            found.append(Change("", "the workshop"))
        return Differences(tuple(found))
