"""Silver-brazing alloys and fluxes.

Sources: ISO 17672:2016 table 5 (class Ag; composition by mass, nominal; melting range approximate),
EN 1045:1997 table 1 (fluxes; carried on by ISO 18496:2020). Typed from memory, checked in tests
against a published chart. Alloys with cadmium are listed only to be refused:
their fume kills, and the EU bars them (regulation 494/2011).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from barstock.handbook.answer import Found
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit, show

SOURCE = "ISO 17672:2016 table 5"
FLUX_SOURCE = "EN 1045:1997 table 1"
MEMORY = True

DENSITIES = {"Ag": 10.49, "Cu": 8.96, "Zn": 7.14, "Sn": 7.29, "Cd": 8.65, "Ni": 8.9}
"""Of the elements [g/cm3], from memory."""

RUNS_THIN = (0.03, 0.15)
"""Gap at heat for an alloy that melts within LONG_RANGE [mm]. The trade's 0.001 to 0.005 inch for
silver alloys with flux, a little widened; common practice."""

FILLS = (0.05, 0.25)
"""Gap at heat for an alloy with a longer melting range [mm]. Common practice."""

LONG_RANGE = 50.0
"""Melting range from which an alloy fills wider gaps [K]. Common practice."""

SUPERHEAT = 20.0
"""How far above its liquidus filler is brought, so that it flows at once [K]. Common practice."""


ZINC = "overheated, its zinc fumes and makes ill: moving air, and no hotter than it needs"
HOT = "moving air; hot work looks like cold work"
"""What to beware of with an alloy. Common practice."""

FUME = {
    True: "holds fluorides: its fume burns eyes and lungs, and the paste the skin; moving air, "
    "gloves, wash before eating",
    False: "no fluorides by its class, but see the maker's data sheet; moving air, gloves",
}
"""What to beware of in a flux, by whether it holds fluorides. Common practice."""


class UnknownAlloyError(UnknownError):
    """Raised for a name of no brazing alloy or flux."""


class CadmiumError(ValueError):
    """Raised for an alloy that holds cadmium, which barstock never plans with."""


@dataclass(frozen=True)
class BrazingAlloy:
    """A silver-brazing alloy. parts: element -> per cent by mass; solidus, liquidus [C]."""

    name: str
    parts: dict[str, float] = field(hash=False)
    solidus: float
    liquidus: float
    use: str = ""

    @property
    def density(self) -> float:
        """The density by its parts [g/cm3]; makers' figures are up to a few per cent higher."""
        return sum(self.parts.values()) / sum(n / DENSITIES[e] for e, n in self.parts.items())

    @property
    def gap(self) -> tuple[float, float]:
        """The least and most gap at heat that it fills well [mm]."""
        return RUNS_THIN if self.melting_range < LONG_RANGE else FILLS

    @property
    def working(self) -> float:
        """The temperature a joint is brought to, so that it flows at once [C]."""
        return self.liquidus + SUPERHEAT

    @property
    def melting_range(self) -> float:
        """The liquidus above the solidus [K]: short runs thin, long fills gaps."""
        return self.liquidus - self.solidus


@dataclass(frozen=True)
class Flux:
    """A brazing flux: working range [C], what for, what remains."""

    name: str
    low: float
    high: float
    use: str
    residue: str = "corrosive: wash or pickle off"

    @property
    def fluoride(self) -> bool:
        """Does it hold fluorides? All do but FH21 and FH30 (EN 1045 table 1)."""
        return self.name not in ("FH21", "FH30")


def _alloy(name: str, made: str, solidus: float, liquidus: float, use: str = "") -> BrazingAlloy:
    parts = {e: float(n) for e, n in re.findall(r"([A-Z][a-z]?)([\d.]+)", made)}
    return BrazingAlloy(name, parts, solidus, liquidus, use)


_THIN, _FILLS = "runs thin, close joints", "fills wider gaps, builds a fillet"
ALLOYS: dict[str, BrazingAlloy] = {a.name: a for a in (
    _alloy("Ag 156", "Ag56 Cu22 Zn17 Sn5", 620, 655, _THIN),
    _alloy("Ag 155", "Ag55 Cu21 Zn22 Sn2", 630, 660, _THIN + "; the usual first choice"),
    _alloy("Ag 145", "Ag45 Cu27 Zn25.5 Sn2.5", 640, 680, "general work"),
    _alloy("Ag 140", "Ag40 Cu30 Zn28 Sn2", 650, 710, "general work"),
    _alloy("Ag 138", "Ag38 Cu32 Zn28 Sn2", 650, 720, "general work"),
    _alloy("Ag 134", "Ag34 Cu36 Zn27.5 Sn2.5", 630, 730, _FILLS),
    _alloy("Ag 130", "Ag30 Cu36 Zn32 Sn2", 665, 755, _FILLS),
    _alloy("Ag 125", "Ag25 Cu40 Zn33 Sn2", 680, 760, _FILLS),
    _alloy("Ag 244", "Ag44 Cu30 Zn26", 675, 735, "first of two heats"),
    _alloy("Ag 230", "Ag30 Cu38 Zn32", 680, 765, "first of two heats"),
    _alloy("Ag 225", "Ag25 Cu40 Zn35", 700, 790, "first of two heats"),
    _alloy("Ag 212", "Ag12 Cu48 Zn40", 800, 830, "first of several heats; near brass's melting"),
    _alloy("Ag 205", "Ag5 Cu55 Zn40", 820, 870, "steel and copper only; melts brass"),
    _alloy("Ag 272", "Ag72 Cu28", 780, 780, "eutectic, no zinc to boil off"),
)}  # fmt: skip
"""Alloys that may be planned with, by name."""

