"""The sizes that spotting drills, countersinks, reamers and boring bars are sold in.

Sources, all from memory: countersinks, DIN 335 form C (90 degrees), DIN 334 (60) and DIN 347 (120);
reamers, DIN 212-1 and ISO 236-1; in inches ASME B94.2, fractions and half thousandths. Countersinks
of other angles and in inches, spotting drills, boring bars: as sold, common practice. Millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping

from barstock.quantities import INCH, Unit

SAME = 1e-6


def _inches(*parts: float) -> tuple[float, ...]:
    return tuple(part * INCH for part in parts)


SPOT_DRILLS: Mapping[Unit, tuple[float, ...]] = {
    Unit.MM: (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20),
    Unit.INCH: _inches(1 / 16, 1 / 8, 3 / 16, 1 / 4, 3 / 8, 1 / 2, 5 / 8, 3 / 4),
}
"""Diameters of spotting drills."""

_DIN_335 = (4.3, 5, 6, 6.3, 7, 8, 8.3, 10, 10.4, 11.5, 12.4, 13.4, 15, 16.5, 19, 20.5, 23, 25, 28,
            30, 31)  # fmt: skip
_DIN_334 = (6.3, 8, 10, 12.5, 16, 20, 25)
_IN_INCHES = _inches(1 / 4, 3 / 8, 1 / 2, 5 / 8, 3 / 4, 7 / 8, 1)

COUNTERSINKS: Mapping[Unit, Mapping[float, tuple[float, ...]]] = {
    Unit.MM: {
        60: _DIN_334,
        75: _DIN_334,
        82: _DIN_335,
        90: _DIN_335,
        100: _DIN_335,
        120: _DIN_334,
    },
    Unit.INCH: dict.fromkeys((60, 82, 90, 100, 120), _IN_INCHES),
}
"""Diameters of countersinks, by their angle."""

_DIN_212 = (1.5, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3, 3.2, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 11, 12,
            13, 14, 15, 16, 17, 18, 19, 20)  # fmt: skip

REAMERS: Mapping[Unit, tuple[float, ...]] = {
    Unit.MM: _DIN_212,
    Unit.INCH: _inches(*(n / 64 for n in range(4, 49))),
}
"""Diameters of reamers: whole and half millimetres, 64ths of an inch."""

FINER_REAMERS: Mapping[Unit, tuple[float, ...]] = {
    Unit.MM: tuple(n / 100 for n in range(95, 1206)),
    Unit.INCH: _inches(*(n / 2000 for n in range(80, 1001))),
}
"""Diameters between those: hundredths of a millimetre to 12.05, half thousandths to 1/2 inch."""

BORING_BARS: Mapping[Unit, tuple[float, ...]] = {
    Unit.MM: (6, 8, 10, 12, 16, 20, 25),
    Unit.INCH: _inches(1 / 4, 5 / 16, 3 / 8, 1 / 2, 5 / 8, 3 / 4, 1),
}
"""Diameters of the bars of boring heads."""

BAR_LENGTHS: Mapping[Unit, tuple[float, ...]] = {
    Unit.MM: (20, 25, 32, 40, 50, 63, 80, 100, 125, 150),
    Unit.INCH: _inches(1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6),
}
"""Lengths that they stand out of the head."""

IN_BORE = 0.8  # of a bore's diameter, a bar is no thicker; common practice
SLENDER = 6.0  # times its diameter that a bar stands out at most; common practice


def boring_bar(bore: float, depth: float, unit: Unit) -> tuple[float, float] | None:
    """The diameter and length of the bar sold for a bore so deep; None where none is [mm].

    >>> boring_bar(16.5, 33, Unit.MM), boring_bar(8, 50, Unit.MM)
    ((12, 40), None)
    """
    thick = max((bar for bar in BORING_BARS[unit] if bar <= IN_BORE * bore + SAME), default=0.0)
    long = next((mm for mm in BAR_LENGTHS[unit] if mm >= depth - SAME), None)
    return None if long is None or long > SLENDER * thick + SAME else (thick, long)
