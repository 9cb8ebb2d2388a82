"""Every thread of every series, made from the standards' rows in `thread_tables`."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import ceil

from barstock.handbook import thread_tables as tables
from barstock.handbook.drills import drill
from barstock.handbook.thread_form import DEEP, Thread
from barstock.quantities import INCH

_WHITWORTH = "BS 84:1956"


@cache
def threads() -> tuple[Thread, ...]:
    """Every thread known, series by series.

    >>> [each.name for each in threads() if each.series == "BA"][:3]
    ['0 BA', '1 BA', '2 BA']
    """
    return (*_metric(), *_unified(), *_ba(), *_whitworth(), *_pipe())


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
    for key, (inches, *counts) in tables.UNIFIED.items():
        size = key.removesuffix("in")
        for series, tpi in zip(("UNC", "UNF", "UNEF"), counts, strict=True):
            if not tpi:
                continue
            major, pitch = round(inches * INCH, 9), INCH / tpi
            source = "ASME B1.1 table 1; clearance ASME B18.2.8; tapping drill common practice"
            close, medium, free = (drill(d) for d in tables.ASME_CLEARANCE[key])
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
        for size, (tpi, hole) in rows.items():
            yield _of_whitworth_form(f"{size} {series}", series, size, tpi, _WHITWORTH, hole)
    for tpi, sizes in tables.MODEL.items():
        for size in sizes:
            source = f"form {_WHITWORTH}, series common practice"
            yield _of_whitworth_form(f"{size} x {tpi}", f"model {tpi} tpi", size, tpi, source)


def _pipe() -> Iterator[Thread]:
    source = "ISO 228-1; tapping drill and clearance common practice"
    for size, (major, tpi, hole) in tables.PIPE.items():
        pitch, clear = INCH / tpi, _usual_clearance(major)
        minor = _minor(major, pitch, 55.0)
        yield Thread(f"G{size}", "pipe", major, pitch, 55.0, minor, hole, *clear, source)


def _of_whitworth_form(
    name: str, series: str, size: str, tpi: int, source: str, hole: float = 0.0
) -> Thread:
    major, pitch = round(float(Fraction(size)) * INCH, 9), INCH / tpi
    minor = _minor(major, pitch, 55.0)
    drilled = "BS 1157" if hole else "nearest to 80 % engagement"
    hole = hole or _as_sold(major - 0.8 * (major - minor))
    source += f"; tapping drill {drilled}; clearance common practice"
    clear = _usual_clearance(major)
    return Thread(name, series, major, pitch, 55.0, minor, hole, *clear, source)


def _as_sold(hole: float) -> float:
    """The nearest metric drill: in steps of 0.05 up to 3 mm, of 0.1 above."""
    return round(hole, 1) if hole > 3 else round(round(hole * 20) / 20, 2)


def _minor(major: float, pitch: float, angle: float) -> float:
    return major - 2 * DEEP[angle] * pitch


def _usual_clearance(major: float) -> tuple[float, float, float]:
    """3, 6, 10 % over, at least 0.1, 0.15, 0.25, up to the next 0.05 [mm]. Common practice."""
    spare = ((0.03, 0.1), (0.06, 0.15), (0.1, 0.25))
    close, medium, free = (
        round(ceil(round((major + max(part * major, least)) * 20, 6)) / 20, 2)
        for part, least in spare
    )
    return close, medium, free
