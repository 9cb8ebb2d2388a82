"""The pages of the setup in hand: its cards, its copies, its clock."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import FileResponse, Response

from barstock.bench.entry import Entry, Kind
from barstock.bench.timing import figures, stopped
from barstock.pack.pack_pages import SetupPage
from barstock.route import Setup
from barstock.web.bench_state import BenchSnapshot
from barstock.web.cards import Card, measured_out, next_copy, resume
from barstock.web.page_words import clock as time_of_day
from barstock.web.page_words import say
from barstock.web.rendering import (
    asks_a_piece,
    bench_of,
    device_of,
    onward,
    part_of_page,
    whole_page,
)
from barstock.web.views.finding import found_card, found_setup
from barstock.web.views.measuring import shown_measured

router = APIRouter()


@router.get("/setup/{name}")
def begin(request: Request, name: str) -> Response:
    """Go to the card where the work goes on."""
    _, _, found = found_setup(request, name)
    return onward(f"/setup/{name}/{resume(found, bench_of(request).log_state.work)}")


@router.get("/setup/{name}/whole")
def whole(request: Request, name: str) -> Response:
    """The page with all of a setup, to print."""
    setup, page, found = found_setup(request, name)
    bench = bench_of(request)
    ticks = [c.ticks for c in found if c.ticks is not None]
    ticked = [
        [n in t.done(bench.log_state.work) for n in range(1, len(t.boxes) + 1)] for t in ticks
    ]
    picture = picture_of(bench, setup, page)
    return whole_page(
        request,
        "whole.html",
        "setup",
        page=page,
        setup=setup,
        ticked=ticked,
        picture=picture,
        paired=request.app.state.pairing is not None,
    )


@router.get("/setup/{name}/clock")
def clock(request: Request, name: str) -> Response:
    """The setup's clock, as a piece of the page."""
    setup, page, _ = found_setup(request, name)
    return part_of_page("clock.html", page=page, **_clock(request, setup))


@router.post("/setup/{name}/clock")
def turn_clock(request: Request, name: str, figure: Annotated[str, Form()] = "") -> Response:
    """Start a clock for this device, or stop the one that runs."""
    setup, page, _ = found_setup(request, name)
    bench, device = bench_of(request), device_of(request)
    written = []
    running = bench.log_state.work.running.get(device)
    if running is not None:
        plan, at = bench.plan, datetime.now(UTC)
        written.append(
            stopped(running, plan.route, bench.log_state.standing, plan.workshop.times, at)
        )
    if figure in figures(setup):
        written.append(
            Entry(kind=Kind.START, device=device, setup=name, work=setup.work, figure=figure)
        )
    bench.write(*written)
    if not asks_a_piece(request):
        return onward(f"/setup/{name}/1")
    return part_of_page("clock.html", page=page, **_clock(request, setup))


def _clock(request: Request, setup: Setup) -> dict[str, Any]:
    running = bench_of(request).log_state.work.running.get(device_of(request))
    return {"my_clock": running, "figures_timed": figures(setup)}


@router.get("/setup/{name}/{number:int}")
def card(request: Request, name: str, number: int) -> Response:
    """The page of one card."""
    setup, page, found = found_setup(request, name)
    one = found_card(found, number)
    bench = bench_of(request)
    names = [s.id for s in bench.plan.route.setups]
    at = names.index(name)
    onto = names[at + 1] if at + 1 < len(names) else None
    last = number == len(found)
    loading = next((c for c in found[number - 1 :] if c.ticks is not None), None)
    in_hand = next_copy(loading.ticks, bench.log_state.work) if loading and loading.ticks else None
    given: dict[str, Any] = {
        "page": page,
        "setup": setup,
        "card": one,
        "of": len(found),
        "before": f"/setup/{name}/{number - 1}" if number > 1 else "/",
        "after": (f"/setup/{onto}" if onto else "/") if last else f"/setup/{name}/{number + 1}",
        "next_setup": onto,
        "noun": _noun(setup),
        "in_hand": in_hand if setup.copies > 1 else None,
        "picture": picture_of(bench, setup, page),
        "measured": [shown_measured(request, setup, m, n) for n, m in enumerate(one.measured)],
    }
    if one.sort == "hold":
        at_once = len(page.steps) - len(measured_out(page))
        given |= {**_clock(request, setup), "told_at_once": page.steps[:at_once]}
    if one.ticks is not None:
        given |= _copies(bench, one, found)
    return whole_page(request, "setup.html", "setup", **given)


