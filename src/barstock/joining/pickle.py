"""What may go into the pickle together, how long, and what must be cleaned another way."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Finding


@dataclass(frozen=True)
class ToPickle:
    """A thing to clean after a heat. material: handbook name; attached: things of iron or steel
    still on it (screws, wire, fixture); small: goes in a basket with others."""

    name: str
    material: str
    count: int = 1
    attached: tuple[tuple[str, str], ...] = ()
    small: bool = False


@dataclass(frozen=True)
class Dip:
    """One filling of the bath. things: names; basket: small ones together; bath, temperature [C],
    minutes (least, most); steps and cautions in words."""

    things: tuple[str, ...]
    basket: bool
    bath: str
    temperature: float
    minutes: tuple[float, float]
    steps: tuple[str, ...]


@dataclass(frozen=True)
class PicklePlan:
    """dips in order; otherwise: (thing, how it is cleaned) for what must not go in."""

    dips: tuple[Dip, ...]
    otherwise: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]
    cautions: tuple[str, ...]


def pickle_plan(
    things: tuple[ToPickle, ...], bath: str = "citric acid", warm: bool = True
) -> PicklePlan:
    """How the work after one heat is cleaned. Raises UnknownError for a bath not known."""
    raise NotImplementedError
