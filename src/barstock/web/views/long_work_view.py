"""Long work that pages began: how far it has come, and stopping it."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response

from barstock.web.long_work import Errand
from barstock.web.page_words import say
from barstock.web.showing import asks_a_piece, onward, part_of_page

router = APIRouter()
PAGES = {"plan": "/", "move": "/mechanism"}
"""The page of each."""


def errand_of(request: Request, name: str) -> Errand:
    """What is done by that name; 404."""
    if name not in PAGES:
        raise HTTPException(404)
    found: Errand = request.app.state.errands[name]
    return found


@router.get("/errand/{name}")
def how_far(request: Request, name: str) -> Response:
    """How far it has come; once it has ended, the page anew."""
    state = errand_of(request, name).state
    if not state.running:
        return Response(headers={"HX-Refresh": "true"})
    return part_of_page("errand.html", name=name, title=say(f"errand {name}"), state=state)


@router.post("/errand/{name}/stop")
def stop(request: Request, name: str) -> Response:
    """Stop it."""
    errand_of(request, name).stop()
    return how_far(request, name) if asks_a_piece(request) else onward(PAGES[name])
