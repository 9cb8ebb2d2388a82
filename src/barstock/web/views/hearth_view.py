"""The page of a fabrication at the hearth: what is done in order, its heats, each copy ticked."""

from __future__ import annotations

from math import ceil
from typing import Annotated, Any

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import Response

from barstock.bench.entry import Entry, Kind
from barstock.bench.heats_ticked import cleaning_id, copies_of, steps
from barstock.pack.heat_pages import HearthPages
from barstock.route import Fabrication
from barstock.web.rendering import (
    asks_a_piece,
    bench_of,
    device_of,
    onward,
    part_of_page,
    unit_of,
    whole_page,
)

router = APIRouter()


def _fabrication_and_pages(request: Request, number: int) -> tuple[Fabrication, HearthPages]:
    plan = bench_of(request).plan
    pages = plan.pack(unit_of(request)).hearth
    if not 1 <= number <= len(pages):
        raise HTTPException(404)
    return plan.route.fabrications[number - 1], pages[number - 1]


@router.get("/hearth/{number:int}")
def at_the_hearth(request: Request, number: int) -> Response:
    """The page of all of a fabrication's joining."""
    one, pages = _fabrication_and_pages(request, number)
    stamp = bench_of(request).plan.stamp
    cards = [
        {
            "card": card,
            "step": one.heat_id(heat.number),
            "minutes": ceil(heat.minutes[1]),
            "picture": f"/picture/{card.picture}?{stamp}" if card.picture else "",
        }
        for card, heat in zip(pages.cards, one.heats, strict=True)
    ]
    cleaning = cleaning_id(one) if one.cleaning is not None else ""
    return whole_page(
        request,
        "hearth.html",
        "heats",
        pages=pages,
        number=number,
        cards=cards,
        cleaning=cleaning,
        done=_done(request, one),
        copies=one.copies,
    )


def _done(request: Request, one: Fabrication) -> dict[str, Any]:
    return dict(copies_of(one, bench_of(request).log_state.work))


def _boxes(request: Request, number: int, step: str) -> Response:
    one, _ = _fabrication_and_pages(request, number)
    if step not in steps(one):
        raise HTTPException(404)
    given: dict[str, Any] = {"number": number, "step": step, "copies": one.copies}
    return part_of_page("heat_boxes.html", done=_done(request, one), **given)


@router.get("/hearth/{number:int}/copies")
def copies(request: Request, number: int, step: str) -> Response:
    """The boxes to tick for a heat."""
    return _boxes(request, number, step)


@router.post("/hearth/{number:int}/tick")
def tick(
    request: Request,
    number: int,
    step: Annotated[str, Form(max_length=200)],
    nth: Annotated[int, Form()],
    done: Annotated[str, Form()] = "yes",
) -> Response:
    """Tick a heat of a copy, or take the tick back."""
    one, _ = _fabrication_and_pages(request, number)
    if step not in steps(one) or not 1 <= nth <= one.copies:
        raise HTTPException(404)
    bench, device = bench_of(request), device_of(request)
    work = bench.log_state.work
    if done == "yes" and not work.has(step, nth):
        bench.write(Entry(kind=Kind.HEAT, device=device, operation=step, work=one.part, nth=nth))
    elif done != "yes":
        ticks = work.ticks.get(step, {}).get(nth, [])
        bench.write(*(Entry(kind=Kind.UNDO, device=device, undoes=e.id) for e in ticks))
    return _boxes(request, number, step) if asks_a_piece(request) else onward(f"/hearth/{number}")