REFUSED: dict[str, BrazingAlloy] = {a.name: a for a in (
    _alloy("Ag 351", "Ag50 Cu15.5 Zn15.5 Cd16 Ni3", 635, 655),
    _alloy("Ag 350", "Ag50 Cu15.5 Zn16.5 Cd18", 625, 635),
    _alloy("Ag 345", "Ag45 Cu15 Zn16 Cd24", 605, 620),
    _alloy("Ag 340", "Ag40 Cu19 Zn21 Cd20", 595, 630),
    _alloy("Ag 335", "Ag35 Cu26 Zn21 Cd18", 610, 700),
    _alloy("Ag 330", "Ag30 Cu28 Zn21 Cd21", 600, 690),
)}  # fmt: skip
"""Alloys with cadmium: known, so that they can be refused by name."""

_ALSO_REFUSED = re.compile(
    r"bag-?(?:1a?|2a?|3|27|33)|ag30[1-9]|ag(?:1|2|3|9|11|12)|(?:l-)?ag\d+cd(?:ni)?"
)
"""Names of alloys with cadmium in other standards: AWS A5.8, EN 1044, BS 1845, DIN 8513. From
memory."""

FLUXES: dict[str, Flux] = {f.name: f for f in (
    Flux("FH10", 550, 800, "general: copper, brass, bronze, steel, with alloys flowing above 600"),
    Flux("FH11", 550, 800, "copper alloys with aluminium"),
    Flux("FH12", 550, 850, "stainless steel, alloy steel, carbide"),
    Flux("FH20", 700, 1000, "higher heats: copper, steel, cast iron"),
    Flux("FH21", 750, 1100, "brass filler, copper and steel", "hard glass: chip or pickle off"),
    Flux("FH30", 1000, 1250, "copper and nickel fillers", "hard glass: chip or pickle off"),
    Flux("FH40", 600, 1000, "where no boron is allowed"),
    Flux("FL10", 400, 700, "aluminium alloys"),
    Flux("FL20", 400, 700, "aluminium alloys", "not corrosive: may stay"),
)}  # fmt: skip


def brazing_alloy(name: str) -> BrazingAlloy:
    """An alloy by name: Ag 155, ag155, or its silver content, 55 %.

    Raises CadmiumError for one with cadmium, UnknownAlloyError for none.

    >>> brazing_alloy("ag155").liquidus
    660
    """
    text = re.sub(r"\s+", "", name.lower())
    number = re.fullmatch(r"ag(\d{3})", text)
    share = re.fullmatch(r"(?:ag|silver)?(\d{1,2})(?:%|percent)(?:silver)?", text)
    refused = REFUSED.get(f"Ag {number[1]}") if number else None
    if refused or "cadmium" in text or _ALSO_REFUSED.fullmatch(text):
        what = refused.name if refused else "it" if "cadmium" in text else name.strip()
        raise CadmiumError(f"{what} holds cadmium: its fume kills; take Ag 155 or Ag 145 instead")
    if number and f"Ag {number[1]}" in ALLOYS:
        return ALLOYS[f"Ag {number[1]}"]
    if share:
        found = next((a for a in ALLOYS.values() if a.parts["Ag"] == float(share[1])), None)
        if found:
            return found
    raise UnknownAlloyError(name, "brazing alloy", ALLOYS, "known: " + ", ".join(ALLOYS))


def flux(name: str) -> Flux:
    """A flux by name: FH10. Raises UnknownAlloyError.

    >>> flux("fh 12").high
    850
    """
    key = re.sub(r"[\s-]+", "", name.upper())
    if key not in FLUXES:
        raise UnknownAlloyError(name, "brazing flux", FLUXES, "known: " + ", ".join(FLUXES))
    return FLUXES[key]


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a brazing alloy or a flux."""
    try:
        alloy = brazing_alloy(word)
    except CadmiumError as refused:
        yield Found(f"brazing alloy {word}", (("refused", str(refused)),), SOURCE, MEMORY)
        return
    except UnknownAlloyError:
        yield from _flux(word)
        return
    rows = (
        ("made of", ", ".join(f"{element} {n:g} %" for element, n in alloy.parts.items())),
        ("melts", f"{alloy.solidus:g} to {alloy.liquidus:g} °C"),
        ("bring the joint to", f"{alloy.working:g} °C"),
        ("gap at heat", f"{show(alloy.gap[0], unit)} to {show(alloy.gap[1], unit)}"),
        ("density", f"{alloy.density:.1f} g/cm³"),
        ("use", alloy.use),
        ("caution", ZINC if "Zn" in alloy.parts else HOT),
    )
    yield Found(f"brazing alloy {alloy.name}", rows, SOURCE, MEMORY)


def _flux(word: str) -> Iterator[Found]:
    try:
        found = flux(word)
    except UnknownAlloyError:
        return
    rows = (
        ("works from", f"{found.low:g} to {found.high:g} °C"),
        ("use", found.use),
        ("what remains", found.residue),
        ("caution", FUME[found.fluoride]),
    )
    yield Found(f"brazing flux {found.name}", rows, FLUX_SOURCE, MEMORY)
