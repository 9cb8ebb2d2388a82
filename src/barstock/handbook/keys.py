"""Parallel keys and their keyways, by the shaft.

Sources: DIN 6885-1:1968 table 1 (the same as ISO 773 and BS 4235-1), mm, and ASME B17.1-1967 table
1 (square keys), inches, both copied from tables printed elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask, by_range
from barstock.quantities import Unit

NAME = "parallel keys"
SOURCE = "DIN 6885-1:1968 table 1, BS 4235-1; inches ASME B17.1-1967 table 1"

WORDS = ("key", "keyway", "parallel key", "keyseat")
COLUMNS = ("key width", "key height", "keyway in the shaft", "keyway in the hub")

METRIC = SizedTable(
    "key for a shaft",
    WORDS,
    COLUMNS,
    {
        "over 6 to 8 mm": (2.0, 2.0, 1.2, 1.0), "over 8 to 10 mm": (3.0, 3.0, 1.8, 1.4),
        "over 10 to 12 mm": (4.0, 4.0, 2.5, 1.8), "over 12 to 17 mm": (5.0, 5.0, 3.0, 2.3),
        "over 17 to 22 mm": (6.0, 6.0, 3.5, 2.8), "over 22 to 30 mm": (8.0, 7.0, 4.0, 3.3),
        "over 30 to 38 mm": (10.0, 8.0, 5.0, 3.3), "over 38 to 44 mm": (12.0, 8.0, 5.0, 3.3),
        "over 44 to 50 mm": (14.0, 9.0, 5.5, 3.8), "over 50 to 58 mm": (16.0, 10.0, 6.0, 4.3),
    },
    "DIN 6885-1:1968 table 1, BS 4235-1",
    memory=False,
    notes=(
        ("limits of the width", "shaft P9 tight, N9 free; hub P9 tight, JS9 free; key h9"),
        ("depths", "in the shaft from its top, in the hub from the bore; + 0.1 to 0.2 mm"),
    ),
    pick=by_range,
)  # fmt: skip

# shaft: the side of a square key [inch]
_SQUARE = {
    "over 5/16 to 7/16 in": 3 / 32, "over 7/16 to 9/16 in": 1 / 8, "over 9/16 to 7/8 in": 3 / 16,
    "over 7/8 to 1-1/4 in": 1 / 4, "over 1-1/4 to 1-3/8 in": 5 / 16,
    "over 1-3/8 to 1-3/4 in": 3 / 8, "over 1-3/4 to 2-1/4 in": 1 / 2,
}  # fmt: skip

INCH = SizedTable(
    "square key for a shaft",
    WORDS,
    COLUMNS,
    {shaft: (side, side, side / 2, side / 2) for shaft, side in _SQUARE.items()},
    "ASME B17.1-1967 table 1",
    memory=False,
    unit=Unit.INCH,
    notes=(("depths", "at the side of the key, half of it in each"),),
    pick=by_range,
)


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of the key for a shaft: key 12, keyway 5/8."""
    yield from ask((METRIC, INCH), word, unit)
