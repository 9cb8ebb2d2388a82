"""Tapers of spindles and shanks: Morse and R8.

Sources: ASME B5.10-1994 table 2, as Machinery's Handbook prints it (Morse: taper per foot on the
diameter, gauge diameter at the large end, depth and small end of the plug), inches; ISO 296 has the
same tapers. R8 has no published standard: common practice, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import atan, degrees

from barstock.handbook.answer import Found
from barstock.handbook.sized_table import SizedTable
from barstock.quantities import INCH, Unit, show

NAME = "Morse and R8 tapers"
SOURCE = "ASME B5.10-1994 table 2, ISO 296:1991 (Morse); common practice (R8)"

# number: gauge diameter, small end of the plug, depth of the plug [inch], taper per foot [inch]
MORSE = {
    0: (0.3561, 0.252, 2.0, 0.62460), 1: (0.475, 0.369, 2.125, 0.59858),
    2: (0.7, 0.572, 2.5625, 0.59941), 3: (0.938, 0.778, 3.1875, 0.60235),
    4: (1.231, 1.02, 4.0625, 0.62326), 5: (1.748, 1.475, 5.1875, 0.63151),
    6: (2.494, 2.116, 7.25, 0.62565), 7: (3.27, 2.75, 10.0, 0.62400),
}  # fmt: skip


def half_angle(number: int) -> float:
    """What to set a top slide over to for a Morse taper, half the included angle [degrees].

    >>> round(half_angle(2), 4)
    1.4307
    """
    return degrees(atan(MORSE[number][3] / 24))


def _row(number: int) -> tuple[float | str, ...]:
    large, small, deep, foot = MORSE[number]
    ratio, half = f"1 in {12 / foot:.3f} on the diameter", half_angle(number)
    return large, small, deep, ratio, f"{half:.4f}° ({half * 60:.2f}')"


TABLE = SizedTable(
    "Morse taper",
    ("morse", "morse taper", "mt"),
    ("large end", "small end", "between them", "taper", "half angle"),
    {f"MT{number}": _row(number) for number in MORSE},
    "ASME B5.10-1994 table 2; ISO 296:1991 has the same tapers",
    unit=Unit.INCH,
    memory=False,
)

R8 = (0.9495, 1.25, 4.0, 16 + 51 / 60)
"""The shank of an R8 collet: diameter, large end, length over all [inch], included angle [degrees].
Common practice, from memory."""


def find(word: str, unit: Unit) -> Iterator[Found]:
    """What `look` shows of a taper: MT2, Morse 2, R8."""
    text = re.sub(r"\s+", " ", word.strip().lower())
    number = re.fullmatch(r"(?:morse(?: taper)?|mt)\s?(?:no\.? ?)?(\d)", text)
    yield from TABLE.find(f"morse MT{number[1]}" if number else word, unit)
    if text.removesuffix(" collet").removesuffix(" taper").replace(" ", "") == "r8":
        shank, large, long, angle = R8
        rows = (
            ("shank", show(shank * INCH, unit)),
            ("large end of the taper", show(large * INCH, unit)),
            ("length", f"about {show(long * INCH, unit)}"),
            ("included angle", f"{int(angle)}° {round(angle % 1 * 60)}'"),
            ("drawbar", "7/16-20 UNF; some M12 x 1.75"),
        )
        yield Found("R8 taper", rows, "common practice", memory=True)
