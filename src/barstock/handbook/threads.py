"""Screw threads by name: metric, unified, BA, Whitworth and the model series. Lengths in mm.

Rows and their standards are in `thread_tables`. Forms: ISO 68-1 and ASME B1.1 (60 degrees, height
H = 0.866 pitch, thread 5/8 H deep), BS 93 (BA, 47.5 degrees, 0.6 pitch deep), BS 84 (Whitworth,
55 degrees, 0.6403 pitch deep).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import ceil, sqrt

from barstock.handbook import thread_tables as tables
from barstock.handbook.drills import drill
from barstock.handbook.unknown import UnknownError
from barstock.quantities import INCH

_DEEP = {60.0: 5 / 8 * sqrt(3) / 2, 55.0: 0.640327, 47.5: 0.6}
_FULL = {60.0: 3 / 4 * sqrt(3) / 2, 55.0: 0.640327, 47.5: 0.6}
_WHITWORTH = "BS 84:1956"


class UnknownThreadError(UnknownError):
    """No thread of that name."""


@dataclass(frozen=True)
class Thread:
    """A screw thread [mm, degrees].

    minor: basic minor diameter of the nut. tap_drill: usual tapping drill. clearance_*: hole for
    the screw to pass. source: standards of the row; memory: typed from memory.
    """

    name: str
    series: str
    major: float
    pitch: float
    angle: float
    minor: float
    tap_drill: float
    clearance_close: float
    clearance_medium: float
    clearance_free: float
    source: str
    memory: bool = True

    @property
    def tpi(self) -> float:
        """Threads an inch."""
        return INCH / self.pitch

    @property
    def effective(self) -> float:
        """Basic effective (pitch) diameter [mm]. Whitworth and BA are as deep outside as inside;
        60 degree forms lie 3/8 of the height below the major diameter."""
        share = 3 / 8 * sqrt(3) / 2 if self.angle == 60 else _DEEP[self.angle] / 2
        return self.major - 2 * share * self.pitch

    @property
    def root(self) -> float:
        """Root diameter of the screw [mm]: 17/24 H deep for 60 degrees (ISO 68-1), else minor."""
        deep = 17 / 24 * sqrt(3) / 2 if self.angle == 60 else _DEEP[self.angle]
        return self.major - 2 * deep * self.pitch


def thread(name: str) -> Thread:
    """A thread by any of its usual names: M3, M3x0.35, 4-40 UNC, #4-40, 1/4 BSF, 6 BA, 1/4 x 40.

    A limit class after it (6H, 2B) is ignored. Raises UnknownThreadError with the nearest names.

    >>> thread("6BA").major, thread("1/4-40 ME").series, thread("M3x0.5").tap_drill
    (2.8, 'model 40 tpi', 2.5)
    """
    by_name = _by_name()
    plain = _plain(name)
    found = by_name.get(plain) or by_name.get(re.sub(r"-?(5h|6h|6g|[1-3][ab])$", "", plain))
    if found is None:
        valid = {t.name for t in threads()}
        raise UnknownThreadError(name, "thread", valid, "write it like M3, 6 BA or 4-40 UNC")
    return found


def clearance(name: str, fit: str = "medium") -> float:
    """The hole that a screw passes through [mm]; fit: "close", "medium" or "free".

    Raises UnknownThreadError, ValueError. Source: ISO 273, ASME B18.2.8, else common practice.

    >>> clearance("M3"), clearance("M3", "close")
    (3.4, 3.2)
    """
    found = thread(name)
    sizes = {
        "close": found.clearance_close,
        "medium": found.clearance_medium,
        "free": found.clearance_free,
    }
    if fit not in sizes:
        raise ValueError(f"'{fit}' is no fit of a clearance hole; write close, medium or free")
    return sizes[fit]


@cache
def threads() -> tuple[Thread, ...]:
    """Every thread known, series by series."""
    return (*_metric(), *_unified(), *_ba(), *_whitworth())


def percentage_engagement(form: Thread, hole: float) -> float:
    """How much of the full thread depth a hole leaves to be cut [%]; hole [mm].

    Full depth is 0.6495 pitch (3/4 H) for 60 degrees, as tap drill charts reckon it, and the whole
    thread for Whitworth and BA. Source: Machinery's Handbook, tap drill percentages.

    >>> round(percentage_engagement(thread("M3"), 2.5))
    77
    """
    return (form.major - hole) / (2 * _FULL[form.angle] * form.pitch) * 100


def drill_for(form: Thread, percent: float = 75.0) -> float:
    """The hole that leaves so much of the thread [mm]; the inverse of percentage_engagement.

    >>> round(drill_for(thread("M6"), 77), 2)
    5.0
    """
    if not 0 < percent <= 100:
        raise ValueError(f"an engagement of {percent:g} % is not between 0 and 100")
    return form.major - percent / 100 * 2 * _FULL[form.angle] * form.pitch


def _metric() -> Iterator[Thread]:
    for size, pitches in tables.METRIC.items():
        major = float(size)
        holes = tables.ISO_273.get(size)
        source = "ISO 261, ISO 262, ISO 68-1; tapping drill ISO 2306; clearance "
        for i, pitch in enumerate(pitches):
            name = f"M{size}" if i == 0 else f"M{size}x{pitch:g}"
            yield Thread(
                name,
                "metric fine" if i else "metric coarse",
                major,
                pitch,
                60.0,
                _minor(major, pitch, 60.0),
                3.7 if name == "M4.5" else _iso_2306(major - pitch),
                *(holes or _usual_clearance(major)),
                source + ("ISO 273" if holes else "common practice"),
            )


def _iso_2306(hole: float) -> float:
    """The hole rounded as ISO 2306 does: to 0.05 below 5 mm, to 0.1 (halves to even) above."""
    return round(round(hole * 20) / 20, 2) if hole < 5 else round(round(hole, 3), 1)


def _unified() -> Iterator[Thread]:
    for size, (inches, *counts) in tables.UNIFIED.items():
        for series, tpi in zip(("UNC", "UNF", "UNEF"), counts, strict=True):
            if not tpi:
                continue
            major, pitch = round(inches * INCH, 9), INCH / tpi
            source = "ASME B1.1 table 1; clearance ASME B18.2.8; tapping drill common practice"
            close, medium, free = (drill(d) for d in tables.ASME_CLEARANCE[size])
            yield Thread(
                f"{size}-{tpi} {series}",
                series,
                major,
                pitch,
                60.0,
                _minor(major, pitch, 60.0),
                drill(tables.UNIFIED_DRILLS[f"{size}-{tpi}"]),
                close,
                medium,
                free,
                source,
            )


def _ba() -> Iterator[Thread]:
    source = "BS 93:1951; tapping drill and clearance common practice"
    for number, (major, pitch, hole) in tables.BA.items():
        minor = _minor(major, pitch, 47.5)
        clear = _usual_clearance(major)
        yield Thread(f"{number} BA", "BA", major, pitch, 47.5, minor, hole, *clear, source)


def _whitworth() -> Iterator[Thread]:
    for series, rows in (("BSW", tables.BSW), ("BSF", tables.BSF)):
        for size, tpi in rows.items():
            yield _of_whitworth_form(f"{size} {series}", series, size, tpi, _WHITWORTH)
    for tpi, sizes in tables.MODEL.items():
        for size in sizes:
            source = f"form {_WHITWORTH}, series common practice"
            yield _of_whitworth_form(f"{size} x {tpi}", f"model {tpi} tpi", size, tpi, source)


def _of_whitworth_form(name: str, series: str, size: str, tpi: int, source: str) -> Thread:
    major, pitch = round(float(Fraction(size)) * INCH, 9), INCH / tpi
    minor = _minor(major, pitch, 55.0)
    hole = major - 0.8 * (major - minor)
    hole = round(hole, 1) if hole > 3 else round(round(hole * 20) / 20, 2)  # as drills are sold
    source += "; tapping drill (80 % engagement) and clearance common practice"
    clear = _usual_clearance(major)
    return Thread(name, series, major, pitch, 55.0, minor, hole, *clear, source)


def _minor(major: float, pitch: float, angle: float) -> float:
    return major - 2 * _DEEP[angle] * pitch


def _usual_clearance(major: float) -> tuple[float, float, float]:
    """3, 6, 10 % over, at least 0.1, 0.15, 0.25, up to the next 0.05 [mm]. Common practice."""
    spare = ((0.03, 0.1), (0.06, 0.15), (0.1, 0.25))
    close, medium, free = (
        round(ceil(round((major + max(part * major, least)) * 20, 6)) / 20, 2)
        for part, least in spare
    )
    return close, medium, free


def _plain(name: str) -> str:
    """A name without case, blanks and the trade's several ways of saying number and by."""
    text = name.lower().replace("×", "x").replace("*", "x").replace("°", "")
    text = re.sub(r"^\s*(no\.?|number|#)\s*", "", text)
    text = re.sub(r"\b(tpi|thread|model)\b|\"|\bin\b", " ", text)
    text = re.sub(r"b\.\s?([as])\.?(\s?([wf])\.?)?", r"b\1\3", text)
    text = re.sub(r"x\s*\.(\d)", r"x0.\1", text)
    return re.sub(r"\s+", "", text)


