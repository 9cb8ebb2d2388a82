"""How readings and sizes are set in print: the figures large, the words beside them small."""

from __future__ import annotations

import re

from barstock.quantities import INCH, Unit, show_fraction
from barstock.words.lines import Run
from barstock.words.size_figures import minus, plain

_FIGURE = re.compile(r"[+−-]?\d[\d.]*[½¼¾]?|[+−-]?[½¼¾]")
_APART = re.compile(r",\s\s+")


def readings(text: str) -> tuple[tuple[Run, ...], ...]:
    """A dialled text as its readings, each as runs of figures and words.

    >>> [[r.text for r in value] for value in readings("-1.50,  +6 turns 17½ div")]
    [['−1.50'], ['+6', 'turns', '17½', 'div']]
    >>> [[r.text for r in value] for value in readings("-1.50 – +2.00")]
    [['−1.50'], ['to', '+2.00']]
    """
    apart = minus(text).replace(" – ", ",  to ")
    return tuple(_runs(part) for part in _APART.split(apart) if part.strip())


def _runs(text: str) -> tuple[Run, ...]:
    found, start = [], 0
    for figure in _FIGURE.finditer(text):
        found += [Run(text[start : figure.start()].strip(), False), Run(figure[0], True)]
        start = figure.end()
    found.append(Run(text[start:].strip(), False))
    return tuple(run for run in found if run.text)


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


def hours(minutes: float) -> str:
    """A time as a person says it.

    >>> hours(135), hours(40)
    ('2 h 15 min', '40 min')
    """
    whole, rest = divmod(round(minutes), 60)
    return f"{whole} h {rest:02d} min" if whole else f"{rest} min"
