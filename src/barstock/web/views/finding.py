"""Finds what an address names: a setup of the plan, a card of it."""

from __future__ import annotations

from fastapi import HTTPException, Request

from barstock.pack.pack_pages import SetupPage
from barstock.route import Setup
from barstock.web.cards import Card, cards
from barstock.web.rendering import bench_of, unit_of


def found_setup(request: Request, name: str) -> tuple[Setup, SetupPage, list[Card]]:
    """A setup with its page and its cards; answers 404 where the plan has none of that name."""
    plan = bench_of(request).plan
    try:
        setup = plan.setup(name)
        page = plan.page(name, unit_of(request))
    except KeyError:
        raise HTTPException(404) from None
    return setup, page, cards(page, setup)


def found_card(found: list[Card], number: int) -> Card:
    """The card of that number; answers 404 where there is none."""
    if not 1 <= number <= len(found):
        raise HTTPException(404)
    return found[number - 1]
