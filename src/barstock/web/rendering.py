"""From a template to an answer: what every page is given, and the filters that templates use."""

from __future__ import annotations

import logging
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from barstock.bench.entry import Entry
from barstock.quantities import Unit
from barstock.web import page_words
from barstock.web.bench_state import BenchSnapshot
from barstock.web.page_words import say
from barstock.web.plan_shown import AS_DRAWN
from barstock.words.durations import hours
from barstock.words.lines import Line, Run
from barstock.words.setup_titles import setup_title

UNITS = (AS_DRAWN, *(u.value for u in Unit))
UNIT_COOKIE = "barstock_unit"
LONG = 7
"""Figures of a reading above which it is set smaller where two stand beside each other."""
MANY = 3
"""Readings above which two stand beside each other where there is no height for more."""


def capital(text: str) -> str:
    """The words with a capital letter first."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """The words with a capital first and a full stop at the end."""
    return capital(text.rstrip(".")) + "."


def length_of(runs: tuple[Run, ...]) -> str:
    """The style class of a reading by its length."""
    big = sum(len(run.text) for run in runs if run.big)
    wordy = any(not run.big and len(run.text) > 5 for run in runs) or len(runs) > 3
    return (" long" if big > LONG or (wordy and big > 5) else "") + (" wordy" if wordy else "")


def columns(line: Line) -> str:
    """The style class of a line's plates: two beside each other where they are many, and short
    enough.
    """
    readings = (*line.axes.values(), *line.other)
    classes = [length_of(runs) for reading in readings for runs in reading.values]
    return " two" if len(classes) > MANY and not any(classes) else ""


def until(start: Entry) -> datetime:
    """When a clock that is waited for is over."""
    return start.at + timedelta(minutes=start.minutes or 0)


@cache
def environment() -> Environment:
    """The templates, compiled once."""
    found = Environment(
        loader=FileSystemLoader(Path(__file__).with_name("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    found.globals |= {
        "say": page_words.say,
        "entry_words": page_words.entry_words,
        "clock": page_words.clock,
        "day": page_words.day,
        "capital": capital,
        "sentence": sentence,
        "hours": hours,
        "length_of": length_of,
        "columns": columns,
        "until": until,
        "setup_title": setup_title,
    }
    return found


def bench_of(request: Request) -> BenchSnapshot:
    """The build that the pages show, as this request finds it."""
    if not hasattr(request.state, "bench"):
        request.state.bench = BenchSnapshot(request.app.state.bench)
    bench: BenchSnapshot = request.state.bench
    return bench


def device_of(request: Request) -> str:
    """The name of the device that asks."""
    return str(request.state.device)


def unit_of(request: Request) -> str:
    """The unit this device reads in."""
    unit = request.cookies.get(UNIT_COOKIE, AS_DRAWN)
    return unit if unit in UNITS else AS_DRAWN


def part_of_page(template: str, status: int = 200, **given: Any) -> Response:
    """A piece of a page, for a script that asks for pieces."""
    return HTMLResponse(environment().get_template(template).render(given), status)


def whole_page(
    request: Request, template: str, tab: str, status: int = 200, **given: Any
) -> Response:
    """A whole page with its head and navigation."""
    bench = bench_of(request)
    in_hand = bench.in_hand()
    tabs = [
        ("build", "/"),
        *([("setup", f"/setup/{in_hand.id}")] if in_hand else []),
        ("parts", "/parts"),
        ("edit", "/edit"),
        ("heats", "/clocks"),
        ("look", "/handbook"),
        ("log", "/log"),
        ("devices", "/devices"),
    ]
    path = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    base = {
        "build": bench.plan.route.build,
        "row": bench.log_state.row,
        "tabs": tabs,
        "tab": tab,
        "path": path if request.method == "GET" else "/",
        "unit": unit_of(request),
    }
    return part_of_page(template, status, **(base | given))


def log_away(wrong: Exception, a_page: bool) -> Response:
    """A page that says what to do where the log is out of reach; it needs nothing of the log."""
    logging.getLogger("barstock").error("%s: %s", say("log away"), wrong)
    if a_page:
        return part_of_page("away.html", 503)
    return PlainTextResponse(say("log away"), 503)


def asks_a_piece(request: Request) -> bool:
    """Does a page's script ask for a piece (and not a browser for a whole page)?"""
    return "hx-request" in request.headers and "hx-boosted" not in request.headers


def onward(path: str) -> Response:
    """An answer that leads to another page after something was entered."""
    return RedirectResponse(path, 303)
