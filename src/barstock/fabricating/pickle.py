"""What may go into the pickle together, how long, and what must be cleaned another way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.fabricating.cautions import PICKLE, QUENCH, STEEL, STUBBORN
from barstock.fabricating.joints import Finding, Mistake
from barstock.handbook.materials import material
from barstock.handbook.pickles import Bath, bath_named


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


@dataclass(frozen=True)
class Dip:
    """One time something goes into the bath. things: (name, how many); basket: small ones together;
    temperature [C]; minutes (least, most)."""

    things: tuple[tuple[str, int], ...]
    basket: bool
    bath: str
    temperature: float
    minutes: tuple[float, float]


@dataclass(frozen=True)
class PicklePlan:
    """dips in order; steps of each; otherwise: (thing, how it is cleaned) of what must not go in;
    findings: what must come off first, and what must not be there at all."""

    dips: tuple[Dip, ...]
    steps: tuple[str, ...]
    otherwise: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]


def pickle_plan(
    things: tuple[ToPickle, ...],
    bath: str = "citric acid",
    *,
    heated: bool = True,
    takes: int = 1,
) -> PicklePlan:
    """How everything is cleaned after a heat; takes: how many large things the bath holds at once.

    Raises UnknownError for a bath or a material not known.
    """
    found = bath_named(bath)
    findings = tuple(finding for thing in things for finding in _wrong(thing))
    inside = [thing for thing in things if not _barred(thing)]
    outside = tuple((t.name, how) for t in things if (how := _barred(t)))
    dips = tuple(_dips(inside, found, heated, takes))
    steps = _steps(found, heated) if dips else ()
    cautions = [*QUENCH, *(PICKLE if dips else ()), *((STUBBORN,) if outside else ())]
    return PicklePlan(dips, steps, outside, findings, tuple(cautions))


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


def _barred(thing: ToPickle) -> str:
    """How a thing that must not go in is cleaned; "" for one that may."""
    if any(_dissolves(of) for of in thing.materials):
        return "keep it out of acid: warm water and a brush"
    return STEEL if any(material(of).ferrous for of in thing.materials) else ""


def _dissolves(of: str) -> bool:
    """Aluminium and its alloys (zinc is no bar material here), and plastics that the heat kills."""
    return material(of).solderable.startswith("no")


def _dips(inside: list[ToPickle], bath: Bath, heated: bool, takes: int) -> Iterator[Dip]:
    temperature, minutes = (bath.warm, bath.warm_minutes) if heated else (20.0, bath.cold_minutes)
    large = [thing.name for thing in inside if not thing.small for _ in range(thing.count)]
    for first in range(0, len(large), max(1, takes)):
        together = large[first : first + max(1, takes)]
        things = tuple((name, together.count(name)) for name in dict.fromkeys(together))
        yield Dip(things, False, bath.name, temperature, minutes)
    small = tuple((thing.name, thing.count) for thing in inside if thing.small)
    if small:
        yield Dip(small, True, bath.name, temperature, minutes)


def _steps(bath: Bath, heated: bool) -> tuple[str, ...]:
    warm = f"kept at about {bath.warm:g} °C, never boiling" if heated else "cold"
    least, most = bath.warm_minutes if heated else bath.cold_minutes
    return (
        f"{bath.name}: {bath.strength}, {warm}",
        "lower it in with copper, brass, plastic or wooden tongs; small things in a plastic or "
        "copper basket, apart enough for the acid to reach all round",
        f"{least:g} to {most:g} minutes, looked at now and then, until flux and scale are gone",
        "rinse in running water, then in hot water with a pinch of washing soda, brush, rinse, dry",
    )
