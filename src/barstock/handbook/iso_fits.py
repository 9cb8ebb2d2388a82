"""Limits and fits of ISO 286: limits of a hole or shaft from its symbol, and what a fit gives.

Source: ISO 286-1:2010, clause 4 and tables 1 to 5 (in `fit_tables`), sizes up to 500 mm. Holes
follow from shafts by the standard's rules: A to H mirror a to h; K to N up to IT8 and P to ZC up to
IT7 are mirrored and moved by delta = IT(n) - IT(n-1), above 3 mm.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass
from enum import StrEnum

from barstock.handbook import fit_tables as tables
from barstock.quantities import Length

SOURCE = "ISO 286-1:2010 tables 1 to 5"

LARGEST = 500.0
"""Largest nominal size of the tables here [mm]."""

_SYMBOL = re.compile(r"([A-Za-z]{1,2})\s?(\d{1,2})$")
_CLEAR = ("a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h")
_LETTERS = (*_CLEAR, "j", "js", *"kmnprstuvxyz", "za", "zb", "zc")


class FitError(LookupError):
    """Raised for a symbol there is not, or not at that size."""


class Kind(StrEnum):
    """The kinds of fit, by what one always, never or perhaps leaves between the parts."""

    CLEARANCE = "clearance"
    TRANSITION = "transition"
    INTERFERENCE = "interference"


@dataclass(frozen=True)
class Fit:
    """Hole and shaft together [mm]. hole, shaft: (lower, upper) deviations; least, most: clearance,
    negative where the parts interfere.
    """

    nominal: float
    symbol: str
    hole: tuple[float, float]
    shaft: tuple[float, float]

    @property
    def least(self) -> float:
        """Least clearance [mm]."""
        return round(self.hole[0] - self.shaft[1], 7)

    @property
    def most(self) -> float:
        """Most clearance [mm]."""
        return round(self.hole[1] - self.shaft[0], 7)

    @property
    def kind(self) -> Kind:
        """The kind of the fit: clearance, transition or interference."""
        if self.least >= 0:
            return Kind.CLEARANCE
        return Kind.INTERFERENCE if self.most <= 0 else Kind.TRANSITION


def limits(nominal: float, symbol: str) -> tuple[float, float]:
    """Lower and upper deviation [mm] of a hole (capitals) or shaft; nominal [mm].

    Raises FitError. Source: ISO 286-1:2010.

    >>> limits(8, "H7"), limits(10, "f7"), limits(25, "js6"), limits(25, "N9")
    ((0.0, 0.015), (-0.028, -0.013), (-0.0065, 0.0065), (-0.052, 0.0))
    """
    letter, grade = _parts(symbol)
    tolerance = it(nominal, grade)
    _small(nominal, letter, grade)
    main = bisect_left(tables.MAIN, nominal)
    if letter.lower() == "js":
        low, high = -tolerance / 2, tolerance / 2
    elif letter.islower():
        low, high = _shaft(letter, grade, tolerance, main, nominal)
    else:
        low, high = _hole(letter, grade, tolerance, main, nominal)
    return round(low / 1000, 7) + 0.0, round(high / 1000, 7) + 0.0


def fit(nominal: float, symbol: str) -> Fit:
    """A hole and a shaft of one nominal size [mm], symbol like H7/g6. Raises FitError.

    >>> f = fit(10, "H7/g6")
    >>> f.kind.value, f.least, f.most
    ('clearance', 0.005, 0.029)
    """
    first, slash, second = symbol.replace(" ", "").partition("/")
    if not slash or not first[:1].isupper() or not second[:1].islower():
        raise FitError(f"'{symbol}' is no fit; write the hole's symbol, then the shaft's: H7/g6")
    return Fit(nominal, f"{first}/{second}", limits(nominal, first), limits(nominal, second))


def it(nominal: float, grade: str) -> float:
    """The width of a standard tolerance grade [micrometres]; grade "01", "0", "1" to "18".

    Raises FitError. Source: ISO 286-1:2010 table 1.

    >>> it(8, "7")
    15.0
    """
    if not 0 < nominal <= LARGEST:
        raise FitError(
            f"ISO 286 is tabulated here above 0 up to {Length(LARGEST):g}, not at "
            f"{Length(nominal):g}"
        )
    if grade not in tables.GRADES:
        raise FitError(f"there is no grade IT{grade}; grades run from IT01 to IT18")
    return tables.IT[bisect_left(tables.MAIN, nominal)][tables.GRADES.index(grade)]


def _parts(symbol: str) -> tuple[str, str]:
    found = _SYMBOL.match(symbol.strip())
    letter = found[1] if found else ""
    if found is None or letter.lower() not in _LETTERS or letter not in (
        letter.lower(), letter.upper()
    ):  # fmt: skip
        raise FitError(f"'{symbol}' is no symbol of ISO 286; write it like H7 or g6")
    return letter, found[2]


def _small(nominal: float, letter: str, grade: str) -> None:
    """Raise FitError for what ISO 286-1 does not use up to 1 mm: a and b, N coarser than IT8."""
    if nominal > 1:
        return
    if letter in "abAB":
        raise FitError(f"ISO 286 has no {letter} up to 1 mm; c is its widest there")
    if letter == "N" and int(grade) > 8:
        raise FitError(f"ISO 286 has no N{grade} up to 1 mm; N ends at grade 8 there")


def _deviation(letter: str, main: int, nominal: float) -> float:
    """Size of a shaft's fundamental deviation [micrometres], tables 4 and 5."""
    by_main = letter in tables.BY_MAIN
    row = tables.BY_MAIN[letter] if by_main else tables.BY_STEP[letter]
    at = main if by_main else bisect_left(tables.STEPS, nominal)
    value = row[at] if at < len(row) else None
    if value is None:
        raise FitError(f"ISO 286 has no {letter} (nor {letter.upper()}) at {Length(nominal):g}")
    return value


