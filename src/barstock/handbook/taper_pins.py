"""Taper pins, and the holes drilled for them.

Sources: ISO 2339:1986 table 1 (mm, 1 in 50, named by the small end); ASME B18.8.2 (inches, 1/4 inch
to the foot, numbered by the large end; from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import Unit

NAME = "taper pins"
SOURCE = "ISO 2339:1986 table 1; inches ASME B18.8.2"

WORDS = ("taper pin", "tapered pin", "taper pin no")

METRIC = SizedTable(
    "taper pin",
    WORDS,
    ("small end, and drill", "taper", "limits of the small end"),
    {f"{size:g} mm": (size, "1 in 50 on the diameter", "h10")
     for size in (0.6, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0)},
    "ISO 2339:1986 table 1",
    memory=False,
    notes=(("large end", "the small end and the length over 50"),),
)  # fmt: skip

INCH = SizedTable(
    "taper pin No",
    WORDS,
    ("large end", "taper"),
    {size: (large, "1 in 48 on the diameter") for size, large in {
        "7/0": 0.0625, "6/0": 0.078, "5/0": 0.094, "4/0": 0.109, "3/0": 0.125, "2/0": 0.141,
        "0": 0.156, "1": 0.172, "2": 0.193, "3": 0.219, "4": 0.250, "5": 0.289, "6": 0.341,
        "7": 0.409, "8": 0.492}.items()},
    "ASME B18.8.2",
    unit=Unit.INCH,
    notes=(("small end, and drill", "the large end less the length over 48"),),
)  # fmt: skip


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a taper pin: taper pin 3, taper pin No 4/0."""
    yield from ask((METRIC, INCH), word, unit)
