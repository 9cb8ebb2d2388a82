"""The clock at the bench: what was timed, and what the route had for the same work."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from barstock.bench.entry import Entry, Kind
from barstock.machines import machine_type
from barstock.machines.machine_type import WorkSort
from barstock.planning.order.plain_orders import ready
from barstock.route import Route, Setup
from barstock.workshop.shop import ShopTimes

SETTING_UP = "setting up"
CUTTING, SAWING, FILING = (sort.value for sort in WorkSort)
LONGEST = 12 * 60.0
"""A clock that ran longer was forgotten [minutes]; common practice."""


def figures(setup: Setup) -> tuple[str, ...]:
    """The sorts of time that can be taken of a setup."""
    work = machine_type(setup.machine_kind).work.value
    return (SETTING_UP, work) if work == CUTTING else (work,)


def stopped(
    start: Entry, route: Route, lines: Iterable[Entry], times: ShopTimes, at: datetime
) -> Entry:
    """The line that stops a clock. lines: all that stand.

    A forgotten clock, and one that ran while nothing was ticked, teaches nothing: no `planned`.
    """
    minutes = max(0.0, (at - start.at).total_seconds() / 60)
    setup = next((s for s in route.setups if s.id == start.setup), None)
    planned = None
    if setup is not None and minutes <= LONGEST:
        ticked = [e for e in lines if e.kind is Kind.TICK and start.at <= e.at <= at]
        planned = _planned(setup, start.figure, ticked, times) or None
    return Entry(
        kind=Kind.STOP,
        at=at,
        device=start.device,
        setup=start.setup,
        work=start.work,
        figure=start.figure,
        minutes=round(minutes, 2),
        planned=planned and round(planned, 2),
    )


def _planned(setup: Setup, figure: str, ticked: Iterable[Entry], times: ShopTimes) -> float:
    """Minutes of the route for what was timed: of its cutting, the share that was ticked."""
    start = min(ready(setup, times), setup.minutes)
    if figure == SETTING_UP:
        return start
    weights = {o.id: times.load + o.minutes for o in setup.operations}
    every = sum(weights.values()) * setup.copies
    done = {(e.operation, e.nth) for e in ticked if e.operation in weights}
    whole = setup.minutes - (start if figure == CUTTING else 0.0)
    return whole * sum(weights[o] for o, _ in done) / every if every else 0.0