def _shaft(
    letter: str, grade: str, tolerance: float, main: int, nominal: float
) -> tuple[float, float]:
    if letter in _CLEAR:
        high = -_deviation(letter, main, nominal)
        return high - tolerance, high
    if letter == "j":
        low = _tabulated(tables.SHAFT_J, "j", grade, main, nominal)
    elif letter == "k" and grade not in ("4", "5", "6", "7"):
        low = 0.0
    else:
        low = _deviation(letter, main, nominal)
    return low, low + tolerance


def _hole(
    letter: str, grade: str, tolerance: float, main: int, nominal: float
) -> tuple[float, float]:
    small = letter.lower()
    if small in _CLEAR:
        low = _deviation(small, main, nominal)
        return low, low + tolerance
    if letter == "J":
        high = _tabulated(tables.HOLE_J, "J", grade, main, nominal)
    else:
        high = _hole_upper(letter, small, grade, main, nominal)
    return high - tolerance, high


def _hole_upper(letter: str, small: str, grade: str, main: int, nominal: float) -> float:
    """Upper deviation of K to ZC holes [micrometres], tables 2 and 3 with their delta."""
    number = int(grade)
    if grade.startswith("0") or number < 3:
        raise FitError(f"ISO 286 has no {letter}{grade}: holes K to ZC begin at grade 3")
    finest = 8 if letter in "KMN" else 7
    high = -_deviation(small, main, nominal)
    if number > finest:
        if letter == "K" and nominal > 3:
            raise FitError(f"ISO 286 has no K{grade} above 3 mm; K ends at grade 8")
        return 0.0 if letter == "N" and nominal > 3 else high
    if nominal <= 3:
        return high
    delta = it(nominal, grade) - it(nominal, str(number - 1))
    if letter == "M" and number == 6 and 250 < nominal <= 315:
        return -9.0  # the one exception, named below table 3 (-11 by the rule)
    return high + delta


def _tabulated(
    table: dict[str, tuple[float | None, ...]], letter: str, grade: str, main: int, nominal: float
) -> float:
    value = table[grade][main] if grade in table else None
    if value is None:
        raise FitError(
            f"ISO 286 has no {letter}{grade} at {Length(nominal):g}; {letter}s is near it"
        )
    return value
