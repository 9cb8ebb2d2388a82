"""Bar materials: weight, growth, stiffness, and how they cut, solder and pickle.

Densities, expansions, moduli and melting points are those that handbooks give for the alloy named
(EN designations beside it), at room temperature, typed from memory; alloys and tempers differ by a
few per cent. Machinability: per cent of free-cutting brass for copper alloys and of free-cutting
steel for ferrous ones, as the trade rates them (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from barstock.handbook.answer import Found
from barstock.handbook.material_designations import designations, plain, words_in
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

SOURCE = (
    "handbook values for the EN alloy named (copper alloys EN 12164, steels EN 10277, "
    "aluminium EN 573-3); machinability and soldering common practice"
)


class UnknownMaterialError(UnknownError):
    """Raised for a name of no material."""


@dataclass(frozen=True)
class Material:
    """A bar material.

    density [g/cm3]; expansion [1e-6/K] (20 to 100 C); modulus [GPa]; strength: tensile, usual bar
    [MPa]; melts: begins to melt [C]; machinability [%] of `machinability_of`; solderable: by silver
    brazing; ferrous: must not go into the pickle with copper alloys. also: other names in use.
    """

    name: str
    alloy: str
    also: tuple[str, ...]
    density: float
    expansion: float
    modulus: float
    strength: float
    melts: float
    machinability: int
    solderable: str
    ferrous: bool = False
    source: str = SOURCE
    memory: bool = True

    @property
    def machinability_of(self) -> str:
        """The material that the machinability is a percentage of."""
        return "free-cutting steel" if self.ferrous else "free-cutting brass"

    @property
    def takes_silver(self) -> bool:
        """Can the material be silver brazed?"""
        return self.solderable in (_WELL, _FAIR)


_WELL, _FAIR = "well", "with care"
_ROWS = (
    Material("brass", "CW614N, CZ121", ("free-cutting brass", "cz121", "cw614n", "engraving brass"),
             8.47, 20.9, 97, 400, 875, 100, _WELL),
    Material("soft brass", "CW508L, CZ108", ("cartridge brass", "cz108", "half-hard brass"),
             8.44, 20.5, 105, 340, 905, 35, _WELL),
    Material("phosphor bronze", "CW451K, PB102", ("pb102", "pb1", "bronze", "phos bronze"),
             8.86, 17.8, 112, 450, 950, 20, _WELL),
    Material("gunmetal", "CC491K, LG2", ("lg2", "leaded gunmetal", "sae 660", "red brass"),
             8.8, 18.0, 100, 250, 854, 80, _WELL),
    Material("aluminium bronze", "CW307G, CA104", ("ca104",),
             7.6, 16.0, 120, 700, 1040, 30, "poorly: needs a special flux"),
    Material("copper", "CW004A, C101", ("c101", "hard copper"), 8.94, 17.0, 118, 250, 1083, 20,
             _WELL),
    Material("nickel silver", "CW409J, NS106", ("german silver", "ns106"), 8.7, 16.5, 135, 450,
             1060, 25, _WELL),
    Material("mild steel", "S275, 080A15 bright", ("bright mild steel", "bms", "black mild steel",
             "en3", "en3b", "1018", "a36", "steel"), 7.85, 12.0, 207, 430, 1480, 72, _WELL, True),
    Material("free-cutting steel", "11SMnPb30, 230M07", ("en1a", "en1a leaded", "free-cutting mild "
             "steel", "12l14", "leaded steel", "1215"), 7.85, 12.0, 205, 400, 1480, 100, _WELL,
             True),
    Material("medium carbon steel", "C40, 080M40", ("en8", "1040", "1045"), 7.85, 11.5, 207, 620,
             1450, 60, _WELL, True),
    Material("silver steel", "115CrV3", ("drill rod", "tool steel", "gauge plate", "o1"), 7.83,
             11.5, 208, 700, 1420, 45, _FAIR, True),
    Material("stainless steel", "1.4305, 303", ("stainless", "303", "303s31", "free-cutting "
             "stainless"), 7.9, 17.3, 193, 600, 1400, 65, "with care: long-life flux", True),
    Material("tough stainless steel", "1.4301, 304", ("304", "316", "304s15", "316s11"), 7.95, 16.5,
             193, 600, 1400, 40, "with care: long-life flux", True),
    Material("cast iron", "EN-GJL-250", ("grey iron", "iron", "cast-iron"), 7.2, 11.0,
             110, 250, 1150, 80, "poorly: graphite must be burnt off first", True),
    Material("aluminium", "6082 T6, HE30", ("aluminum", "6082", "6061", "he30", "alloy"),
             2.7, 23.5, 70, 310, 575, 200, "no: melts below silver-brazing heat"),
    Material("hard aluminium", "2014A T6, HE15", ("2014", "he15", "2024"), 2.8,
             22.8, 73, 460, 510, 250, "no: melts below silver-brazing heat"),
    Material("high-strength aluminium", "7075 T6", ("7075",), 2.81,
             23.4, 72, 540, 477, 250, "no: melts below silver-brazing heat"),
    Material("acetal", "POM", ("pom", "plastic"), 1.41, 110.0, 3.0, 67, 165, 300, "no"),
)  # fmt: skip

_LEAD = "holds lead: wash before eating, keep chips and dust apart, damp the dust of filing"
CAUTIONS = {
    "brass": _LEAD,
    "gunmetal": _LEAD,
    "free-cutting steel": _LEAD + "; heated, it fumes",
    "cast iron": "its dust goes into lungs and slides: no compressed air",
    "acetal": "heated, it gives off formaldehyde, and burns with a flame that is hardly seen",
}
"""What to beware of, by material. Common practice."""

MATERIALS: dict[str, Material] = {row.name: row for row in _ROWS}
"""Every material by its name here."""


@lru_cache(maxsize=256)
def material(name: str) -> Material:
    """A material by its name or one of the others in use.

    Raises UnknownMaterialError with the nearest names.

    >>> material("CZ121").name, material("brass").density, material("C45+C").name
    ('brass', 8.47, 'medium carbon steel')
    """
    words = [name, *words_in(name)]
    found = next((_BY_WORD[plain(word)] for word in words if plain(word) in _BY_WORD), None)
    if found is None:
        raise UnknownMaterialError(name, "material", _NAMES, "known: " + ", ".join(MATERIALS))
    return found


def mass(name: str, volume: float) -> float:
    """Mass of a volume of material [g]; volume [mm3]. Raises UnknownMaterialError.

    >>> round(mass("mild steel", 1000), 2)
    7.85
    """
    return material(name).density * volume / 1000


def growth(name: str, length: float, rise: float) -> float:
    """How much a length grows [mm] when warmed by `rise` [K]. Raises UnknownMaterialError.

    >>> round(growth("brass", 100, 10), 4)
    0.0209
    """
    return material(name).expansion * 1e-6 * length * rise


_NAMES = {word: row for row in _ROWS for word in (row.name, *row.also, *designations(row.name))}
_BY_WORD = {plain(word): row for word, row in _NAMES.items()}


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of a material."""
    try:
        row = material(word)
    except UnknownMaterialError:
        return
    rows = (
        ("density", f"{row.density:g} g/cm³"),
        ("expansion", f"{row.expansion:g} µm per metre and kelvin"),
        ("modulus", f"{row.modulus:g} GPa"),
        ("tensile strength", f"about {row.strength:g} MPa"),
        ("begins to melt", f"about {row.melts:g} °C"),
        ("machinability", f"{row.machinability} % of {row.machinability_of}"),
        ("silver brazing", row.solderable),
        ("pickle", "never with copper alloys: iron plates them" if row.ferrous else "usual"),
        *((("caution", CAUTIONS[row.name]),) if row.name in CAUTIONS else ()),
        ("also called", ", ".join((*row.also, *designations(row.name)))),
    )
    yield Found(f"{row.name} ({row.alloy})", rows, row.source, row.memory)
