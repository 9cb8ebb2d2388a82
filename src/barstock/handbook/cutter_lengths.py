"""The sizes that cutters are sold in, and the lengths of their flutes; how deep a cutter goes.

Sources, all from memory: end mills and slot drills, preferred diameters of ISO 1641-1 and fractions
of an inch as sold (common practice), flutes of DIN 844, short and long; twist drills, ISO 235 and
DIN 338 jobber, DIN 340 long, DIN 1869 series 1 extra long; reamers, DIN 212; taps, ISO 529. Inch
cutters are taken to be as long as metric ones of that size (common practice). Millimetres.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from typing import Protocol

from barstock.handbook.drills import LETTERS, NUMBERS, fractions
from barstock.quantities import INCH, Unit

SAME = 1e-6
NECK = 0.1  # a shank this much under the cutter's diameter follows it down [mm]; common practice
FOLLOWERS = ("reamer", "tap")  # they follow a hole that is there, shank and all

# Flutes by diameter [mm], each to the next size listed; all from memory.
Flutes = dict[float, float]
END_MILL: Flutes = {2: 7, 3: 8, 4: 11, 5: 13, 6: 13, 8: 19, 10: 22, 12: 26, 16: 32, 20: 38}
"""End mills and slot drills, DIN 844 short."""
SMALL_MILL: Flutes = {1: 3, 1.5: 5}
"""End mills and slot drills under 2 mm to buy, as sold; common practice."""
LONG_MILL: Flutes = {2: 10, 3: 12, 4: 19, 5: 24, 6: 24, 8: 38, 10: 45, 12: 53, 16: 63, 20: 75}
"""Long end mills, DIN 844 long."""
XL_MILL: Flutes = {2: 12, 3: 19, 4: 25, 5: 32, 6: 38, 8: 50, 10: 63, 12: 75, 16: 90, 20: 110}
"""Extra long end mills, as sold; common practice."""
DRILL: Flutes = {
    0.5: 6, 1: 12, 1.5: 18, 2: 24, 2.5: 30, 3: 33, 4: 43, 5: 52, 6: 57, 7: 69, 8: 75, 9: 81,
    10: 87, 11: 94, 12: 101, 13: 101,
}  # fmt: skip
"""Jobber drills, DIN 338."""
LONG_DRILL: Flutes = {
    1: 33, 1.5: 45, 2: 56, 2.5: 62, 3: 66, 4: 78, 5: 87, 6: 91, 8: 109, 10: 121, 12: 134,
}  # fmt: skip
"""Long drills, DIN 340."""
XL_DRILL: Flutes = {3: 100, 4: 115, 5: 130, 6: 135, 8: 165, 10: 185, 12: 205}
"""Extra long drills, DIN 1869 series 1."""
REAMER: Flutes = {1.5: 8, 2: 11, 3: 15, 4: 19, 5: 23, 6: 26, 8: 33, 10: 38, 12: 44, 16: 52, 20: 60}
"""Reamers, DIN 212."""
TAP: Flutes = {1.5: 7, 2: 8, 2.5: 9, 3: 11, 4: 13, 5: 16, 6: 19, 8: 22, 10: 24, 12: 29}
"""Taps, the length of their thread, ISO 529."""

MILLS = {
    Unit.MM: (1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20),
    Unit.INCH: tuple(
        n * INCH / 64 for n in (4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 28, 32, 36, 40, 44, 48)
    ),
}
"""Diameters of end mills and slot drills: preferred ones of ISO 1641-1, from memory; 1, 1.5,
4.5 and 5.5 mm and those of an inch as sold, common practice."""


def drills_sold(unit: Unit) -> tuple[float, ...]:
    """The diameters of drills: tenths of a millimetre to 13, then halves to 16 (ISO 235, from
    memory); of an inch the numbers, letters and 64ths to 1/2 (ASME B94.11M).

    >>> 3.4 in drills_sold(Unit.MM), 10.25 in drills_sold(Unit.MM)
    (True, False)
    """
    if unit is Unit.MM:
        tenths = [n / 10 for n in range(5, 131)]
        return (*tenths, *(13 + n / 2 for n in range(1, 7)))
    wide = INCH / 2 + SAME
    sizes = (*NUMBERS.values(), *LETTERS.values(), *fractions().values())
    return tuple(sorted({mm for mm in sizes if mm <= wide}))


def usual_flute(lengths: Mapping[float, float], size: float) -> float:
    """The flutes of the largest size listed that is not above one, or of the least [mm].

    >>> usual_flute(DRILL, 4.5), usual_flute(LONG_MILL, 1.0)
    (43.0, 10.0)
    """
    sizes = list(lengths)
    return float(lengths[sizes[max(bisect_right(sizes, size + SAME) - 1, 0)]])


def mill_flute(size: float, depth: float) -> float | None:
    """The shortest flutes of an end mill as sold that go so deep; None where none does [mm].

    >>> mill_flute(6, 10), mill_flute(6, 20), mill_flute(1.5875, 15)
    (13.0, 24.0, None)
    """
    small = size < min(END_MILL) - SAME
    return _shortest((SMALL_MILL,) if small else (END_MILL, LONG_MILL, XL_MILL), size, depth)


def drill_flute(size: float, depth: float) -> float | None:
    """The shortest flutes of a drill as sold that go so deep; None where none does [mm].

    >>> drill_flute(4, 40), drill_flute(4, 60), drill_flute(4, 100), drill_flute(4, 190)
    (43.0, 78.0, 115.0, None)
    """
    return _shortest((DRILL, LONG_DRILL, XL_DRILL), size, depth)


def _shortest(series: tuple[Mapping[float, float], ...], size: float, depth: float) -> float | None:
    flutes = (
        usual_flute(lengths, size)
        for lengths in series
        if lengths is series[0] or min(lengths) <= size + SAME
    )
    return next((flute for flute in flutes if flute >= depth - SAME), None)


class Cutting(Protocol):
    """A tool as far as its depth depends on it: kind, sizes in mm."""

    @property
    def kind(self) -> str: ...

    @property
    def diameter(self) -> float: ...

    @property
    def flute(self) -> float: ...

    @property
    def reach(self) -> float: ...

    @property
    def shank(self) -> float: ...


def deepest(tool: Cutting) -> float:
    """How deep a tool cuts: as its flutes, or as it sticks out where its shank follows it [mm]."""
    relieved = 0 < tool.shank < tool.diameter - NECK
    follows = relieved or tool.kind in FOLLOWERS
    return max(tool.flute, tool.reach) if follows else tool.flute
