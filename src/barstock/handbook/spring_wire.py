"""Spring wire: sizes commonly sold, and gauge numbers.

Sources: BS 3737:1964 (SWG), ASTM A228 (music wire gauge). Typed from memory, checked in tests
against published tables.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress

from barstock.handbook.answer import Found
from barstock.handbook.spring_grades import GRADES, UnknownWireError, WireGrade, wire_grade
from barstock.handbook.spring_grades import MODULUS as MODULUS
from barstock.handbook.spring_grades import SHEAR_MODULUS as SHEAR_MODULUS
from barstock.quantities import INCH, Unit, show

SOURCE = "sizes BS 3737:1964, ASTM A228; strength EN 10270-1, EN 10270-3, ASTM A228 and B159"
MEMORY = True

SIZES = (0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.25, 1.4,
         1.5, 1.6, 1.8, 2.0, 2.25, 2.5, 2.8, 3.0, 3.2, 3.5, 4.0)  # fmt: skip
"""Diameters commonly sold [mm]. Common practice."""

# thousandths of an inch, No 1 first
_SWG = (300, 276, 252, 232, 212, 192, 176, 160, 144, 128, 116, 104, 92, 80, 72, 64, 56, 48, 40, 36,
        32, 28, 24, 22, 20, 18, 16.4, 14.8, 13.6, 12.4, 11.6, 10.8, 10, 9.2, 8.4, 7.6, 6.8, 6, 5.2,
        4.8)  # fmt: skip
_MUSIC = (10, 11, 12, 13, 14, 16, 18, 20, 22, 24, 26, 29, 31, 33, 35, 37, 39, 41, 43, 45, 47, 49,
          51, 55, 59, 63, 67, 71, 75, 80, 85, 90, 95, 100, 106)  # fmt: skip

SWG = {i: round(thou * INCH / 1000, 4) for i, thou in enumerate(_SWG, 1)}
"""Standard wire gauge number -> diameter [mm]."""

MUSIC_WIRE = {i: round(thou * INCH / 1000, 4) for i, thou in enumerate(_MUSIC, 1)}
"""Music wire gauge number -> diameter [mm]."""


def wire(name: str) -> float:
    """Diameter by gauge [mm]: 18 SWG, music wire 12, or plain 0.9 mm. Raises UnknownWireError.

    >>> wire("18 SWG"), wire("0.9")
    (1.2192, 0.9)
    """
    found = re.search(r"\d+(\.\d+)?|\.\d+", name)
    word = name.lower()
    if found and "." not in found[0]:
        tables = (SWG,) if "swg" in word else (MUSIC_WIRE,) if "music" in word else ()
        for table in tables:
            if int(found[0]) in table:
                return table[int(found[0])]
    if found and not re.search(r"swg|music", word) and 0 < float(found[0]) <= 20:
        return float(found[0])
    raise UnknownWireError(name, "wire", (), "write it like 18 SWG, music wire 12 or 0.9 mm")


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of spring wire: 18 SWG, music wire 12, wire 0.9; of a grade: SH wire."""
    with suppress(UnknownWireError):
        yield _of_grade(wire_grade(word), unit)
    if not re.search(r"wire|swg", word.lower()):
        return
    try:
        size = wire(word)
    except UnknownWireError:
        return
    rows = [("diameter", f"{show(size, Unit.MM)}, {show(size, Unit.INCH)}")]
    for grade in GRADES.values():
        if grade.least <= size <= grade.most:
            strength = f"at least {grade.strength(size):g} MPa"
            stiff = f"shear modulus {grade.shear / 1000:g} GPa"
            rows.append((f"tensile strength, {grade.name}", f"{strength}; {stiff}"))
    yield Found(word if "wire" in word.lower() else f"wire {word}", tuple(rows), SOURCE, MEMORY)


def _of_grade(grade: WireGrade, unit: Unit) -> Found:
    rows = [
        ("drawn from", f"{show(grade.least, unit)} to {show(grade.most, unit)}"),
        ("shear modulus", f"{grade.shear / 1000:g} GPa"),
        ("modulus", f"{grade.young / 1000:g} GPa"),
        ("density", f"{grade.density:g} g/cm³"),
    ]
    for size in SIZES:
        if grade.least <= size <= grade.most:
            rows.append((f"tensile, {show(size, unit)}", f"at least {grade.strength(size):g} MPa"))
    return Found(f"spring wire {grade.name}", tuple(rows), grade.source, MEMORY)
