"""Plans the rest of the work anew, from the work as it stands."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from barstock.bench.entry import Entry, Kind
from barstock.bench.handing_on import standing, standing_text
from barstock.web.bench_state import BenchState
from barstock.web.long_work import LongWork, Tell

Planner = Callable[..., Any]
"""Plans a folder, as `barstock.plan` does: (folder, done=file, progress=told)."""


def replan(long_work: LongWork, bench: BenchState, plan: Planner, device: str) -> None:
    """Begin to plan the rest anew; nothing happens where that is being done already."""
    last = bench.plan
    done = standing(bench.log_state.work, last.route)
    text = standing_text(done) if done.done or done.spoiled else None

    def then() -> None:
        bench.write(Entry(kind=Kind.PLANNED, device=device), *_sawn_on(bench, last, device))

    long_work.start(partial(_plan, plan, bench.folder, text), then)


def _plan(plan: Planner, folder: Path, done: str | None, tell: Tell) -> None:
    """Plan in the other process."""
    with tempfile.TemporaryDirectory(prefix="barstock-") as place:
        path = None
        if done is not None:
            path = Path(place) / "done.json"
            path.write_text(done, encoding="utf-8")
        plan(folder, done=path, progress=tell)


def _sawn_on(bench: BenchState, last: Any, device: str) -> list[Entry]:
    """The lines that take back the ticks of bars that more is to be sawn from than when they were
    ticked.
    """
    before = {bar.id: bar for bar in last.route.bars}
    work, taken = bench.log_state.work, []
    for setup in bench.plan.route.setups:
        now = next((b for b in bench.plan.route.bars if b.id == setup.work), None)
        was = before.get(setup.work)
        if now is None or was is None or setup.saws is None:
            continue
        then = was.last_pieces or was.pieces
        more = (now.pieces if now.count > was.count else now.last_pieces or now.pieces) > then
        for operation in setup.operations if more else ():
            ticks = work.ticks.get(operation.id, {}).get(was.count, [])
            taken += [Entry(kind=Kind.UNDO, undoes=t.id, device=device) for t in ticks]
    return taken
