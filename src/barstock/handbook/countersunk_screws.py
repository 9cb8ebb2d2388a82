"""Countersunk screws: their heads, and how wide to countersink.

Sources: ISO 10642:2004 table 1 (socket, theoretical sharp head), ISO 7721:1983 with ISO 2009
(slotted and cross recessed), mm, both 90 degrees; ASME B18.6.3-2013 (flat head, 82 degrees, sharp),
inches. Typed from memory, checked in tests against tables printed elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import Unit

NAME = "countersunk screws"
SOURCE = "ISO 10642:2004 table 1, ISO 7721:1983 with ISO 2009:2011, ASME B18.6.3-2013"

WORDS = ("countersunk", "countersunk screw", "countersink", "csk", "flat head", "flat head screw")
SINK = ("countersink", "to the sharp diameter and a little more: the head must not stand proud")

SOCKET = SizedTable(
    "countersunk socket screw",
    WORDS,
    ("head diameter, sharp", "head height", "hexagon key", "angle"),
    {
        "M3": (6.72, 1.86, 2.0, "90°"), "M4": (8.96, 2.48, 2.5, "90°"),
        "M5": (11.2, 3.1, 3.0, "90°"), "M6": (13.44, 3.72, 4.0, "90°"),
        "M8": (17.92, 4.96, 5.0, "90°"), "M10": (22.4, 6.2, 6.0, "90°"),
        "M12": (26.88, 7.44, 8.0, "90°"), "M16": (33.6, 8.8, 10.0, "90°"),
        "M20": (40.32, 10.16, 12.0, "90°"),
    },
    "ISO 10642:2004 table 1",
    notes=(SINK,),
)  # fmt: skip

SLOTTED = SizedTable(
    "slotted or cross recessed countersunk screw",
    WORDS,
    ("head diameter, sharp", "head diameter, most", "head height", "angle"),
    {
        "M1.6": (3.6, 3.0, 1.0, "90°"), "M2": (4.4, 3.8, 1.2, "90°"),
        "M2.5": (5.5, 4.7, 1.5, "90°"), "M3": (6.3, 5.5, 1.65, "90°"),
        "M3.5": (8.2, 7.3, 2.35, "90°"), "M4": (9.4, 8.4, 2.7, "90°"),
        "M5": (10.4, 9.3, 2.7, "90°"), "M6": (12.6, 11.3, 3.3, "90°"),
        "M8": (17.3, 15.8, 4.65, "90°"), "M10": (20.0, 18.3, 5.0, "90°"),
    },
    "ISO 7721:1983, ISO 2009:2011",
    notes=(SINK,),
)  # fmt: skip

INCH = SizedTable(
    "flat head machine screw",
    WORDS,
    ("head diameter, sharp", "head height", "angle"),
    {
        "0": (0.119, 0.035, "82°"), "1": (0.146, 0.043, "82°"), "2": (0.172, 0.051, "82°"),
        "3": (0.199, 0.059, "82°"), "4": (0.225, 0.067, "82°"), "5": (0.252, 0.075, "82°"),
        "6": (0.279, 0.083, "82°"), "8": (0.332, 0.100, "82°"), "10": (0.385, 0.116, "82°"),
        "12": (0.438, 0.132, "82°"), "1/4": (0.507, 0.153, "82°"), "5/16": (0.635, 0.191, "82°"),
        "3/8": (0.762, 0.230, "82°"),
    },
    "ASME B18.6.3-2013",
    unit=Unit.INCH,
    notes=(SINK,),
)  # fmt: skip


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a countersunk screw: countersunk M4, csk 6."""
    yield from ask((SOCKET, SLOTTED, INCH), word, unit)
