"""O-rings by their number, and the grooves they lie in.

Sources: SAE AS568 / BS 1806 / ISO 3601-1 (sizes, a ring's number: inside diameter and section) and
a ring maker's table of grooves after SAE ARP 1231 (static and sliding), copied from tables printed
elsewhere; sizes in mm, grooves in inches.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable
from barstock.quantities import INCH, Unit, show

NAME = "O-rings"
SOURCE = "SAE AS568, BS 1806, ISO 3601-1; grooves after SAE ARP 1231"

# section [inch]: depth of the groove, sliding and at rest, its width [inch]
GROOVES = {
    0.070: (0.056, 0.051, 0.098), 0.103: (0.090, 0.082, 0.144), 0.139: (0.121, 0.114, 0.195),
    0.210: (0.184, 0.173, 0.294),
}  # fmt: skip

# number of the first ring: section [inch], inside diameters from it on [mm]
_SIZES: dict[int, tuple[float, tuple[float, ...]]] = {
    4: (0.070, (1.78, 2.57, 2.90, 3.68, 4.47, 5.28, 6.07, 7.65, 9.25, 10.82, 12.42, 14.00, 15.60,
                17.17, 18.77, 20.35, 21.95, 23.52, 25.12, 26.70, 28.30, 29.87, 31.47, 33.05,
                34.65)),
    102: (0.103, (1.24, 2.06, 2.84, 3.63, 4.42, 5.23, 6.02, 7.59, 9.19, 10.77, 12.37, 13.94, 15.54,
                  17.12, 18.72, 20.29, 21.89, 23.47, 25.07, 26.64, 28.24, 29.82, 31.42, 32.99,
                  34.59, 36.17, 37.77, 39.34, 40.94, 42.52, 44.12, 45.69, 47.29)),
    201: (0.139, (4.34, 5.94, 7.52, 9.12, 10.69, 12.29, 13.87, 15.47, 17.04, 18.64, 20.22, 21.82,
                  23.39, 24.99, 26.57, 28.17, 29.74, 31.34, 32.92, 34.52, 36.09, 37.69)),
    309: (0.210, (10.46, 12.07, 13.64, 15.24, 16.81, 18.42, 19.99, 21.59, 23.16, 24.77, 26.34,
                  27.94, 29.51, 31.12, 32.69, 34.29)),
}  # fmt: skip

SIZES = {
    f"{first + nth:03d}": (inside, round(section * INCH, 2))
    for first, (section, insides) in _SIZES.items()
    for nth, inside in enumerate(insides)
}
"""A ring's number -> inside diameter, section [mm]."""

TABLE = SizedTable(
    "O-ring",
    ("o-ring", "o ring", "oring"),
    ("inside diameter", "section"),
    SIZES,
    "SAE AS568, BS 1806, ISO 3601-1",
    memory=False,
)


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of an O-ring: o-ring 012; of all grooves: o-ring groove."""
    text = " ".join(word.lower().split())
    if re.fullmatch(r"o[- ]?rings? grooves?", text):
        yield from (_groove(section, unit) for section in GROOVES)
        return
    number = re.fullmatch(r"(o[- ]?ring)s?\s*(?:bs\s?|as568-?|-|no\.?\s*)?(\d{1,3})", text)
    found = list(TABLE.find(f"o-ring {int(number[2]):03d}" if number else word, unit))
    yield from found
    if number and found:
        section = SIZES[f"{int(number[2]):03d}"][1]
        yield _groove(min(GROOVES, key=lambda inches: abs(inches * INCH - section)), unit)


def _groove(section: float, unit: Unit) -> Found:
    sliding, still, wide = (show(each * INCH, unit) for each in GROOVES[section])
    rows = (
        ("depth, sliding", f"{sliding}, the clearance counted"),
        ("depth, at rest", f"{still}, the clearance counted"),
        ("width", wide),
        ("corners", "broken, so that they do not cut the ring; lead in at 15 to 20°"),
    )
    title = f"groove of an O-ring of {show(section * INCH, unit)} section"
    return Found(title, rows, "SAE ARP 1231, as a ring maker prints it", memory=False)
