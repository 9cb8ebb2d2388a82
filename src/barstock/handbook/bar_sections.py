"""Sections of bar commonly sold, and the limits they come with.

Source: sizes common practice (stockists' usual lists, from memory); limits of bright drawn bar from
EN 10278:1999 table 1 (rounds h9 to h10, flats h11), of drawn brass bar EN 12167 likewise h11.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from barstock.handbook.answer import Found
from barstock.quantities import INCH, SizeError, Unit, parse_length, show, show_fraction

SOURCE = "common practice: stockists' usual sections; limits h11 after EN 10278"
MEMORY = True

SHAPES = ("round", "square", "hexagon", "flat")

_MM_ROUNDS = (2, 2.5, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 30, 32, 35, 40, 45, 50)
_MM_SQUARES = (3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 40)
_MM_HEXAGONS = (4, 5, 5.5, 6, 7, 8, 10, 11, 12, 13, 14, 17, 19, 22, 24, 27, 30)
_MM_FLATS = {
    2: (10, 12, 15, 20, 25), 3: (6, 10, 12, 15, 16, 20, 25, 30, 40, 50),
    4: (10, 12, 16, 20, 25, 30), 5: (10, 12, 15, 16, 20, 25, 30, 40, 50),
    6: (10, 12, 15, 16, 20, 25, 30, 40, 50, 60, 80), 8: (10, 12, 16, 20, 25, 30, 40, 50, 60, 80),
    10: (12, 15, 16, 20, 25, 30, 40, 50, 60, 80, 100), 12: (16, 20, 25, 30, 40, 50, 60, 80, 100),
    15: (20, 25, 30, 40, 50), 16: (20, 25, 30, 40, 50), 20: (25, 30, 40, 50, 60, 80, 100),
    25: (30, 40, 50, 60, 80, 100),
}  # fmt: skip
_INCH_ROUNDS = ("1/16", "3/32", "1/8", "5/32", "3/16", "7/32", "1/4", "9/32", "5/16", "3/8",
                "7/16", "1/2", "9/16", "5/8", "3/4", "7/8", "1", "9/8", "5/4", "3/2", "7/4",
                "2")  # fmt: skip
_INCH_SQUARES = ("1/8", "5/32", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "1",
                 "5/4", "3/2")  # fmt: skip
_INCH_HEXAGONS = ("1/8", "5/32", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "1")
_INCH_FLATS = {
    "1/16": ("1/4", "3/8", "1/2", "3/4", "1"), "3/32": ("1/4", "3/8", "1/2", "3/4", "1"),
    "1/8": ("1/4", "3/8", "1/2", "5/8", "3/4", "1", "5/4", "3/2", "2"),
    "3/16": ("1/4", "3/8", "1/2", "5/8", "3/4", "1", "5/4", "3/2", "2"),
    "1/4": ("3/8", "1/2", "5/8", "3/4", "1", "5/4", "3/2", "2", "3"),
    "5/16": ("1/2", "5/8", "3/4", "1", "5/4", "3/2", "2"),
    "3/8": ("1/2", "5/8", "3/4", "1", "5/4", "3/2", "2", "3"),
    "1/2": ("5/8", "3/4", "1", "5/4", "3/2", "2", "3"), "5/8": ("3/4", "1", "5/4", "3/2", "2"),
    "3/4": ("1", "5/4", "3/2", "2", "3"), "1": ("5/4", "3/2", "2", "3"),
}  # fmt: skip


@dataclass(frozen=True)
class Section:
    """A section of bar [mm]. width >= height; a round's is its diameter, a hexagon's across flats.

    unit: the one it is sold in.
    """

    shape: str
    width: float
    height: float
    unit: Unit

    @property
    def label(self) -> str:
        """As a stockist writes it.

        >>> Section("flat", 19.05, 6.35, Unit.INCH).label
        '3/4 x 1/4'
        """
        if self.shape == "flat":
            return f"{_figure(self.width, self.unit)} x {_figure(self.height, self.unit)}"
        return f"{_figure(self.width, self.unit)} {self.shape}"


def sections(shape: str = "", unit: Unit | None = None) -> tuple[Section, ...]:
    """Sections commonly sold, all or of one shape and unit. Raises ValueError for no shape.

    >>> len(sections("square", Unit.MM))
    12
    """
    if shape and shape not in SHAPES:
        raise ValueError(f"'{shape}' is no shape of bar; write {', '.join(SHAPES)}")
    return tuple(s for s in _ALL if s.shape in (shape or s.shape) and s.unit is (unit or s.unit))


def sections_for(width: float, height: float, unit: Unit | None = None) -> list[Section]:
    """Flats and squares that a rectangle can be cut from [mm], least waste first.

    >>> sections_for(19, 11, Unit.MM)[0].label
    '20 x 12'
    """
    wide, high = max(width, height), min(width, height)
    fit = [
        s
        for s in (*sections("flat", unit), *sections("square", unit))
        if s.width >= wide - 1e-6 and s.height >= high - 1e-6
    ]
    return sorted(fit, key=lambda s: s.width * s.height)


def _figure(mm: float, unit: Unit) -> str:
    if unit is Unit.MM:
        return f"{mm:g}"
    whole, part = divmod(Fraction(mm / INCH).limit_denominator(64), 1)
    return "-".join(str(piece) for piece in (whole, part) if piece)


def _inches(text: str) -> float:
    return round(float(Fraction(text)) * INCH, 6)


def _build() -> tuple[Section, ...]:
    metric = (("round", _MM_ROUNDS), ("square", _MM_SQUARES), ("hexagon", _MM_HEXAGONS))
    inch = (("round", _INCH_ROUNDS), ("square", _INCH_SQUARES), ("hexagon", _INCH_HEXAGONS))
    return (
        *(Section(shape, mm, mm, Unit.MM) for shape, sizes in metric for mm in sizes),
        *(Section("flat", w, t, Unit.MM) for t, widths in _MM_FLATS.items() for w in widths),
        *(Section(s, _inches(i), _inches(i), Unit.INCH) for s, sizes in inch for i in sizes),
        *(
            Section("flat", _inches(w), _inches(t), Unit.INCH)
            for t, widths in _INCH_FLATS.items()
            for w in widths
        ),
    )


_ALL = _build()


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of bars: all that are sold, or those that hold a size (bar 19 x 11)."""
    asked = re.fullmatch(r"bars?(?:\s+(.+?)(?:\s*[x×]\s*(.+))?)?", word.lower())
    if asked is None:
        return
    if not asked[1]:
        yield Found(f"bars commonly sold [{unit.value}]", tuple(_sold(unit)), SOURCE, MEMORY)
        return
    try:
        width = parse_length(asked[1], unit)
        height = parse_length(asked[2], unit) if asked[2] else width
    except SizeError:
        return
    near = sections_for(width, height)[:5]
    rows = tuple((s.shape, f"{s.label} ({s.unit.value})") for s in near)
    size = show_fraction if unit is Unit.INCH else _mm
    title = f"bars that hold {size(width)} x {size(height)}"
    yield Found(title, rows or (("none", "larger than any listed"),), SOURCE, MEMORY)


def _sold(unit: Unit) -> Iterator[tuple[str, str]]:
    for shape in ("round", "square", "hexagon"):
        yield shape, ", ".join(_figure(s.width, unit) for s in sections(shape, unit))
    flats = sections("flat", unit)
    for thick in sorted({s.height for s in flats}):
        widths = ", ".join(_figure(s.width, unit) for s in flats if s.height == thick)
        yield f"flat, {_figure(thick, unit)} thick", widths


def _mm(mm: float) -> str:
    return show(mm, Unit.MM)
