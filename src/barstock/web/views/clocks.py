"""The clocks: those that run, and those that tell when to be back (a heat, the pickle)."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import Response

from barstock.bench.entry import Entry, Kind
from barstock.bench.timing import stopped
from barstock.web.page_words import say
from barstock.web.rendering import bench_of, device_of, onward, part_of_page, whole_page

router = APIRouter()
SORTS = ("pickle", "heat", "rinse", "cool")
MOST = 600.0
"""Longest clock to wait by: a night in the pickle [minutes]; common practice."""


def _shown(
    request: Request,
    status: int = 200,
    entered: str = "10",
    figure: str = "pickle",
    wrong: str = "",
) -> Response:
    running = list(bench_of(request).log_state.work.running.values())
    return whole_page(
        request,
        "clocks.html",
        "heats",
        status,
        running=running,
        entered=entered,
        figure=figure,
        wrong=wrong,
    )


@router.get("/clocks")
def clocks(request: Request) -> Response:
    """The page of all clocks."""
    return _shown(request)


@router.get("/clocks/running")
def running(request: Request) -> Response:
    """The clocks that run, as a piece of a page."""
    found = list(bench_of(request).log_state.work.running.values())
    return part_of_page("running.html", running=found)


@router.post("/clocks")
def start(
    request: Request,
    figure: Annotated[str, Form()],
    minutes: Annotated[str, Form(max_length=20)] = "",
) -> Response:
    """Start a clock that tells when to be back."""
    try:
        wait = float(minutes.replace(",", "."))
    except ValueError:
        wait = 0.0
    if figure not in SORTS:
        raise HTTPException(404)
    if not 0 < wait <= MOST:
        return _shown(request, 422, minutes, figure, say("timer wrong"))
    bench_of(request).write(
        Entry(kind=Kind.START, device=device_of(request), figure=figure, minutes=wait)
    )
    return onward("/clocks")


@router.post("/clocks/stop")
def stop(request: Request, id: Annotated[str, Form(max_length=40)]) -> Response:
    """Stop a clock, whichever device started it."""
    bench = bench_of(request)
    found = next((e for e in bench.log_state.work.running.values() if e.id == id), None)
    if found is not None:
        plan, at = bench.plan, datetime.now(UTC)
        lines = bench.log_state.standing
        bench.write(stopped(found, plan.route, lines, plan.workshop.times, at))
    return onward("/clocks")
