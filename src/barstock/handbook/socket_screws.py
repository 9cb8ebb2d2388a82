"""Socket head cap screws and the counterbores that sink their heads.

Sources: ISO 4762:2004 table 1 (heads, keys), DIN 974-1:2008 row 1 (counterbores, depth with the
standard's addition for tolerances), mm; ASME B18.3-2012 table 1 (heads, keys) and, for the
counterbores, the 1960 series of Machinery's Handbook, inches. Typed from memory, checked in tests
against tables printed elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import Unit

NAME = "socket head screws and counterbores"
SOURCE = "ISO 4762:2004 table 1; counterbores DIN 974-1:2008 row 1"
INCH_SOURCE = "ASME B18.3-2012 table 1; counterbores Machinery's Handbook, 1960 series"

WORDS = ("socket screw", "socket head screw", "cap screw", "cap head", "screw head", "head",
         "counterbore", "allen screw", "hexagon socket screw", "hexagon key")  # fmt: skip
COLUMNS = ("head diameter", "head height", "hexagon key", "counterbore", "counterbore depth")

METRIC = SizedTable(
    "socket head screw",
    WORDS,
    COLUMNS,
    {
        "M1.6": (3.0, 1.6, 1.5, 3.5, 1.9), "M2": (3.8, 2.0, 1.5, 4.4, 2.3),
        "M2.5": (4.5, 2.5, 2.0, 5.5, 2.9), "M3": (5.5, 3.0, 2.5, 6.5, 3.4),
        "M4": (7.0, 4.0, 3.0, 8.0, 4.4), "M5": (8.5, 5.0, 4.0, 10.0, 5.4),
        "M6": (10.0, 6.0, 5.0, 11.0, 6.4), "M8": (13.0, 8.0, 6.0, 15.0, 8.6),
        "M10": (16.0, 10.0, 8.0, 18.0, 10.6), "M12": (18.0, 12.0, 10.0, 20.0, 12.6),
        "M14": (21.0, 14.0, 12.0, 24.0, 14.6), "M16": (24.0, 16.0, 14.0, 26.0, 16.6),
        "M20": (30.0, 20.0, 17.0, 33.0, 20.6), "M24": (36.0, 24.0, 19.0, 40.0, 24.8),
    },
    SOURCE,
)  # fmt: skip

_KEYS = {"0": 0.05, "1": 1 / 16, "2": 5 / 64, "3": 5 / 64, "4": 3 / 32, "5": 3 / 32, "6": 7 / 64,
         "8": 9 / 64, "10": 5 / 32, "1/4": 3 / 16, "5/16": 1 / 4, "3/8": 5 / 16, "7/16": 3 / 8,
         "1/2": 3 / 8, "5/8": 1 / 2, "3/4": 5 / 8}  # fmt: skip

# size: head diameter, head height (as the screw is thick), counterbore [inch]
_HEADS = {
    "0": (0.096, 0.060, 1 / 8), "1": (0.118, 0.073, 5 / 32), "2": (0.140, 0.086, 3 / 16),
    "3": (0.161, 0.099, 7 / 32), "4": (0.183, 0.112, 7 / 32), "5": (0.205, 0.125, 1 / 4),
    "6": (0.226, 0.138, 9 / 32), "8": (0.270, 0.164, 5 / 16), "10": (0.312, 0.190, 3 / 8),
    "1/4": (0.375, 0.250, 7 / 16), "5/16": (0.469, 0.3125, 17 / 32),
    "3/8": (0.562, 0.375, 5 / 8), "7/16": (0.656, 0.4375, 23 / 32),
    "1/2": (0.750, 0.5, 13 / 16), "5/8": (0.938, 0.625, 1.0), "3/4": (1.125, 0.75, 19 / 16),
}  # fmt: skip

INCH = SizedTable(
    "socket head screw",
    WORDS,
    COLUMNS,
    {size: (head, high, _KEYS[size], wide, high) for size, (head, high, wide) in _HEADS.items()},
    INCH_SOURCE,
    unit=Unit.INCH,
)


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a socket head screw: counterbore M4, cap screw 10."""
    yield from ask((METRIC, INCH), word, unit)
