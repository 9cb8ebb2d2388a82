"""The label that stands beside a dimension, in the drawing's own words."""

from __future__ import annotations

import re

from barstock.methods.kind import Drawn
from barstock.quantities import show

_BARE = re.compile(r"[\d.]+( ±\s*[\d.]+)?")
LONG = 24
"""Labels of more letters than this are broken at their commas."""


def label(drawn: Drawn) -> str:
    """The dimension as lettered on the sheet.

    A diameter is lettered Ø, which every fount has.
    """
    size = drawn.dimension
    text = size.text or show(size.nominal, size.unit)
    if drawn.style == "angle" and _BARE.fullmatch(text):
        text = re.sub(r"[\d.]+", r"\g<0>°", text)
    prefix = drawn.prefix
    if text[0].isalpha():  # a drill by its number, clearance for a screw: no figure
        prefix = prefix.replace("⌀", "")
    words = prefix if prefix.endswith(text) else prefix + text
    return (words + drawn.suffix).replace("⌀", "Ø")


def lines(words: str) -> list[str]:
    """The label in as few lines as keep it compact."""
    if len(words) <= LONG:
        return [words]
    found: list[str] = []
    for piece in words.split(", "):
        if found and len(found[-1]) + len(piece) + 2 <= LONG:
            found[-1] += f", {piece}"
        else:
            found.append(piece)
    return found
