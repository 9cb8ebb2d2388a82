"""Where no filler may go: within a chain line, as ISO 128-2 draws areas of a surface that are to be
treated (line 04.2, long dashed dotted, wide; from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Part
from barstock.sheets.sheet import Layer, Mark
from barstock.sheets.view_choice import Seen
from barstock.solids.strokes import Segment

NOTE = "no filler within the chain line, in the holes, on pins: anti-flow, dry, for each heat"


def chain_lines(part: Part, seen: Seen, scale: float) -> Iterator[Mark]:
    """The chain line round each painted area of a part's top, in its plan."""
    if seen.look.view != "top":
        return
    for (left, front), (right, back) in part.no_filler:
        top = part.size[2]
        corners = [(left, front, top), (right, front, top), (right, back, top), (left, back, top)]
        flat = [seen.look.flat(p) for p in corners]
        for a, b in zip(flat, flat[1:] + flat[:1], strict=True):
            yield Mark(Segment(a, b).moved(scale, (0.0, 0.0)), Layer.TREATED)
