"""Planning anew in a process of its own, so that the pages go on answering meanwhile."""

from __future__ import annotations

import multiprocessing
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Lock, Thread
from typing import Any

from barstock.bench.entry import Entry, Kind
from barstock.bench.handing_on import standing, standing_text
from barstock.errors import BarstockError
from barstock.web.desk import Desk

Planner = Callable[..., Any]
"""Plans a folder, as `barstock.plan` does: (folder, done=file, progress=told)."""


@dataclass(frozen=True)
class State:
    """How far it has come. failed: why it could not be done, in lines."""

    running: bool = False
    words: str = ""
    share: float = 0.0
    failed: tuple[str, ...] = ()


class Replanning:
    """One planning at a time."""

    def __init__(self, desk: Desk, plan: Planner) -> None:
        self.desk, self.state = desk, State()
        self._plan = plan
        self._lock = Lock()

    def start(self, device: str) -> None:
        """Plan the rest from the work as the log has it; nothing where that is being done."""
        with self._lock:
            if self.state.running:
                return
            self.state = State(running=True, words="…")
        Thread(target=self._run, args=(device,), daemon=True).start()

    def _run(self, device: str) -> None:
        desk = self.desk
        last = desk.plan
        done = standing(desk.seen.work, last.route)
        text = standing_text(done) if done.done or done.spoiled else None
        context = multiprocessing.get_context("spawn")
        here, there = context.Pipe(duplex=False)
        process = context.Process(target=_work, args=(self._plan, desk.folder, text, there))
        process.start()
        there.close()
        failed: tuple[str, ...] | None = None
        while failed is None:
            try:
                told = here.recv()
            except EOFError:
                failed = ("planning broke off",)
                break
            if isinstance(told, tuple) and told[0] == "end":
                failed = tuple(told[1])
            else:
                self.state = State(running=True, words=told[0], share=told[1])
        process.join()
        if not failed:
            desk.write(Entry(kind=Kind.PLANNED, device=device), *_sawn_on(desk, last, device))
        self.state = State(failed=failed)


def _work(plan: Planner, folder: Path, done: str | None, out: Connection) -> None:
    """In the other process."""

    def tell(words: str, share: float) -> None:
        out.send((words, share))

    with tempfile.TemporaryDirectory(prefix="barstock-") as place:
        path = None
        if done is not None:
            path = Path(place) / "done.json"
            path.write_text(done, encoding="utf-8")
        try:
            plan(folder, done=path, progress=tell)
        except (BarstockError, OSError) as wrong:
            out.send(("end", str(wrong).splitlines()))
        else:
            out.send(("end", ()))


def _sawn_on(desk: Desk, last: Any, device: str) -> list[Entry]:
    """Takes back the ticks of bars that more is to be sawn from than when they were ticked."""
    before = {bar.id: bar for bar in last.route.bars}
    work, taken = desk.seen.work, []
    for setup in desk.plan.route.setups:
        now = next((b for b in desk.plan.route.bars if b.id == setup.work), None)
        was = before.get(setup.work)
        if now is None or was is None or setup.machine_kind.value != "saw":
            continue
        then = was.last_pieces or was.pieces
        more = (now.pieces if now.count > was.count else now.last_pieces or now.pieces) > then
        for operation in setup.operations if more else ():
            ticks = work.ticks.get(operation.id, {}).get(was.count, [])
            taken += [Entry(kind=Kind.UNDO, undoes=t.id, device=device) for t in ticks]
    return taken
