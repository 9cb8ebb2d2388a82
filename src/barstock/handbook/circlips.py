"""Circlips (retaining rings) and their grooves.

Sources: DIN 471:1981 and DIN 472:1981 table 1 (rings for shafts and for bores), copied from an open
table; DIN 6799:1981 table 1 (rings pushed on from the side), from memory. mm.
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import Unit

NAME = "circlips"
SOURCE = "DIN 471:1981, DIN 472:1981, DIN 6799:1981, table 1 of each"

COLUMNS = ("groove diameter", "groove width", "ring thickness", "groove to the end, at least")

SHAFT = SizedTable(
    "circlip for a shaft of",
    ("circlip", "external circlip", "shaft circlip", "retaining ring", "snap ring"),
    COLUMNS,
    {
        "3 mm": (2.8, 0.5, 0.4, 0.3), "4 mm": (3.8, 0.5, 0.4, 0.3), "5 mm": (4.8, 0.7, 0.6, 0.3),
        "6 mm": (5.7, 0.8, 0.7, 0.5), "7 mm": (6.7, 0.9, 0.8, 0.5), "8 mm": (7.6, 0.9, 0.8, 0.6),
        "9 mm": (8.6, 1.1, 1.0, 0.6), "10 mm": (9.6, 1.1, 1.0, 0.6), "11 mm": (10.5, 1.1, 1.0, 0.8),
        "12 mm": (11.5, 1.1, 1.0, 0.8), "13 mm": (12.4, 1.1, 1.0, 0.9),
        "14 mm": (13.4, 1.1, 1.0, 0.9), "15 mm": (14.3, 1.1, 1.0, 1.1),
        "16 mm": (15.2, 1.1, 1.0, 1.2), "17 mm": (16.2, 1.1, 1.0, 1.2),
        "18 mm": (17.0, 1.3, 1.2, 1.5), "19 mm": (18.0, 1.3, 1.2, 1.5),
        "20 mm": (19.0, 1.3, 1.2, 1.5), "22 mm": (21.0, 1.3, 1.2, 1.5),
        "24 mm": (22.9, 1.3, 1.2, 1.7), "25 mm": (23.9, 1.3, 1.2, 1.7),
        "28 mm": (26.6, 1.6, 1.5, 2.1), "30 mm": (28.6, 1.6, 1.5, 2.1),
        "32 mm": (30.3, 1.6, 1.5, 2.6), "35 mm": (33.0, 1.6, 1.5, 3.0),
        "40 mm": (37.5, 1.85, 1.75, 3.8), "45 mm": (42.5, 1.85, 1.75, 3.8),
        "50 mm": (47.0, 2.15, 2.0, 4.5),
    },
    "DIN 471:1981 table 1",
    memory=False,
    notes=(("limits of the groove", "diameter h10 to 8, h11 to 22, h12 above; width H13"),),
)  # fmt: skip

BORE = SizedTable(
    "circlip for a bore of",
    ("circlip", "internal circlip", "bore circlip", "retaining ring", "snap ring"),
    COLUMNS,
    {
        "8 mm": (8.4, 0.9, 0.8, 0.6), "9 mm": (9.4, 0.9, 0.8, 0.6), "10 mm": (10.4, 1.1, 1.0, 0.6),
        "11 mm": (11.4, 1.1, 1.0, 0.6), "12 mm": (12.5, 1.1, 1.0, 0.8),
        "13 mm": (13.6, 1.1, 1.0, 0.9), "14 mm": (14.6, 1.1, 1.0, 0.9),
        "15 mm": (15.7, 1.1, 1.0, 1.1), "16 mm": (16.8, 1.1, 1.0, 1.2),
        "17 mm": (17.8, 1.1, 1.0, 1.2), "18 mm": (19.0, 1.1, 1.0, 1.5),
        "19 mm": (20.0, 1.1, 1.0, 1.5), "20 mm": (21.0, 1.1, 1.0, 1.5),
        "22 mm": (23.0, 1.1, 1.0, 1.5), "24 mm": (25.2, 1.3, 1.2, 1.8),
        "25 mm": (26.2, 1.3, 1.2, 1.8), "26 mm": (27.2, 1.3, 1.2, 1.8),
        "28 mm": (29.4, 1.3, 1.2, 2.1), "30 mm": (31.4, 1.3, 1.2, 2.1),
        "32 mm": (33.7, 1.3, 1.2, 2.6), "35 mm": (37.0, 1.6, 1.5, 3.0),
        "40 mm": (42.5, 1.85, 1.75, 3.8), "42 mm": (44.5, 1.85, 1.75, 3.8),
        "47 mm": (49.5, 1.85, 1.75, 3.8), "52 mm": (55.0, 2.15, 2.0, 4.5),
    },
    "DIN 472:1981 table 1",
    memory=False,
    notes=(("limits of the groove", "diameter H11 to 22, H12 above; width H13"),),
)  # fmt: skip

PUSHED = SizedTable(
    "e-clip on a groove of",
    ("e-clip", "e clip", "eclip"),
    ("shafts from", "to", "groove width"),
    {
        "0.8 mm": (1.0, 1.4, 0.24), "1.2 mm": (1.4, 2.0, 0.34), "1.5 mm": (2.0, 2.5, 0.44),
        "1.9 mm": (2.5, 3.0, 0.54), "2.3 mm": (3.0, 4.0, 0.64), "3.2 mm": (4.0, 5.0, 0.64),
        "4 mm": (5.0, 7.0, 0.74), "5 mm": (6.0, 8.0, 0.74), "6 mm": (7.0, 9.0, 0.74),
        "7 mm": (8.0, 11.0, 0.94), "8 mm": (9.0, 12.0, 1.05), "9 mm": (10.0, 14.0, 1.15),
        "10 mm": (11.0, 15.0, 1.25), "12 mm": (13.0, 18.0, 1.35), "15 mm": (16.0, 24.0, 1.55),
    },
    "DIN 6799:1981 table 1",
)  # fmt: skip


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a circlip: circlip 10, internal circlip 22, e-clip 4."""
    yield from ask((SHAFT, BORE, PUSHED), word, unit)
