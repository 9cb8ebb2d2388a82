"""Shows how far long work has come that pages began, and stops it."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response

from barstock.web.long_work import LongWork
from barstock.web.page_words import say
from barstock.web.rendering import asks_a_piece, onward, part_of_page

router = APIRouter()
PAGES = {"plan": "/", "move": "/mechanism"}
"""The page of each."""


def long_work_of(request: Request, name: str) -> LongWork:
    """The long work of that name; answers 404 where there is none."""
    if name not in PAGES:
        raise HTTPException(404)
    found: LongWork = request.app.state.long_works[name]
    return found


@router.get("/long-work/{name}")
def how_far(request: Request, name: str) -> Response:
    """How far the work has come; once it has ended, the page is loaded anew."""
    state = long_work_of(request, name).state
    if not state.running:
        return Response(headers={"HX-Refresh": "true"})
    return part_of_page("long_work.html", name=name, title=say(f"long work {name}"), state=state)


@router.post("/long-work/{name}/stop")
def stop(request: Request, name: str) -> Response:
    """Stop the long work."""
    long_work_of(request, name).stop()
    return how_far(request, name) if asks_a_piece(request) else onward(PAGES[name])
