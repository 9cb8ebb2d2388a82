"""The cleaning of a fabrication after its heats, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from barstock.handbook.pickles import bath_named
from barstock.route import Cleaning, HandCleaning

BY_HAND: Mapping[HandCleaning, str] = {
    HandCleaning.SOAKED: "Steel does not go in the pickle: soak it in hot water (60 °C and above) "
    "for 20 to 30 minutes until the flux is soft, brush it off with a stiff brush, rinse, dry warm "
    "and oil at once.",
    HandCleaning.NO_ACID: "keep it out of acid: warm water and a brush",
}
"""Common practice."""


def cleaned(told: Cleaning) -> Iterator[str]:
    """The things that go into the bath together, then what is cleaned by hand."""
    for dip in told.dips:
        things = ", ".join(f"{count} × {name}" for name, count in dip.things)
        basket = " in the basket" if dip.basket else ""
        warm = f"{told.bath}, {told.temperature:g} °C, {_minutes(told)}"
        yield f"{things}{basket}: {warm}"
    for name, how in told.by_hand:
        yield f"{name}: {BY_HAND[how]}"


def in_the_bath(told: Cleaning) -> tuple[str, ...]:
    """The steps done at the bath, in order; nothing where nothing goes in."""
    if not told.dips:
        return ()
    warm = f"kept at about {told.temperature:g} °C, never boiling" if told.heated else "cold"
    return (
        f"{told.bath}: {bath_named(told.bath).strength}, {warm}",
        "lower it in with copper, brass, plastic or wooden tongs; small things in a plastic or "
        "copper basket, apart enough for the acid to reach all round",
        f"{_minutes(told)}, looked at now and then, until flux and scale are gone",
        "rinse in running water, then in hot water with a pinch of washing soda, brush, rinse, dry",
    )


def _minutes(told: Cleaning) -> str:
    return "{:g} to {:g} minutes".format(*told.minutes)
