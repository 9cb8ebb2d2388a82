"""Hexagon heads and nuts, and the spanners that fit them.

Sources: ISO 4014:2011 (heads), ISO 4032:2012 (nuts), mm; BS 1083:1965 tables 1 and 2 (BSW, BSF:
greatest width and thicknesses) and ASME B18.2.1, B18.2.2 and B18.6.3 (unified), inches; BS 57:1951
(BA), inches, whose width is 1.75 diameters. The last two typed from memory; all checked in tests
against tables printed elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable, ask
from barstock.quantities import SizeError, Unit, parse_length, show

NAME = "hexagon heads, nuts and spanners"
SOURCE = "ISO 4014:2011, ISO 4032:2012, BS 1083:1965, BS 57:1951, ASME B18.2.1, B18.2.2, B18.6.3"

WORDS = ("nut", "hexagon", "hex", "hexagon head", "hexagon nut", "bolt", "bolt head", "spanner",
         "wrench", "across flats")  # fmt: skip
FLATS = "across flats (spanner)"

METRIC = SizedTable(
    "hexagon head and nut",
    WORDS,
    (FLATS, "across corners, at least", "head height", "nut thickness"),
    {
        "M1.6": (3.2, 3.41, 1.1, 1.3), "M2": (4.0, 4.32, 1.4, 1.6), "M2.5": (5.0, 5.45, 1.7, 2.0),
        "M3": (5.5, 6.01, 2.0, 2.4), "M3.5": (6.0, 6.58, 2.4, 2.8), "M4": (7.0, 7.66, 2.8, 3.2),
        "M5": (8.0, 8.79, 3.5, 4.7), "M6": (10.0, 11.05, 4.0, 5.2), "M8": (13.0, 14.38, 5.3, 6.8),
        "M10": (16.0, 17.77, 6.4, 8.4), "M12": (18.0, 20.03, 7.5, 10.8),
        "M14": (21.0, 23.36, 8.8, 12.8), "M16": (24.0, 26.75, 10.0, 14.8),
        "M20": (30.0, 32.95, 12.5, 18.0), "M24": (36.0, 39.55, 15.0, 21.5),
    },
    "ISO 4014:2011, ISO 4032:2012",
    notes=(("older DIN 931, 934", "M10 17, M12 19, M14 22, M22 32 mm across flats"),),
)  # fmt: skip

BA = SizedTable(
    "BA hexagon head and nut",
    WORDS,
    (FLATS,),
    {
        "0 BA": (0.413,), "1 BA": (0.365,), "2 BA": (0.324,), "3 BA": (0.282,), "4 BA": (0.248,),
        "5 BA": (0.220,), "6 BA": (0.193,), "7 BA": (0.172,), "8 BA": (0.152,), "9 BA": (0.131,),
        "10 BA": (0.117,), "12 BA": (0.090,),
    },
    "BS 57:1951",
    unit=Unit.INCH,
    notes=(("scale work", "often one size smaller: the hexagon of the next even number"),),
)  # fmt: skip

WHITWORTH = SizedTable(
    "BSW and BSF hexagon head and nut",
    WORDS,
    (FLATS, "head height", "nut thickness"),
    {
        "1/4": (0.445, 0.176, 0.200), "5/16": (0.525, 0.218, 0.250), "3/8": (0.600, 0.260, 0.312),
        "7/16": (0.710, 0.302, 0.375), "1/2": (0.820, 0.343, 0.437),
        "9/16": (0.920, 0.375, 0.500), "5/8": (1.010, 0.417, 0.562), "3/4": (1.200, 0.500, 0.687),
        "7/8": (1.300, 0.583, 0.750), "1 in": (1.480, 0.666, 0.875),
    },
    "BS 1083:1965 tables 1 and 2",
    memory=False,
    unit=Unit.INCH,
    notes=(("older BSW", "the hexagon of the next larger size: a 1/4 BSW spanner is 0.525 in"),),
)  # fmt: skip

UNIFIED = SizedTable(
    "UNC and UNF hexagon",
    WORDS,
    ("head " + FLATS, "nut " + FLATS),
    {
        "0": (None, 5 / 32), "1": (1 / 8, 5 / 32), "2": (1 / 8, 3 / 16), "3": (3 / 16, 3 / 16),
        "4": (3 / 16, 1 / 4), "5": (3 / 16, 5 / 16), "6": (1 / 4, 5 / 16), "8": (1 / 4, 11 / 32),
        "10": (5 / 16, 3 / 8), "12": (5 / 16, 7 / 16), "1/4": (7 / 16, 7 / 16),
        "5/16": (1 / 2, 1 / 2), "3/8": (9 / 16, 9 / 16), "7/16": (5 / 8, 11 / 16),
        "1/2": (3 / 4, 3 / 4), "9/16": (13 / 16, 7 / 8), "5/8": (15 / 16, 15 / 16),
        "3/4": (9 / 8, 9 / 8), "7/8": (21 / 16, 21 / 16), "1 in": (3 / 2, 3 / 2),
    },
    "ASME B18.2.1, B18.2.2; machine screws and nuts B18.6.3",
    unit=Unit.INCH,
)  # fmt: skip

_SERIES = re.compile(r"(\d\S*)\s*-?\s*(bsw|bsf|whitworth|whit|unc|unf)\b", re.I)


PLAY = (-0.06, 0.25)
"""By how much a spanner may be narrower or wider than the greatest width of what it turns [mm].
Common practice."""


def _fitted(word: str, unit: Unit) -> Iterator[Found]:
    """What a spanner of a width turns: spanner 10 mm, 7/16 AF."""
    text = " ".join(word.lower().split())
    asked = re.fullmatch(r"(?:spanner|wrench) (\S+(?: mm| in)?)(?: af)?|(\S+(?: mm| in)?) af", text)
    try:
        wide = parse_length(asked[1] or asked[2], unit) if asked else 0.0
    except SizeError:
        return
    rows = []
    for table in (METRIC, BA, WHITWORTH, UNIFIED):
        for column in (name for name in table.columns if name.endswith(FLATS)):
            kind = f"{table.name}, nuts" if column.startswith("nut") else table.name
            turned = [
                size
                for size in table.rows
                if table.rows[size][table.columns.index(column)] is not None
                and PLAY[0] <= wide - table.figure(size, column) <= PLAY[1]
            ]
            if turned:
                rows.append((kind, ", ".join(turned)))
    if rows:
        yield Found(f"a spanner of {show(wide, unit)} turns", tuple(rows), SOURCE, memory=True)


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a hexagon: nut M4, spanner 2 BA, hexagon 1/4 BSF."""
    series = _SERIES.search(word)
    plain = _SERIES.sub(r"\1", word)
    kind = series[2].lower() if series else ""
    tables = [METRIC, BA] if not series else []
    if not kind.startswith("un"):
        tables.append(WHITWORTH)
    if not series or kind.startswith("un"):
        tables.append(UNIFIED)
    yield from _fitted(word, unit)
    yield from ask(tables, plain, unit)
