"""A part as drawn: its envelope less all that its features remove."""

from __future__ import annotations

from barstock import methods
from barstock.drawing.model import Part
from barstock.solids.shapes import Solid, box, nothing


def envelope(part: Part) -> Solid:
    """The part's block before any feature."""
    return box((0.0, 0.0, 0.0), part.size)


def drawn_solid(part: Part) -> Solid:
    """The part as the drawing says it is to be."""
    kinds = methods.KINDS
    return envelope(part).cut(*(kinds[f.kind].removes(f.spec, part) for f in part.features))


def may_remove(part: Part) -> Solid:
    """What may also go: drills' extra depth and points. Empty where there is nothing."""
    extra = (methods.KINDS[f.kind].may_remove(f.spec, part) for f in part.features)
    return nothing().fuse(*(solid for solid in extra if solid is not None))
