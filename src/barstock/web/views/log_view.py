"""The page of the log: lines read, taken back, taken out as a file and brought in."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, HTTPException, Query, Request, UploadFile
from fastapi.responses import Response

from barstock.bench.entry import MOST_WORDS, Entry, Kind
from barstock.bench.history import from_text, to_csv, to_json
from barstock.bench.work import undone
from barstock.errors import WrongUseError
from barstock.web.page_words import say
from barstock.web.rendering import (
    asks_a_piece,
    bench_of,
    device_of,
    onward,
    part_of_page,
    whole_page,
)

router = APIRouter()
LINES = 50
"""On a page."""
Page = Annotated[int, Query(ge=1, le=100_000)]


def _lines(request: Request, page: int) -> dict[str, Any]:
    every = bench_of(request).log_state.lines
    newest = every[::-1][(page - 1) * LINES : page * LINES]
    more = len(every) > page * LINES
    return {"lines": newest, "undone": undone(every), "page": page, "more": more}


def _shown(request: Request, page: int = 1, status: int = 200, **given: str) -> Response:
    words = {"message": "", "wrong": "", "entered": ""} | given
    return whole_page(request, "log.html", "log", status, **_lines(request, page), **words)


@router.get("/log")
def log(request: Request, page: Page = 1) -> Response:
    """The page of the log, the newest lines first."""
    return _shown(request, page)


@router.get("/log/lines")
def lines(request: Request, page: Page = 1) -> Response:
    """The lines by themselves, as a piece of the page."""
    return part_of_page("lines.html", **_lines(request, page))


@router.post("/log/undo")
def undo(request: Request, id: Annotated[str, Form(max_length=40)], page: Page = 1) -> Response:
    """Take a line of the log back."""
    try:
        bench_of(request).undo(id, device_of(request))
    except KeyError:
        raise HTTPException(404) from None
    return lines(request, page) if asks_a_piece(request) else onward("/log")


@router.post("/log/note")
def note(request: Request, words: Annotated[str, Form(max_length=MOST_WORDS)] = "") -> Response:
    """Enter a note into the log."""
    if not words.strip():
        return _shown(request, status=422, wrong=say("note none"))
    bench_of(request).write(Entry(kind=Kind.NOTE, device=device_of(request), words=words.strip()))
    return onward("/log")


@router.get("/log.csv")
def csv(request: Request) -> Response:
    """The history as CSV, for a spreadsheet."""
    return _file(to_csv(bench_of(request).log_state.lines), "text/csv", "bench-log.csv")


@router.get("/log.json")
def json(request: Request) -> Response:
    """The history as JSON, for other programs."""
    bench = bench_of(request)
    text = to_json(bench.plan.route.build, bench.log_state.lines)
    return _file(text, "application/json", "bench-log.json")


def _file(text: str, sort: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text.encode(), media_type=f"{sort}; charset=utf-8", headers=headers)


@router.post("/log/bring-in")
def bring_in(request: Request, file: UploadFile) -> Response:
    """Add the lines of a history that are not here yet."""
    try:
        text = file.file.read().decode("utf-8")
        new = bench_of(request).bring_in(from_text(text))
    except UnicodeDecodeError:
        return _shown(request, status=422, wrong=say("log in wrong"))
    except WrongUseError as wrong:
        return _shown(request, status=422, wrong=str(wrong))
    return _shown(request, message=say("log in done", n=new))
