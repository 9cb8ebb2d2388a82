"""Spring wire: sizes commonly sold, gauge numbers, and how strong it is.

Sources: EN 10270-1:2011+A1:2017 table 3 (least tensile strength of patented cold drawn wire, here
by the formulas its figures follow, to the nearest 10 MPa; moduli annex), BS 3737:1964 (SWG), ASTM
A228 (music wire gauge). Typed from memory, checked in tests against published tables.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import log10

from barstock.handbook.found import Found
from barstock.handbook.unknown import UnknownError
from barstock.quantities import INCH, Unit, show

SOURCE = "EN 10270-1:2011 table 3; BS 3737:1964; ASTM A228"
MEMORY = True

SHEAR_MODULUS = 81_500.0
"""Of patented spring wire [MPa]. EN 10270-1 annex."""

MODULUS = 206_000.0
"""Young's, of patented spring wire [MPa]. EN 10270-1 annex."""

SIZES = (0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.25, 1.4,
         1.5, 1.6, 1.8, 2.0, 2.25, 2.5, 2.8, 3.0, 3.2, 3.5, 4.0)  # fmt: skip
"""Diameters commonly sold [mm]. Common practice."""

# SM is checked against a printed table, the other grades are from memory only
# grade: constants a, b of Rm = a - b log10 d; smallest and largest diameter [mm]
GRADES = {
    "SL": (1720, 660, 1.0, 10.0), "SM": (1980, 740, 0.3, 20.0), "DM": (1980, 740, 0.3, 20.0),
    "SH": (2220, 820, 0.3, 20.0), "DH": (2220, 820, 0.3, 20.0),
}  # fmt: skip

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


class UnknownWireError(UnknownError):
    """No such wire."""


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


def tensile_strength(diameter: float, grade: str = "SH") -> float:
    """Least tensile strength of patented spring wire [MPa]; diameter [mm].

    grade: SL, SM, DM, SH or DH. Raises UnknownWireError for another, or out of its range.
    Source: EN 10270-1 table 3, which follows Rm = a - b log10 d.

    >>> tensile_strength(1.0, "SM")
    1980.0
    """
    if grade.upper() not in GRADES:
        raise UnknownWireError(grade, "grade of spring wire", GRADES, "known: " + ", ".join(GRADES))
    a, b, least, most = GRADES[grade.upper()]
    if not least <= diameter <= most:
        what = f"size of {grade.upper()} wire"
        raise UnknownWireError(
            f"{diameter:g} mm", what, (), f"it runs from {least:g} to {most:g} mm"
        )
    return float(round(a - b * log10(diameter), -1))


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of spring wire: 18 SWG, music wire 12, wire 0.9."""
    if not re.search(r"wire|swg", word.lower()):
        return
    try:
        size = wire(word)
    except UnknownWireError:
        return
    rows = [("diameter", f"{show(size, Unit.MM)}, {show(size, Unit.INCH)}")]
    for grade, (_a, _b, least, most) in GRADES.items():
        if least <= size <= most:
            strength = tensile_strength(size, grade)
            rows.append((f"tensile strength, grade {grade}", f"at least {strength:g} MPa"))
    yield Found(word if "wire" in word.lower() else f"wire {word}", tuple(rows), SOURCE, MEMORY)
