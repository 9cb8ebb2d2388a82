"""The build's file as pages edit it: its text, who looks it over, what a form sent."""

from __future__ import annotations

from typing import Any

from fastapi import HTTPException, Request

from barstock.bench.revisions import Revisions, mark_of
from barstock.web.bench_state import Sight
from barstock.web.page_words import say
from barstock.web.text_check import Looking


def file_of(desk: Sight) -> Revisions:
    """The build's file."""
    return Revisions(desk.folder / "build.yaml")


def text_of(file: Revisions) -> str:
    """The file as it is; 409 where it cannot be read as text."""
    try:
        return file.text()
    except (OSError, UnicodeDecodeError):
        raise HTTPException(409, say("edit unreadable")) from None


def looking_of(request: Request) -> Looking:
    """What looks over texts."""
    found: Looking = request.app.state.looking
    return found


def common(file: Revisions, text: str) -> dict[str, Any]:
    """What every page that edits is given."""
    return {"mark": mark_of(text), "undo": file.can("undo"), "redo": file.can("redo")}


async def given_of(request: Request) -> dict[str, str]:
    """What a form sent, files left out."""
    form = await request.form()
    return {key: value for key, value in form.items() if isinstance(value, str)}
