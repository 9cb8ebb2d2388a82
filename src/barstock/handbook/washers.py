"""Flat washers.

Sources: ISO 7089:2000 (normal series), mm; the narrow series that the trade calls SAE, inches
(ASME B18.21.1 type A, narrow). Copied from tables printed by a hardware guide and a stockist; the
sizes under M3 from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import Unit

NAME = "flat washers"
SOURCE = "ISO 7089:2000; inches ASME B18.21.1 type A, narrow"

_COLUMNS = ("inside", "outside", "thickness")

METRIC = SizedTable(
    "flat washer",
    ("washer", "flat washer"),
    _COLUMNS,
    {
        "M1.6": (1.7, 4.0, 0.3), "M2": (2.2, 5.0, 0.3), "M2.5": (2.7, 6.0, 0.5),
        "M3": (3.2, 7.0, 0.5), "M4": (4.3, 9.0, 0.8), "M5": (5.3, 10.0, 1.0),
        "M6": (6.4, 12.0, 1.6), "M8": (8.4, 16.0, 1.6), "M10": (10.5, 20.0, 2.0),
        "M12": (13.0, 24.0, 2.5), "M14": (15.0, 28.0, 2.5), "M16": (17.0, 30.0, 3.0),
        "M20": (21.0, 37.0, 3.0), "M24": (25.0, 44.0, 4.0),
    },
    "ISO 7089:2000",
)  # fmt: skip

INCH = SizedTable(
    "flat washer",
    ("washer", "flat washer"),
    _COLUMNS,
    {
        "2": (3 / 32, 1 / 4, 0.020), "4": (1 / 8, 5 / 16, 0.032), "6": (5 / 32, 3 / 8, 0.049),
        "8": (3 / 16, 7 / 16, 0.049), "10": (7 / 32, 1 / 2, 0.049), "12": (1 / 4, 9 / 16, 0.065),
        "1/4": (9 / 32, 5 / 8, 0.065), "5/16": (11 / 32, 11 / 16, 0.065),
        "3/8": (13 / 32, 13 / 16, 0.065), "7/16": (15 / 32, 15 / 16, 0.065),
        "1/2": (17 / 32, 17 / 16, 0.095), "5/8": (21 / 32, 21 / 16, 0.095),
        "3/4": (13 / 16, 47 / 32, 0.134),
    },
    "ASME B18.21.1 type A, narrow",
    unit=Unit.INCH,
    memory=False,
)  # fmt: skip


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a washer: washer M4, washer 1/4."""
    yield from ask((METRIC, INCH), word, unit)
