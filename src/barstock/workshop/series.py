"""Reads lists of sizes written short: 1 to 10 by 0.5, No 1 to No 60, 3/16."""

from __future__ import annotations

import re
from dataclasses import dataclass

from barstock.quantities import INCH, MM, Unit
from barstock.reading.nodes import Node, Text, sort
from barstock.reading.sizes import Sizes

MOST = 500
"""Most sizes in one series."""

_SERIES = re.compile(r"(.+?)\s+to\s+(.+?)(?:\s+by\s+(.+))?$", re.I)
_NAMED = re.compile(r"(?:no\.?|number|#)\s*(\d+)$|letter\s+([a-z])$", re.I)
_NUMBERS = re.compile(
    r"(?:nos?\.?|numbers?|#)\s*(\d+)\s*(?:to|[-–])\s*(?:nos?\.?|number|#)?\s*(\d+)$", re.I
)
_LETTERS = re.compile(r"(?:letters?\s+)?([a-z])\s*(?:to|[-–])\s*(?:letter\s+)?([a-z])$", re.I)
_PARTS = re.compile(r"\b(\d+)ths\b")
_STEPPED = re.compile(
    r"(\S+?)\s*(?:\bto\b|[-–]|\.\.)\s*(\S+)\s+(?:by|x|×|step|in|in steps of|steps of)\s+(\S+?)"
    r"(?:\s+steps)?$",
    re.I,
)


@dataclass(frozen=True)
class Size:
    """One size of a list: what to call it, and how large it is [mm]."""

    label: str
    value: float


def series(node: Node, sizes: Sizes) -> list[Size]:
    """The sizes that one item of a list stands for; none after reporting a fault."""
    if not isinstance(node, Text):
        sizes.report(node.place, f"{sort(node)} stands where a size is wanted", "")
        return []
    text = _plain(node.text)
    ends = _SERIES.match(text)
    if ends is None:
        value = sizes.length(node)
        return [] if value is None else _positive(node, sizes, [Size(text, value)])
    first, last = _NAMED.match(ends[1]), _NAMED.match(ends[2])
    if first and last and not ends[3]:
        return _named(node, sizes, first, last)
    low, high = (sizes.length(Text(node.place, end)) for end in (ends[1], ends[2]))
    step = sizes.length(Text(node.place, ends[3])) if ends[3] else None
    if low is None or high is None or (ends[3] and step is None):
        return []
    if step is None or step <= 0 or high < low or (high - low) / step > MOST:
        sizes.report(node.place, f"'{text}' is no series of sizes", "write it '1 to 10 by 0.5'")
        return []
    unit = Unit.INCH if "/" in text or sizes.unit is Unit.INCH else Unit.MM
    count = int((high - low) / step + 1e-6) + 1
    found = [round(low + i * step, 9) for i in range(count)]
    return _positive(node, sizes, [Size(label(value, unit), value) for value in found])


def _plain(written: str) -> str:
    """A series in the words that are read, from the other ways it is written.

    >>> _plain("#1-#60"), _plain("A to Z"), _plain("1/16 - 1/2 in 64ths"), _plain("1..13 step 0.5")
    ('No 1 to No 60', 'letter A to letter Z', '1/16 to 1/2 by 1/64', '1 to 13 by 0.5')
    """
    text = " ".join(written.split())
    if numbers := _NUMBERS.match(text):
        return f"No {numbers[1]} to No {numbers[2]}"
    if letters := _LETTERS.match(text):
        return f"letter {letters[1]} to letter {letters[2]}"
    text = _PARTS.sub(lambda part: f"1/{part[1]}", text)
    if stepped := _STEPPED.match(text):
        return f"{stepped[1]} to {stepped[2]} by {stepped[3]}"
    return text


def label(mm: float, unit: Unit) -> str:
    """The name a tool is called by, from its size.

    >>> label(4.5, Unit.MM), label(9.525, Unit.INCH)
    ('4.5', '3/8')
    """
    from barstock.quantities import show_fraction

    if unit is Unit.INCH:
        text = show_fraction(mm).removesuffix(" in")
        return text if "." not in text else f"{mm / INCH:.4f}".strip("0")
    return f"{mm / MM:g}"


def _named(node: Text, sizes: Sizes, first: re.Match[str], last: re.Match[str]) -> list[Size]:
    if first[1] and last[1]:
        low, high = sorted((int(first[1]), int(last[1])))
        names = [f"No {number}" for number in range(low, min(high, 99) + 1)]
    elif first[2] and last[2]:
        low, high = sorted((ord(first[2].upper()), ord(last[2].upper())))
        names = [f"letter {chr(code)}" for code in range(low, high + 1)]
    else:
        sizes.report(node.place, f"'{node.text}' mixes numbers and letters", "write two series")
        return []
    found = [(name, sizes.length(Text(node.place, name))) for name in names]
    return [Size(name, value) for name, value in found if value is not None]


def _positive(node: Text, sizes: Sizes, found: list[Size]) -> list[Size]:
    if any(size.value <= 0 for size in found):
        sizes.report(node.place, f"'{node.text}' must be more than 0", "check the figure")
        return []
    return found
