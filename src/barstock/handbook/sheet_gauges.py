"""Gauge numbers of sheet and of tube walls.

Sources: the law of the American wire gauge (brass, copper and aluminium sheet: .005 inch x
92^((36-n)/39), ASTM B258); manufacturers' standard gauge of uncoated steel sheet (41.82 lb a square
foot to the inch); Birmingham wire gauge (tube walls), copied from an engineering site; the standard
wire gauge of BS 3737 (British sheet and tube) is in `spring_wire`. Inches.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.handbook.answer import Found, NotHeldError
from barstock.handbook.spring_wire import SWG
from barstock.quantities import INCH, Unit, show

NAME = "sheet and tube gauges"
SOURCE = "BS 3737:1964 (SWG), Birmingham wire gauge, ASTM B258 (AWG), manufacturers' standard gauge"

# Birmingham wire gauge, thousandths of an inch, No 1 first
_BWG = (300, 284, 259, 238, 220, 203, 180, 165, 148, 134, 120, 109, 95, 83, 72, 65, 58, 49, 42, 35,
        32, 28, 25, 22, 20, 18, 16, 14, 13, 12)  # fmt: skip

BWG = {number: thou / 1000 for number, thou in enumerate(_BWG, 1)}
"""Birmingham wire gauge [inch]."""

# manufacturers' standard gauge, ten-thousandths of an inch, No 3 first
_STEEL = (2391, 2242, 2092, 1943, 1793, 1644, 1495, 1345, 1196, 1046, 897, 747, 673, 598, 538, 478,
          418, 359, 329, 299, 269, 239, 209, 179, 164, 149, 135, 120)  # fmt: skip

STEEL = {number: ten / 10000 for number, ten in enumerate(_STEEL, 3)}
"""Manufacturers' standard gauge of steel sheet [inch]."""


_KIND = "(sheet|tube|awg|bwg)"


def awg(number: int) -> float:
    """The American wire gauge, by its law [inch].

    >>> round(awg(18), 4), round(awg(36), 4)
    (0.0403, 0.005)
    """
    return float(0.005 * 92 ** ((36 - number) / 39))


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a gauge of sheet or tube: sheet 18, tube 20, 22 AWG, 16 BWG."""
    text = " ".join(word.lower().split())
    asked = re.fullmatch(rf"{_KIND}(?: gauge)? ?(\d{{1,2}})|(\d{{1,2}}) ?(?:gauge )?{_KIND}", text)
    if asked is None:
        yield from _whole(text, unit)
        return
    number, kind = int(asked[2] or asked[3]), asked[1] or asked[4]
    rows = []
    if kind in ("sheet", "tube") and number in SWG:
        rows.append(("SWG, British sheet and tube", show(SWG[number], unit)))
    if kind in ("tube", "bwg") and number in BWG:
        rows.append(("BWG, tube walls", show(BWG[number] * INCH, unit)))
    if kind in ("sheet", "awg") and number <= 40:
        rows.append(
            ("AWG, American sheet of brass, copper, aluminium", show(awg(number) * INCH, unit))
        )
    if kind == "sheet" and number in STEEL:
        rows.append(
            ("manufacturers' standard, American steel sheet", show(STEEL[number] * INCH, unit))
        )
    if not rows:
        raise NotHeldError(f"there is no {kind} gauge {number} here")
    yield Found(f"{kind} gauge {number}" if len(kind) > 3 else f"{number} {kind.upper()}",
                tuple(rows), SOURCE, memory=False)  # fmt: skip


def _whole(text: str, unit: Unit) -> Iterator[Found]:
    """All numbers of sheet gauges, or of tube gauges, No 10 to No 30."""
    kind = text.removesuffix(" gauges").removesuffix(" gauge")
    columns: dict[str, dict[str, dict[int, float]]] = {
        "sheet": {"SWG": SWG, "AWG": {n: awg(n) * INCH for n in range(41)},
                  "American steel": {n: inch * INCH for n, inch in STEEL.items()}},
        "tube": {"SWG": SWG, "BWG": {n: inch * INCH for n, inch in BWG.items()}},
    }  # fmt: skip
    if kind in columns:
        rows = tuple(
            (
                str(number),
                ", ".join(f"{name} {show(of[number], unit)}" for name, of in columns[kind].items()),
            )
            for number in range(10, 31)
        )
        yield Found(f"{kind} gauges", rows, SOURCE, memory=False)
