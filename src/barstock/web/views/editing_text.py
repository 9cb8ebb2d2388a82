"""The page that edits the build's file as one text, for what forms are clumsy for."""

from __future__ import annotations

import asyncio

from fastapi import APIRouter, Request
from fastapi.responses import Response

from barstock.bench.revisions import ChangedMeanwhileError, mark_of
from barstock.reading.faults import fault_line
from barstock.web.forms import new_errors
from barstock.web.page_words import say
from barstock.web.rendering import bench_of, onward, whole_page
from barstock.web.views.edited import checker_of, common, file_of, given_of, text_of

router = APIRouter()


@router.get("/edit/text")
def as_text(request: Request) -> Response:
    """The page with the whole file."""
    return text_page(request, None, [])


@router.post("/edit/text")
async def write_text(request: Request) -> Response:
    """Check the whole file as typed, and write it where no new fault is in it."""
    given = await given_of(request)
    return await asyncio.to_thread(_write_text, request, given)


def _write_text(request: Request, given: dict[str, str]) -> Response:
    file, checker = file_of(bench_of(request)), checker_of(request)
    text = text_of(file)
    new = given.get("text", "").replace("\r\n", "\n")
    if "\r\n" in text:
        new = new.replace("\n", "\r\n")
    faults, _ = checker.check(new)
    lines = [fault_line(f) for f in faults]
    if "check" in given:
        return text_page(request, new, lines or [say("edit sound")])
    if mark_of(text) != given.get("mark"):
        return text_page(request, new, [say("edit meanwhile"), *lines], 422)
    if new_errors(checker.check(text)[0], faults):
        return text_page(request, new, [say("edit refused"), *lines], 422)
    try:
        file.write(new, given["mark"])
    except ChangedMeanwhileError:
        return text_page(request, new, [say("edit meanwhile")], 422)
    return onward("/edit/text?saved=1")


def text_page(request: Request, new: str | None, lines: list[str], status: int = 200) -> Response:
    """The page with the text. new: as typed, None for the file's; lines: what is said of it."""
    file = file_of(bench_of(request))
    text = text_of(file)
    if new is None and not lines:
        lines = [fault_line(f) for f in checker_of(request).check(text)[0]]
    return whole_page(
        request,
        "edit_text.html",
        "edit",
        status,
        text=text if new is None else new,
        lines=lines,
        saved="saved" in request.query_params,
        **common(file, text),
    )
