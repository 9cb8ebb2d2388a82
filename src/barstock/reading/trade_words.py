"""Words of the trade that users write for what the files call otherwise. Common practice."""

from __future__ import annotations

from collections.abc import Iterable

_MEANT = {
    "copies": "quantity, qty, number, amount, count, off, no-off, pieces",
    "diameter": "dia, ø, size",
    "width": "breadth, wide",
    "height": "thickness, thick, high",
    "length": "long, overall",
    "depth": "deep",
    "material": "metal, stuff",
    "bar": "stock, section, raw",
    "finish": "made by, process, method",
    "step": "rebate, rabbet, shoulder, ledge, shelf, notch at an edge, check, flat",
    "slot": "groove, channel, keyway, trench, gap, fork, gash, oblong hole, slotted hole",
    "pocket": "recess, cavity, window, well, sinking, rectangular hole",
    "hole": "drilled hole, tapped hole, reamed hole, bored hole, bore, drilling, tapping, thread, "
    "clearance hole, drill, ream, tap, counterbore, countersink, spotface, screw hole, pin hole, "
    "bolt hole",
    "ridge": "peak, roof, crest, wedge",
    "edge": "chamfer, bevel, round, rounding, radius, fillet, corner, rounded edge, bevelled edge",
    "edges": "chamfers, bevels, all edges, broken edges",
    "outline": "profile, contour, shape, cut out, cutout",
    "flush": "file flush, filed flush, file, dress",
}
MEANT = {word: ours for ours, words in _MEANT.items() for word in words.split(", ")}


def plain(word: str) -> str:
    """The word without capitals, underscores and more than one space between.

    >>> plain("Drilled_hole ")
    'drilled hole'
    """
    return " ".join(word.lower().replace("_", " ").split())


def meant(word: str, valid: Iterable[str]) -> str:
    """The one of the valid words that is meant by another of the trade; "" where none is.

    >>> meant("chamfer", ["edge", "hole"]), meant("Quantity", ["copies"]), meant("rebate", ["hole"])
    ('edge', 'copies', '')
    """
    ours = MEANT.get(plain(word), "")
    return ours if ours in valid else ""
