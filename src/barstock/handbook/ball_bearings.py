"""Ball bearings by their number: bore, outside, width.

Sources: ISO 15:2017 (mm: series 10, 02, 03 and miniature ones), inch series R of ABMA 12.2. Series
60 and 62 copied from a bearing chart; the others typed from memory, checked in tests against tables
printed elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable
from barstock.quantities import INCH, Unit

NAME = "ball bearings"
SOURCE = "ISO 15:2017; R series ABMA 12.2"

# number: bore, outside, width [mm]
METRIC = {
    "681": (1.0, 3.0, 1.0), "682": (2.0, 5.0, 1.5), "683": (3.0, 7.0, 2.0), "684": (4.0, 9.0, 2.5),
    "685": (5.0, 11.0, 3.0), "686": (6.0, 13.0, 3.5), "687": (7.0, 14.0, 3.5),
    "688": (8.0, 16.0, 4.0), "689": (9.0, 17.0, 4.0), "693": (3.0, 8.0, 3.0),
    "694": (4.0, 11.0, 4.0), "695": (5.0, 13.0, 4.0), "696": (6.0, 15.0, 5.0),
    "697": (7.0, 17.0, 5.0), "698": (8.0, 19.0, 6.0), "699": (9.0, 20.0, 6.0),
    "603": (3.0, 9.0, 5.0), "604": (4.0, 12.0, 4.0), "605": (5.0, 14.0, 5.0),
    "606": (6.0, 17.0, 6.0), "607": (7.0, 19.0, 6.0), "608": (8.0, 22.0, 7.0),
    "609": (9.0, 24.0, 7.0), "623": (3.0, 10.0, 4.0), "624": (4.0, 13.0, 5.0),
    "625": (5.0, 16.0, 5.0), "626": (6.0, 19.0, 6.0), "627": (7.0, 22.0, 7.0),
    "628": (8.0, 24.0, 8.0), "629": (9.0, 26.0, 8.0), "635": (5.0, 19.0, 6.0),
    "MR63": (3.0, 6.0, 2.0), "MR74": (4.0, 7.0, 2.0), "MR84": (4.0, 8.0, 2.0),
    "MR85": (5.0, 8.0, 2.0), "MR105": (5.0, 10.0, 3.0), "MR106": (6.0, 10.0, 2.5),
    "MR115": (5.0, 11.0, 4.0), "MR126": (6.0, 12.0, 3.0), "6800": (10.0, 19.0, 5.0),
    "6801": (12.0, 21.0, 5.0), "6802": (15.0, 24.0, 5.0), "6803": (17.0, 26.0, 5.0),
    "6804": (20.0, 32.0, 7.0), "6805": (25.0, 37.0, 7.0), "6900": (10.0, 22.0, 6.0),
    "6901": (12.0, 24.0, 6.0), "6902": (15.0, 28.0, 7.0), "6903": (17.0, 30.0, 7.0),
    "6904": (20.0, 37.0, 9.0), "6000": (10.0, 26.0, 8.0), "6001": (12.0, 28.0, 8.0),
    "6002": (15.0, 32.0, 9.0), "6003": (17.0, 35.0, 10.0), "6004": (20.0, 42.0, 12.0),
    "6005": (25.0, 47.0, 12.0), "6006": (30.0, 55.0, 13.0), "6007": (35.0, 62.0, 14.0),
    "6008": (40.0, 68.0, 15.0), "6200": (10.0, 30.0, 9.0), "6201": (12.0, 32.0, 10.0),
    "6202": (15.0, 35.0, 11.0), "6203": (17.0, 40.0, 12.0), "6204": (20.0, 47.0, 14.0),
    "6205": (25.0, 52.0, 15.0), "6206": (30.0, 62.0, 16.0), "6207": (35.0, 72.0, 17.0),
    "6208": (40.0, 80.0, 18.0), "6300": (10.0, 35.0, 11.0), "6301": (12.0, 37.0, 12.0),
    "6302": (15.0, 42.0, 13.0), "6303": (17.0, 47.0, 14.0), "6304": (20.0, 52.0, 15.0),
    "6305": (25.0, 62.0, 17.0),
}  # fmt: skip

# number: bore, outside, width (open) [inch]
INCHES = {
    "R2": (1 / 8, 3 / 8, 5 / 32), "R3": (3 / 16, 1 / 2, 5 / 32), "R4": (1 / 4, 5 / 8, 0.196),
    "R6": (3 / 8, 7 / 8, 7 / 32), "R8": (1 / 2, 9 / 8, 1 / 4), "R10": (5 / 8, 11 / 8, 9 / 32),
    "R12": (3 / 4, 13 / 8, 5 / 16),
}  # fmt: skip

TABLE = SizedTable(
    "ball bearing",
    ("bearing", "ball bearing"),
    ("bore", "outside", "width"),
    METRIC | {name: tuple(round(x * INCH, 4) for x in row) for name, row in INCHES.items()},
    SOURCE,
    notes=(("seats", "shaft turning: j5 or k5, housing H7; housing turning: shaft g6 or h6, "
            "housing N7 or P7 (common practice)"),
           ("shields and seals", "ZZ, 2Z, 2RS: the same bore and outside; R2 to R4 are wider")),
)  # fmt: skip


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a ball bearing: 608, bearing 6202-2RS, MR105."""
    bare = re.sub(r"[-\s]?(?:zz|2?z|2?rs\d?)$", "", word.strip().lower())
    known = {name.lower() for name in TABLE.rows}
    alone = bare in known and bare != "r8"  # R8 alone is the taper
    yield from TABLE.find(f"bearing {bare}" if alone else bare, unit)
