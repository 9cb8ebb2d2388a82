"""How limits and laid-up blocks are printed: with as few figures as tell them exactly."""

from __future__ import annotations

import re
from collections.abc import Sequence

from barstock.quantities import INCH, Unit, inside

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
    """Blocks, parallels or a gauge laid together [mm], in whichever unit they were made to.

    >>> stack((1.005, 7.0), Unit.INCH)
    '1.005 + 7 = 8.005 mm'
    >>> stack((25.4, 3.175), Unit.MM)
    '25.4 + 3.175 = 28.575 mm'
    >>> stack((25.4, 3.175), Unit.INCH)
    '1 + 0.125 = 1.125 in'
    """
    inches = [block / INCH for block in blocks]
    in_inches = unit is Unit.INCH and all(abs(b * 1e4 - round(b * 1e4)) < 1e-6 for b in inches)
    made, name, places = (inches, "in", 4) if in_inches else (blocks, "mm", 3)
    figures = [plain(block, places) for block in made]
    if len(figures) == 1:
        return f"{figures[0]} {name}"
    return f"{' + '.join(figures)} = {plain(sum(made), places)} {name}"


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
