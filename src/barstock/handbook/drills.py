"""Drill sizes by number, letter, fraction and in mm.

Source: ASME B94.11M-1993, Twist Drills, table 1 (the wire gauge numbers and letters, decimal inch);
fractions are exact. Typed from memory, checked against an independent open table in tests.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from barstock.handbook.answer import Found
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import INCH, Unit, show

SOURCE = "ASME B94.11M-1993 table 1"

CHUCK = 13.0
"""The widest drill that a small mill's or drill press's chuck takes [mm]; wider holes are as often
bored. Common practice."""

# thousandths of an inch, No 1 first
_NUMBERS = (
    228, 221, 213, 209, 205.5, 204, 201, 199, 196, 193.5,
    191, 189, 185, 182, 180, 177, 173, 169.5, 166, 161,
    159, 157, 154, 152, 149.5, 147, 144, 140.5, 136, 128.5,
    120, 116, 113, 111, 110, 106.5, 104, 101.5, 99.5, 98,
    96, 93.5, 89, 86, 82, 81, 78.5, 76, 73, 70,
    67, 63.5, 59.5, 55, 52, 46.5, 43, 42, 41, 40,
    39, 38, 37, 36, 35, 33, 32, 31, 29.2, 28,
    26, 25, 24, 22.5, 21, 20, 18, 16, 14.5, 13.5,
)  # fmt: skip
# thousandths of an inch, A first
_LETTERS = (
    234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295,
    302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413,
)  # fmt: skip

NUMBERS = {f"No {i}": round(thou * INCH / 1000, 5) for i, thou in enumerate(_NUMBERS, 1)}
"""Number drills, No 1 to No 80 [mm]."""

LETTERS = {f"letter {chr(ord('A') + i)}": round(t * INCH / 1000, 5) for i, t in enumerate(_LETTERS)}
"""Letter drills, A to Z [mm]."""

_NAME = re.compile(
    r"(?:drill\s*)?(?:(?:no\.?|number|#)?\s*(?P<number>\d{1,2})"
    r"|(?:letter\s*)?(?P<letter>[A-Za-z])"
    r"|(?:(?P<whole>\d+)[-\s])?(?P<top>\d+)/(?P<bottom>\d+)\s*(?:in|inch|\")?"
    r"|(?P<mm>\d+(?:\.\d+)?|\.\d+)\s*(?P<unit>mm)?)$",
    re.I,
)


class UnknownDrillError(UnknownError):
    """Raised for a name of no drill."""


@cache
def fractions() -> dict[str, float]:
    """The fraction drills, 1/64 to 1 inch by 64ths [mm].

    >>> len(fractions()), round(fractions()["3/8"], 3)
    (64, 9.525)
    """
    sizes = (Fraction(i, 64) for i in range(1, 65))
    return {f"{f.numerator}/{f.denominator}" if f < 1 else "1 in": float(f) * INCH for f in sizes}


def drill(name: str) -> float:
    """The size of a drill by name [mm]: 43, No 43, #43, F, letter F, 1/4, 1-3/8, 2.05 or 2 mm.

    A bare whole number up to 80 is a number drill; write 2 mm or 2.0 for a metric one.
    Raises UnknownDrillError. Source: ASME B94.11M-1993 table 1.

    >>> drill("No 43"), drill("F"), drill("1/8"), drill("2.5")
    (2.2606, 6.5278, 3.175, 2.5)
    """
    found = _NAME.match(name.strip())
    wanted = "numbers run from 1 to 80, letters from A to Z, fractions from 1/64"
    if found is None:
        raise UnknownDrillError(name, "drill", [*NUMBERS, *LETTERS], wanted)
    if found["number"] and not name.lower().strip().endswith("mm"):
        key = f"No {int(found['number'])}"
        if key in NUMBERS:
            return NUMBERS[key]
    elif found["letter"]:
        return LETTERS[f"letter {found['letter'].upper()}"]
    elif found["top"] and int(found["bottom"]):
        size = int(found["whole"] or 0) + Fraction(int(found["top"]), int(found["bottom"]))
        return round(float(size) * INCH, 9)
    elif found["mm"] and 0 < float(found["mm"]) <= 100:
        return float(found["mm"])
    raise UnknownDrillError(name, "drill", (), wanted)


def named(size: float, within: float = 0.03) -> list[tuple[str, float]]:
    """Number, letter and fraction drills within `within` of `size` [mm], nearest first.

    >>> named(2.26)[0]
    ('No 43', 2.2606)
    """
    every = {**NUMBERS, **LETTERS, **fractions()}
    near = [(name, mm) for name, mm in every.items() if abs(mm - size) <= within]
    return sorted(near, key=lambda pair: abs(pair[1] - size))


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a drill."""
    if word.lower() == "drills":  # not letter S; see `lists`
        return
    try:
        size = drill(word)
    except UnknownDrillError:
        return
    near = [f"{name} ({show(mm, unit)})" for name, mm in named(size, 0.12)][:4]
    rows = [("size", f"{show(size, Unit.MM)}, {show(size, Unit.INCH)}")]
    if near:
        rows.append(("nearest by name", ", ".join(near)))
    title = f"drill No {int(word)}" if re.fullmatch(r"\d{1,2}", word) else f"drill {word}"
    yield Found(title, tuple(rows), SOURCE, memory=True)