# -- copies ----------------------------------------------------------------------------------------


@router.get("/setup/{name}/{number:int}/copies")
def copies(request: Request, name: str, number: int) -> Response:
    """The boxes to tick for a pass."""
    return _boxes(request, name, number)


@router.post("/setup/{name}/{number:int}/tick")
def tick(
    request: Request,
    name: str,
    number: int,
    nth: Annotated[int, Form()],
    done: Annotated[str, Form()] = "yes",
) -> Response:
    """Tick a copy, or take its ticks back."""
    setup, _, found = found_setup(request, name)
    ticks = found_card(found, number).ticks
    if ticks is None or not 1 <= nth <= len(ticks.boxes):
        raise HTTPException(404)
    bench, device = bench_of(request), device_of(request)
    work = bench.log_state.work
    if done == "yes":
        same: dict[str, Any] = {"device": device, "setup": name, "work": setup.work, "nth": nth}
        lacking = [i for i in ticks.ids if not work.has(i, nth)]
        new = [Entry(kind=Kind.TICK, operation=i, **same) for i in lacking]
    else:
        standing = [e for i in ticks.ids for e in work.ticks.get(i, {}).get(nth, [])]
        new = [Entry(kind=Kind.UNDO, device=device, undoes=e.id) for e in standing]
    written = bench.write(*new)
    message = say("saved", at=time_of_day(written[-1].at)) if written else ""
    if not asks_a_piece(request):
        return onward(f"/setup/{name}/{number}")
    return _boxes(request, name, number, message=message if done == "yes" else say("taken back"))


@router.post("/setup/{name}/{number:int}/spoil")
def spoil(
    request: Request,
    name: str,
    number: int,
    nth: Annotated[str, Form()] = "",
    words: Annotated[str, Form(max_length=500)] = "",
) -> Response:
    """Enter a copy as spoiled."""
    setup, _, found = found_setup(request, name)
    found_card(found, number)
    which = int(nth) if nth.isascii() and nth.isdigit() else 0
    if setup.stage != "piece" or not 1 <= which <= setup.copies:
        return _boxes(request, name, number, 422, spoil_wrong=say("spoil which lacking"))
    bench_of(request).write(
        Entry(
            kind=Kind.SPOILED,
            device=device_of(request),
            setup=name,
            work=setup.work,
            nth=which,
            words=words,
        )
    )
    if not asks_a_piece(request):
        return onward(f"/setup/{name}/{number}")
    return _boxes(request, name, number, message=say("spoil done", n=which))


def _boxes(
    request: Request,
    name: str,
    number: int,
    status: int = 200,
    *,
    message: str = "",
    spoil_wrong: str = "",
) -> Response:
    setup, page, found = found_setup(request, name)
    one = found_card(found, number)
    if one.ticks is None:
        raise HTTPException(404)
    given = _copies(bench_of(request), one, found)
    given |= {"message": message, "spoil_wrong": spoil_wrong}
    return part_of_page("copies.html", status, page=page, card=one, noun=_noun(setup), **given)


def _copies(bench: BenchSnapshot, one: Card, found: list[Card]) -> dict[str, Any]:
    assert one.ticks is not None
    work = bench.log_state.work
    return {
        "done": one.ticks.done(work),
        "in_pass": next_copy(one.ticks, work),
        "first_of_pass": next(c.number for c in found if c.loading is one.loading),
        "message": "",
        "spoil_wrong": "",
    }


def _noun(setup: Setup) -> str:
    return "bar" if setup.stage == "bar" else "copy"


# -- pictures --------------------------------------------------------------------------------------


def picture_of(bench: BenchSnapshot, setup: Setup, page: SetupPage) -> str:
    """The address of a setup's picture, "" where there is none."""
    plan = bench.plan
    if setup.id in plan.pictures:
        return f"/picture/{setup.id}?{plan.stamp}"
    names = [p.name for p in plan.build.parts]
    if page.picture.startswith("drawing") and page.part in plan.drawings:
        return f"/drawing/{names.index(page.part) + 1}?{plan.stamp}"
    return ""


@router.get("/picture/{name}")
def picture(request: Request, name: str) -> Response:
    """A setup's picture as SVG."""
    path = bench_of(request).plan.pictures.get(name)
    if path is None or not path.is_file():
        raise HTTPException(404)
    return FileResponse(
        path, media_type="image/svg+xml", headers={"Cache-Control": "private, max-age=86400"}
    )
