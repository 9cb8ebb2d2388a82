"""Two plain orders of the same work to hold a plan against, timed as the plan is.

Both keep the plan's bars, ways of holding and tools, and the order of each part's setups; only what
comes between them differs. So the setups, each done in one go where a plain order comes to it last,
take no longer than the plain order itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from barstock.machines import machine_type
from barstock.planning.holding.ways import WAYS
from barstock.planning.order.alike_setups import likeness, saving
from barstock.route import Operation, Setup
from barstock.workshop.shop import Holder, ShopTimes

Chains = Sequence[Sequence[Setup]]
Waits = Mapping[str, set[str]]


@dataclass(frozen=True)
class Plain:
    """A plain order: the minutes it takes, and the ids of its setups as each is done with."""

    minutes: float
    setups: tuple[str, ...]


def one_part(chains: Chains, waits: Waits, times: ShopTimes) -> Plain:
    """The bars once cut, every piece finished before the next is begun.

    waits: ids of the setups that must come before each; a part is left for another only where it
    must wait for it.
    """
    runs = list(_runs(chains, waits))
    order = [s for run in runs for s in run if s.stage == "bar"]
    for run in runs:
        pieces = [s for s in run if s.stage == "piece"]
        for _ in range(max((s.copies for s in pieces), default=0)):
            order += [s.model_copy(update={"copies": 1}) for s in pieces]
    total = 0.0
    for n, s in enumerate(order):
        total += s.minutes if s.stage == "bar" else ready(s, times) + _each(s, times)
        if n and likeness(order[n - 1]) == likeness(s):
            total -= saving(s, times)
    return Plain(total, tuple(s.id for run in runs for s in run))


def _runs(chains: Chains, waits: Waits) -> Iterator[list[Setup]]:
    """What can be done of one part after another."""
    left = [list(chain) for chain in chains]
    done: set[str] = set()
    while any(left):
        for chain in left:
            run = []
            while chain and waits.get(chain[0].id, set()) <= done:
                done.add(chain[0].id)
                run.append(chain.pop(0))
            if run:
                yield run


def ready(setup: Setup, times: ShopTimes) -> float:
    """The minutes of setting up, before anything is loaded."""
    return WAYS[setup.holding.way].ready(times, bool(setup.holding.tilt))


def zeroing(setup: Setup, times: ShopTimes, copies: int) -> float:
    """The minutes of finding zero again for so many copies."""
    return WAYS[setup.holding.way].anew(times, (setup.zero_x, setup.zero_y), copies)


def _each(setup: Setup, times: ShopTimes) -> float:
    """Minutes of one copy by itself: loaded once, every tool changed for it."""
    found, last = WAYS[setup.holding.way].loading(times) + zeroing(setup, times, 1), ""
    for o in setup.operations:
        found += o.minutes + (changing(setup, o, times) if o.cutter.name != last else 0.0)
        last = o.cutter.name
    return found


def changing(setup: Setup, operation: Operation, times: ShopTimes) -> float:
    """The minutes to put an operation's tool in and touch it off."""
    cutter = operation.cutter
    machine = machine_type(setup.machine_kind)
    return machine.changing(Holder(cutter.holder), cutter.kind, times)


@dataclass(frozen=True)
class _Job:
    """One operation of one setup."""

    setup: Setup
    operation: Operation

    @property
    def tool(self) -> str:
        return self.operation.cutter.name


def one_tool(chains: Chains, waits: Waits, after: Waits, times: ShopTimes) -> Plain:
    """Each tool, once in the spindle, does all it can before the next.

    waits: ids of the setups that must come before each; after: operations that come before each. As
    in the plan, a setup begins with putting its first tool in (the zeros are found with the edge
    finder). Of several tools, the one with most to do is next.
    """
    waiting = [_Job(s, o) for chain in chains for s in chain for o in s.operations]
    left = {j.operation.id for j in waiting}
    open_still = {s.id: len(s.operations) for chain in chains for s in chain}
    last: _Job | None = None
    total = 0.0
    done: dict[str, None] = {}

    def free(job: _Job) -> bool:
        return waits.get(job.setup.id, set()) <= done.keys() and not (
            after.get(job.operation.id, set()) & left
        )

    while waiting:
        job = _next([job for job in waiting if free(job)], last)
        total += _step(last, job, times)
        waiting.remove(job)
        left.discard(job.operation.id)
        open_still[job.setup.id] -= 1
        if not open_still[job.setup.id]:
            done[job.setup.id] = None
        last = job
    return Plain(total, tuple(done))


def _next(able: list[_Job], last: _Job | None) -> _Job:
    """The same tool in the same setup, else the same tool held alike, else the busiest tool."""
    busy = {tool: sum(j.tool == tool for j in able) for tool in {j.tool for j in able}}

    def rank(job: _Job) -> tuple[bool, bool, bool, int]:
        same = last is not None and job.tool == last.tool
        here = last is not None and job.setup.id == last.setup.id
        alike = last is not None and likeness(job.setup) == likeness(last.setup)
        return same, here, alike, busy[job.tool]

    return max(able, key=rank)


def _step(last: _Job | None, job: _Job, times: ShopTimes) -> float:
    """Minutes of one operation on all copies after another."""
    setup = job.setup
    if setup.saws:
        same = last is not None and likeness(last.setup) == likeness(setup)
        return setup.minutes - (saving(setup, times) if same else 0.0)
    total = setup.copies * (WAYS[setup.holding.way].loading(times) + job.operation.minutes)
    if last is None or last.setup.id != setup.id:
        total += ready(setup, times) + zeroing(setup, times, setup.copies)
        if last is not None and likeness(last.setup) == likeness(setup):
            total -= saving(setup, times)
    if last is None or last.tool != job.tool or last.setup.id != setup.id:
        total += changing(setup, job.operation, times)
    return total