@cache
def _by_name() -> dict[str, Thread]:
    """Every spelling of every thread; where two share one, the series listed first has it."""
    found: dict[str, Thread] = {}
    for each in threads():
        for spelling in _spellings(each):
            found.setdefault(spelling, each)
    return found


def _spellings(each: Thread) -> Iterator[str]:
    yield _plain(each.name)
    tpi = f"{each.tpi:.0f}"
    if each.series.startswith("metric"):
        size = each.name.lower().split("x")[0]
        yield from (f"{size}x{each.pitch:g}", f"{size}-{each.pitch:g}", f"{size}x{each.pitch:.2f}")
    elif each.series == "BA":
        yield f"ba{each.name.split()[0]}"
    elif each.series.startswith("UN"):
        size = each.name.split("-")[0]
        yield from (f"{size}-{tpi}", f"{size}{each.series.lower()}", f"{size}-{tpi}un")
        yield f"{size}x{tpi}{each.series.lower()}"
    else:
        size, word = each.name.split()[0], each.series.lower()
        words = ("bsw", "whit", "whitworth", "w") if word == "bsw" else (word,)
        if word.startswith("model"):
            words = ("me", "")
            yield f"{size}me{tpi}"
        for end in words:
            yield from (f"{size}-{tpi}{end}", f"{size}x{tpi}{end}")
        if not word.startswith("model"):
            yield from (f"{size}{end}" for end in words)
