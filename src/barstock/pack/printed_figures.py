"""How readings and sizes are set in print: the figures large, the words beside them small."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from barstock.quantities import INCH, Unit, show_fraction

_FIGURE = re.compile(r"[+−-]?\d[\d.]*[½¼¾]?|[+−-]?[½¼¾]")
_APART = re.compile(r",\s\s+")
_MINUS = re.compile(r"(?<![\w])-(?=[\d.½])")


@dataclass(frozen=True)
class Run:
    """Text of one size: `big` for figures to be dialled."""

    text: str
    big: bool


def readings(text: str) -> tuple[tuple[Run, ...], ...]:
    """A dialled text as its readings, each as runs of figures and words.

    >>> [[r.text for r in value] for value in readings("-1.50,  +6 turns 17½ div")]
    [['−1.50'], ['+6', 'turns', '17½', 'div']]
    >>> [[r.text for r in value] for value in readings("-1.50 – +2.00")]
    [['−1.50'], ['to', '+2.00']]
    """
    apart = minus(text).replace(" – ", ",  to ")
    return tuple(_runs(part) for part in _APART.split(apart) if part.strip())


def minus(text: str) -> str:
    """The text with a true minus sign before figures."""
    return _MINUS.sub("−", text)


def _runs(text: str) -> tuple[Run, ...]:
    found, start = [], 0
    for figure in _FIGURE.finditer(text):
        found += [Run(text[start : figure.start()].strip(), False), Run(figure[0], True)]
        start = figure.end()
    found.append(Run(text[start:].strip(), False))
    return tuple(run for run in found if run.text)


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
    figures = [_plain(block, places) for block in made]
    if len(figures) == 1:
        return f"{figures[0]} {name}"
    return f"{' + '.join(figures)} = {_plain(sum(made), places)} {name}"


def _plain(value: float, places: int) -> str:
    return f"{value:.{places}f}".rstrip("0").rstrip(".")


def limits(low: float, high: float, unit: Unit, angle: bool = False) -> str:
    """Both limits of a size.

    >>> limits(8, 8.05, Unit.MM), limits(1, 2, Unit.MM, angle=True)
    ('8.00 to 8.05 mm', '1.0° to 2.0°')
    """
    if angle:
        return minus(f"{_alike(low, high, 2, 1, '°')}°")
    if unit is Unit.INCH:
        return minus(f"{_alike(low / INCH, high / INCH, 4, 3)} in")
    return minus(f"{_alike(low, high, 3, 2)} mm")


def _alike(low: float, high: float, most: int, least: int, sign: str = "") -> str:
    """Two figures with the same decimals, as few as tell them exactly."""
    places = max(least, *(len(_plain(v, most).partition(".")[2]) for v in (low, high)))
    first, second = f"{low:.{places}f}", f"{high:.{places}f}"
    return first if first == second else f"{first}{sign} to {second}"


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
    return f"{_plain(round(2 * mm) / 2 if mm >= 1 else mm, 1)} mm"


def hours(minutes: float) -> str:
    """A time as a person says it.

    >>> hours(135), hours(40)
    ('2 h 15 min', '40 min')
    """
    whole, rest = divmod(round(minutes), 60)
    return f"{whole} h {rest:02d} min" if whole else f"{rest} min"
