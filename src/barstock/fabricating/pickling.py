"""Tells what may go into the pickle together, how long, and what must be cleaned another way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.handbook.materials import material
from barstock.handbook.pickles import bath_named
from barstock.route import BathDip, Cleaning, HandCleaning

COLD = 20.0  # of a bath that is not heated [C]; common practice


@dataclass(frozen=True)
class ToPickle:
    """A thing to clean after a heat. materials: of all the pieces soldered in it, by their handbook
    names; attached: (name, material) of what can still come off: screws, wire, fixture; count: of
    such things; small: goes in a basket with others."""

    name: str
    materials: tuple[str, ...]
    attached: tuple[tuple[str, str], ...] = ()
    count: int = 1
    small: bool = False


def cleaning(
    things: tuple[ToPickle, ...],
    bath: str = "citric acid",
    *,
    heated: bool = True,
    takes: int = 1,
) -> Cleaning:
    """The cleaning of everything after a heat; takes: how many large things the bath holds at once.

    Raises UnknownError for a bath or a material not known.
    """
    found = bath_named(bath)
    barred = ((thing.name, _barred(thing)) for thing in things)
    return Cleaning(
        bath=found.name,
        heated=heated,
        temperature=found.warm if heated else COLD,
        minutes=found.warm_minutes if heated else found.cold_minutes,
        dips=tuple(_dips([thing for thing in things if not _barred(thing)], takes)),
        by_hand=tuple((name, how) for name, how in barred if how),
    )


def pickling_faults(things: tuple[ToPickle, ...]) -> tuple[Finding, ...]:
    """The findings of what must come off first, and what must not be there at all.

    Raises UnknownError for a material not known.
    """
    return tuple(finding for thing in things for finding in _wrong(thing))


def _wrong(thing: ToPickle) -> Iterator[Finding]:
    """What must come off before the bath, and what cannot have been soldered."""
    copper = not _barred(thing)
    for name, of in thing.attached:
        row = material(of)
        if row.ferrous and copper:
            what = f"{name} is {row.name}: iron in the pickle plates copper over the work"
            yield Finding(Mistake.PICKLE, thing.name, what, "take it off first")
        elif _dissolves(of):
            what = f"{name} is {row.name}, which the acid dissolves"
            yield Finding(Mistake.PICKLE, thing.name, what, "take it off first")
    for of in thing.materials:
        if _dissolves(of):
            what = f"{material(of).name} is not silver soldered and never goes into acid"
            yield Finding(Mistake.PICKLE, thing.name, what, "fix that piece by other means")


def _barred(thing: ToPickle) -> HandCleaning | None:
    """How a thing that must not go in is cleaned, None for one that may."""
    if any(_dissolves(of) for of in thing.materials):
        return HandCleaning.NO_ACID
    ferrous = any(material(of).ferrous for of in thing.materials)
    return HandCleaning.SOAKED if ferrous else None


def _dissolves(of: str) -> bool:
    """Is it aluminium (zinc is no bar material here), or a plastic that the heat would kill?"""
    return not material(of).takes_silver


def _dips(inside: list[ToPickle], takes: int) -> Iterator[BathDip]:
    large = [thing.name for thing in inside if not thing.small for _ in range(thing.count)]
    for first in range(0, len(large), max(1, takes)):
        together = large[first : first + max(1, takes)]
        things = tuple((name, together.count(name)) for name in dict.fromkeys(together))
        yield BathDip(things=things)
    small = tuple((thing.name, thing.count) for thing in inside if thing.small)
    if small:
        yield BathDip(things=small, basket=True)
