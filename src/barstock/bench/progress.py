"""What is left of a route: by setup, and what could be done next in the time there is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor

from barstock.bench.entry import Entry
from barstock.bench.heats_ticked import hearth
from barstock.bench.work import Work
from barstock.planning.order.alike_setups import likeness, saving
from barstock.planning.order.plain_orders import ready
from barstock.route import Route, Setup
from barstock.workshop.shop import ShopTimes

LEAST = 0.1
"""No copy is counted as quicker than this [minutes], so that none is free; common practice."""


@dataclass(frozen=True)
class SetupLeft:
    """What is left of a setup. done: copies that have all its operations; share: of its ticks.

    waits_for: the setup of the same part that comes first and is not finished, None where it is
    free; joined: False where the part has yet to be joined at the hearth. minutes: still to go.
    """

    setup: Setup
    done: int
    share: float
    minutes: float
    waits_for: Setup | None = None
    joined: bool = True

    @property
    def free(self) -> bool:
        """Can the setup be gone on with now?"""
        return not self.finished and self.waits_for is None and self.joined

    @property
    def finished(self) -> bool:
        """Is nothing of the setup left to do?"""
        return self.share >= 1

    @property
    def begun(self) -> bool:
        """Is some of the setup done?"""
        return self.share > 0


@dataclass(frozen=True)
class NextWork:
    """Work that could be done now. copies: as many as the time is enough for.

    minutes: it takes; held: "in hand" (it is in the machine), "held alike" (the machine stands
    ready for it) or "set up".
    """

    left: SetupLeft
    copies: int
    minutes: float
    held: str


def progress(route: Route, work: Work, times: ShopTimes) -> list[SetupLeft]:
    """What is left of every setup, in the route's order."""
    parts = {bar.id: bar.part for bar in route.bars}
    before: dict[str, Setup | None] = {}
    unjoined = {one.fabrication.part for one in hearth(route, work) if not one.finished}
    found = []
    for setup in route.setups:
        part = parts.get(setup.work, setup.work)
        left = replace(
            _left(setup, work, times), waits_for=before.get(part), joined=part not in unjoined
        )
        if not left.finished:
            before.setdefault(part, setup)
        found.append(left)
    return found


def _left(setup: Setup, work: Work, times: ShopTimes) -> SetupLeft:
    every = range(1, setup.copies + 1)
    has = [{o.id for o in setup.operations if work.has(o.id, n)} for n in every]
    wanted = len(setup.operations) * setup.copies
    ticked = sum(map(len, has))
    if not wanted or not (setup.minutes or ticked):  # done in an earlier route
        return SetupLeft(setup, setup.copies, 1.0, 0.0)
    share = ticked / wanted
    start = min(ready(setup, times), setup.minutes)
    minutes = (setup.minutes - start) * (1 - share) + (0.0 if ticked else start)
    done = sum(len(ids) == len(setup.operations) for ids in has)
    return SetupLeft(setup, done, share, minutes)


def machines(route: Route, lines: Iterable[Entry]) -> dict[str, Setup]:
    """The setup that stands on each machine: the last one there was an entry for.

    The machine worked at last comes last.
    """
    setups = {s.id: s for s in route.setups}
    by_operation = {o.id: s for s in route.setups for o in s.operations}
    found: dict[str, Setup] = {}
    for line in lines:
        setup = by_operation.get(line.operation) or setups.get(line.setup)
        if setup is not None:
            found.pop(setup.machine, None)
            found[setup.machine] = setup
    return found


def next_up(
    lefts: Sequence[SetupLeft], standing: Mapping[str, Setup], times: ShopTimes, minutes: float
) -> list[NextWork]:
    """The work that the time [minutes] is enough for on at least one copy, the best first.

    What is in the machine comes before what is held alike, that before what has to be set up; then
    the route's order.
    """
    found = []
    for left in lefts:
        if not left.free:
            continue
        could = _could(left, standing.get(left.setup.machine), times, minutes)
        if could is not None:
            found.append(could)
    rank = {"in hand": 0, "held alike": 1, "set up": 2}
    return sorted(found, key=lambda c: rank[c.held])


def _could(left: SetupLeft, up: Setup | None, times: ShopTimes, minutes: float) -> NextWork | None:
    setup = left.setup
    start, held = min(ready(setup, times), setup.minutes), "set up"
    if up is not None and up.id == setup.id:
        start, held = 0.0, "in hand"
    elif up is not None and likeness(up) == likeness(setup):
        start, held = max(0.0, start - saving(setup, times)), "held alike"
    still = setup.copies - left.done
    each = max(LEAST, (left.minutes - (0.0 if left.begun else ready(setup, times))) / max(1, still))
    copies = min(still, floor((minutes - start) / each + 1e-9))
    return NextWork(left, copies, start + copies * each, held) if copies >= 1 else None
