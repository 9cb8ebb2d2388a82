"""Prints limits and laid-up blocks with as few figures as tell them exactly."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barstock.quantities import INCH, Unit, inside, show_fraction

_MINUS = re.compile(r"(?<![\w])-(?=[\d.½])")


def minus(text: str) -> str:
    """The text with a true minus sign before figures."""
    return _MINUS.sub("−", text)


def plain(value: float, places: int) -> str:
    """A figure without noughts at its end.

    >>> plain(7.0, 3)
    '7'
    """
    return f"{value:.{places}f}".rstrip("0").rstrip(".")


def stack(blocks: Sequence[float], unit: Unit) -> str:
    """The words for blocks, parallels or a gauge laid together [mm], in whichever unit they were
    made to.

    >>> stack((1.005, 7.0), Unit.INCH)
    '1.005 + 7 = 8.005 mm'
    >>> stack((25.4, 3.175), Unit.MM)
    '25.4 + 3.175 = 28.575 mm'
    >>> stack((25.4, 3.175), Unit.INCH)
    '1 + 0.125 = 1.125 in'
    """
    figures, whole, sign = laid(blocks, unit)
    return f"{whole} {sign}" if len(figures) == 1 else f"{' + '.join(figures)} = {whole} {sign}"


def laid(blocks: Sequence[float], unit: Unit) -> tuple[list[str], str, str]:
    """The figures of blocks laid together, of the whole, and the unit they were made to."""
    tenths = [block / INCH * 1e4 for block in blocks]
    in_inches = unit is Unit.INCH and all(abs(t - round(t)) < 1e-6 for t in tenths)
    made_to, places = (Unit.INCH, 4) if in_inches else (Unit.MM, 3)
    figures = [plain(block / made_to.scale, places) for block in blocks]
    return figures, plain(sum(blocks) / made_to.scale, places), made_to.sign


def settable(mm: float, unit: Unit) -> str:
    """A grip, a height or an opening as a person sets it by eye and rule.

    To half a millimetre, to a 64th or a hundredth of an inch; finer under a millimetre.

    >>> settable(7.0002, Unit.MM), settable(7.3, Unit.MM), settable(0.62, Unit.MM)
    ('7 mm', '7.5 mm', '0.6 mm')
    >>> settable(7.0002, Unit.INCH), settable(9.525, Unit.INCH), settable(0.1, Unit.INCH)
    ('0.28 in', '3/8 in', '0.004 in')
    """
    if unit is Unit.INCH:
        exact = show_fraction(mm)
        return exact if "." not in exact else f"{mm / INCH:.{2 if mm >= 1 else 3}f} in"
    return f"{plain(round(2 * mm) / 2 if mm >= 1 else mm, 1)} mm"


def limits(low: float, high: float, unit: Unit, angle: bool = False) -> str:
    """Both limits of a size, rounded inward where they are finer than what is printed.

    >>> limits(8, 8.05, Unit.MM), limits(1, 2, Unit.MM, angle=True)
    ('8.00 to 8.05 mm', '1.0° to 2.0°')
    >>> limits(7.9955, 8.0045, Unit.MM), limits(7.9955, 8.0045, Unit.INCH)
    ('7.9955 to 8.0045 mm', '0.3148 to 0.3151 in')
    """
    if angle:
        first, last = inside(low, high, 2, 1)
        sign, between = "°", "° to "
    else:
        most, least = (4, 3) if unit is Unit.INCH else (3, 2)
        first, last = inside(low / unit.scale, high / unit.scale, most, least)
        sign, between = f" {unit.sign}", " to "
    return minus((first if first == last else f"{first}{between}{last}") + sign)
