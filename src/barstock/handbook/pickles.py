"""Pickles for copper alloys after silver soldering.

Strengths, temperatures and times are common practice (a tenth of acid, kept warm; citric acid
slower than the others); the maker's data sheet goes before them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.handbook.answer import Found
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

SOURCE = "common practice"


@dataclass(frozen=True)
class Bath:
    """A pickle. strength, caution: in words; warm: temperature it is kept at [C]; minutes (least,
    most) warm and at room temperature.
    """

    name: str
    strength: str
    warm: float
    warm_minutes: tuple[float, float]
    cold_minutes: tuple[float, float]
    caution: str
    also: tuple[str, ...] = ()


_WARM = "goggles, gloves, apron; a lid; out of doors or moving air, for a warm bath gives off mist"

BATHS: dict[str, Bath] = {bath.name: bath for bath in (
    Bath("citric acid", "100 to 150 g of crystals to a litre of water", 55, (15, 40), (60, 480),
         f"{_WARM}; it irritates the eyes", ("citric",)),
    Bath("sodium bisulphate", "about 100 g of the dry salt to a litre of water", 50, (5, 20),
         (20, 90), f"{_WARM}; in water it is as sour as acid, and burns eyes",
         ("safety pickle", "sodium bisulfate", "dry acid")),
    Bath("dilute sulphuric acid", "1 part of acid poured slowly into 9 parts of water", 50, (5, 15),
         (15, 60), f"{_WARM}; it burns skin and eyes, worse when hot: never boil it, never put hot "
         "work in it; acid into water, never water into acid",
         ("sulphuric acid", "sulfuric acid", "dilute sulfuric acid")),
)}  # fmt: skip
"""Baths by name."""


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of a pickle."""
    try:
        bath = bath_named(word)
    except UnknownError:
        return
    warm, cold = ("{:g} to {:g} minutes".format(*m) for m in (bath.warm_minutes, bath.cold_minutes))
    rows = (
        ("strength", bath.strength),
        (f"at {bath.warm:g} °C", warm),
        ("cold", cold),
        ("caution", bath.caution),
        ("never", "iron, steel, aluminium or zinc, nor work hotter than 100 °C"),
    )
    yield Found(f"pickle: {bath.name}", rows, SOURCE, memory=True)


def bath_named(name: str) -> Bath:
    """A bath by any of its names. Raises UnknownError.

    >>> bath_named("safety pickle").warm_minutes
    (5, 20)
    """
    word = " ".join(name.lower().split())
    by_word = {w: bath for bath in BATHS.values() for w in (bath.name, *bath.also)}
    if word not in by_word:
        raise UnknownError(name, "pickle", by_word, "known: " + ", ".join(BATHS))
    return by_word[word]
