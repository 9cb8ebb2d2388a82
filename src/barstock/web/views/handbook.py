"""The page of the handbook, to look things up at the bench."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from barstock.handbook.look import EXAMPLES, UnknownWordError, look
from barstock.quantities import Unit
from barstock.web.rendering import capital, unit_of, whole_page

router = APIRouter()


@router.get("/handbook")
def handbook(request: Request, word: Annotated[str, Query(max_length=60)] = "") -> Response:
    """The page with all that the handbook holds under a word."""
    found, wrong = [], ""
    if word.strip():
        try:
            found = look(word, Unit.INCH if unit_of(request) == "inch" else Unit.MM)
        except UnknownWordError as unknown:
            wrong = capital(f"{unknown}.")
    return whole_page(
        request,
        "look.html",
        "look",
        422 if wrong else 200,
        word=word,
        found=found,
        wrong=wrong,
        examples=EXAMPLES,
    )
