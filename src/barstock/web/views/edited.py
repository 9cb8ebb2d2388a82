"""The build's file as the pages edit it: its text, its checker, and what a form sent."""

from __future__ import annotations

from typing import Any

from fastapi import HTTPException, Request

from barstock.bench.revisions import Revisions, mark_of
from barstock.web.bench_state import BenchSnapshot
from barstock.web.page_words import say
from barstock.web.text_check import TextChecker


def file_of(bench: BenchSnapshot) -> Revisions:
    """The build's file with its former texts."""
    return Revisions(bench.folder / "build.yaml")


def text_of(file: Revisions) -> str:
    """The text of the build's file; answers 409 where it cannot be read."""
    try:
        return file.text()
    except (OSError, UnicodeDecodeError):
        raise HTTPException(409, say("edit unreadable")) from None


def checker_of(request: Request) -> TextChecker:
    """The checker of texts that the pages share."""
    found: TextChecker = request.app.state.checker
    return found


def common(file: Revisions, text: str) -> dict[str, Any]:
    """What every page that edits is given."""
    return {"mark": mark_of(text), "undo": file.can("undo"), "redo": file.can("redo")}


async def given_of(request: Request) -> dict[str, str]:
    """The fields that a form sent, files left out."""
    form = await request.form()
    return {key: value for key, value in form.items() if isinstance(value, str)}
