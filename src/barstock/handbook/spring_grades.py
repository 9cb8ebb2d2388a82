"""The grades of spring wire: how strong each is by diameter, how stiff, how heavy.

Sources: EN 10270-1:2011+A1:2017 table 3 (patented wire; its figures follow Rm = a - b log10 d, to
the nearest 10 MPa); EN 10270-3:2011 table 4 (1.4310, normal drawn); ASTM A228 (in `music_wire`);
ASTM B159 through the constants of Shigley, Mechanical Engineering Design, tables 10-4 and 10-5.
Typed from memory but for music wire, checked in tests against published tables.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf, log10

from barstock.handbook import music_wire
from barstock.handbook.unknown_word import UnknownError


class UnknownWireError(UnknownError):
    """Raised for a name of no wire."""


@dataclass(frozen=True)
class WireGrade:
    """A sort of spring wire. shear, young: moduli [MPa]; density [g/cm3].

    least, most: diameters it is drawn in [mm]. strength: diameter [mm] -> least tensile [MPa].
    soft: of stainless steel or bronze, which set under less of it.
    """

    name: str
    source: str
    shear: float
    young: float
    density: float
    least: float
    most: float
    strength: Callable[[float], float] = field(compare=False, repr=False)
    also: tuple[str, ...] = ()
    soft: bool = False


def _patented(a: float, b: float, most: float = inf) -> Callable[[float], float]:
    """most: what table 3 asks of the thinnest wires, and of none more [MPa]."""
    return lambda diameter: min(most, float(round(a - b * log10(diameter), -1)))


def _bands(*rows: tuple[float, float]) -> Callable[[float], float]:
    """(up to this diameter, strength)."""
    return lambda diameter: next(mpa for top, mpa in rows if diameter <= top)


def _powers(*rows: tuple[float, float, float]) -> Callable[[float], float]:
    """(up to this diameter, A, m) of A / d^m."""
    return lambda diameter: next(
        float(round(a / diameter**m, -1)) for top, a, m in rows if diameter <= top
    )


_EN1, _EN3 = "EN 10270-1:2011 table 3", "EN 10270-3:2011 table 4"
_SHIGLEY = "Shigley, Mechanical Engineering Design, tables 10-4 and 10-5"
_STEEL = (81_500.0, 206_000.0, 7.85)

GRADES: dict[str, WireGrade] = {grade.name: grade for grade in (
    WireGrade("SL", _EN1, *_STEEL, 1.0, 10.0, _patented(1720, 660)),
    WireGrade("SM", _EN1, *_STEEL, 0.3, 20.0, _patented(1980, 740)),
    WireGrade("DM", _EN1, *_STEEL, 0.3, 20.0, _patented(1980, 740)),
    WireGrade("SH", _EN1, *_STEEL, 0.3, 20.0, _patented(2230, 820)),
    WireGrade("DH", _EN1, *_STEEL, 0.1, 20.0, _patented(2230, 820, most=2800)),
    WireGrade("1.4310", _EN3, 73_000, 185_000, 7.9, 0.1, 8.5, _bands(
        (0.2, 2200), (0.3, 2150), (0.4, 2100), (0.5, 2050), (0.65, 2000), (0.8, 1950), (1.0, 1900),
        (1.25, 1850), (1.5, 1800), (1.75, 1750), (2.0, 1700), (2.5, 1650), (3.0, 1600), (3.5, 1550),
        (4.25, 1500), (5.0, 1450), (6.0, 1400), (7.0, 1350), (8.5, 1300)),
        ("stainless", "302", "1.4310 ns", "x10crni18-8"), soft=True),
    WireGrade("music wire", f"{music_wire.SOURCE}; moduli {_SHIGLEY}", 81_000, 200_000, 7.85,
              music_wire.THINNEST, music_wire.THICKEST, music_wire.strength, ("a228", "piano")),
    WireGrade("phosphor bronze", f"ASTM B159; {_SHIGLEY}", 41_400, 103_400, 8.86, 0.1, 7.5,
              _powers((0.6, 1000, 0), (2.0, 913, 0.028), (7.5, 932, 0.064)),
              ("b159", "cusn6"), soft=True),
)}  # fmt: skip
"""Grades by name."""

SHEAR_MODULUS = GRADES["SH"].shear
"""Of patented spring wire [MPa]. EN 10270-1 annex."""

MODULUS = GRADES["SH"].young
"""Young's, of patented spring wire [MPa]. EN 10270-1 annex."""


def wire_grade(name: str) -> WireGrade:
    """A grade by any of its names: SH, 1.4310, stainless, music wire. Raises UnknownWireError.

    >>> wire_grade("stainless").shear
    73000
    """
    word = " ".join(name.lower().split()).removesuffix(" wire").removesuffix(" spring")
    for grade in GRADES.values():
        if word in (grade.name.lower().removesuffix(" wire"), *grade.also):
            return grade
    raise UnknownWireError(name, "grade of spring wire", GRADES, "known: " + ", ".join(GRADES))
