"""Dividing a circle: the angle, and turns and holes of a worm's index plates.

Source: the rule of simple indexing in Machinery's Handbook and army training texts: the worm's
ratio over the divisions, in whole turns and holes of a circle that the rest divides. The circles
are those of the plates commonly sold with a 40 to 1 dividing head: common practice, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from barstock.handbook.answer import Found, NotHeldError
from barstock.quantities import Unit

NAME = "dividing"
SOURCE = "rule of simple indexing, Machinery's Handbook; plates common practice"

RATIOS = (40, 60, 90)
"""Turns of the worm to one of the work, as dividing heads and rotary tables have them."""

CIRCLES = (15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49)
"""Holes in the circles of the three usual plates."""


def indexing(
    divisions: int, ratio: int, circles: tuple[int, ...] = CIRCLES
) -> tuple[int, int, int]:
    """Whole turns, holes, and the circle they are in, for one division; the circle 0 where no
    holes are wanted. Raises NotHeldError where no circle has them.

    >>> indexing(6, 40), indexing(40, 40), indexing(42, 40)
    ((6, 10, 15), (1, 0, 0), (0, 20, 21))
    """
    turns, rest = divmod(Fraction(ratio, divisions), 1)
    if not rest:
        return int(turns), 0, 0
    circle = next((holes for holes in circles if holes % rest.denominator == 0), None)
    if circle is None:
        raise NotHeldError(f"no circle of {circles[0]} to {circles[-1]} holes gives {divisions}")
    return int(turns), int(rest * circle), circle


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of dividing: divide 17, 24 divisions."""
    text = " ".join(word.lower().split())
    asked = re.fullmatch(
        r"(?:divid(?:e|ing)(?: by| into)?|divisions?) (\d{1,4})|(\d{1,4}) (?:divisions?|teeth)",
        text,
    )
    divisions = int(asked[1] or asked[2]) if asked else 0
    if text in ("dividing", "indexing", "dividing head"):
        yield _rule()
    if not asked:
        return
    if not divisions:
        raise NotHeldError("a circle is divided into 1 part or more")
    degrees = Fraction(360, divisions)
    minutes = degrees % 1 * 60
    rows = [("angle", f"{float(degrees):.6g}° ({int(degrees)}° {float(minutes):.2f}')")]
    for ratio in RATIOS:
        rows.append((f"worm of {ratio} to 1", _told(divisions, ratio)))
    yield Found(f"dividing by {divisions}", tuple(rows), SOURCE, memory=True)


def _rule() -> Found:
    """How it is reckoned, and with which plates."""
    circles = ", ".join(map(str, CIRCLES))
    rows = (
        ("rule", "turns of the worm = its ratio over the divisions; the rest in holes of a circle"),
        ("circles", circles),
        ("ask", "divide 17"),
    )
    return Found("dividing", rows, SOURCE, memory=True)


def _told(divisions: int, ratio: int) -> str:
    try:
        turns, holes, circle = indexing(divisions, ratio)
    except NotHeldError:
        return "not with these plates: set the angle, or cut a plate"
    whole = f"{turns} turn{'s' * (turns != 1)}" if turns else ""
    part = f"{holes} holes of {circle}" if holes else ""
    return " and ".join(filter(None, (whole, part)))
