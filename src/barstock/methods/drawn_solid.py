"""The part as drawn: its envelope, or the pieces it is joined from, less all its
features remove.
"""

from __future__ import annotations

from functools import lru_cache

from barstock import methods
from barstock.drawing.build import Part
from barstock.drawing.part import Form, Piece
from barstock.methods.spigot import spigot_of
from barstock.solids.parting import part_off
from barstock.solids.shapes import Placement, Solid, box, cylinder, nothing, together


def envelope(part: Part) -> Solid:
    """The part's block or round before any feature; of a fabrication, its pieces joined.

    Fillets of filler are left out, and so is the thickness of its gaps, but for the ring round a
    spigot in its hole.
    """
    if part.round:
        radius = part.size[1] / 2
        return cylinder((0.0, radius, radius), (1.0, 0.0, 0.0), radius, part.size[0])
    if part.joined is None:
        return box((0.0, 0.0, 0.0), part.size)
    rings = (spigot_of(joint, part.joined) for joint in part.joined.joints)
    filled = (ring.filled() for ring in rings if ring is not None)
    return nothing().fuse(*(placed(piece) for piece in part.joined.pieces), *filled)


def placed(piece: Piece, solid: Solid | None = None) -> Solid:
    """A piece as drawn (or as it came out) where it stands in its fabrication."""
    return _standing(piece) if solid is None else solid.moved(_stand(piece))


@lru_cache(maxsize=64)
def _standing(piece: Piece) -> Solid:
    """A piece as drawn where it stands, cut once."""
    return drawn_solid(piece.part).moved(_stand(piece))


def _stand(piece: Piece) -> Placement:
    return Placement(piece.rows, piece.shift)


def drawn_solid(part: Part) -> Solid:
    """The part as the drawing says it is to be."""
    return part_off(envelope(part), *_removed(part))[0]


def _removed(part: Part) -> list[Solid]:
    """What each of its features takes away."""
    return [methods.KINDS[f.kind].removes(f.spec, part) for f in part.features]


def with_seams(part: Part) -> Solid:
    """The part as drawn, the pieces of a fabrication side by side: where they meet shows."""
    joined = part.joined
    if joined is None or any(joint.form is Form.SPIGOT for joint in joined.joints):
        return drawn_solid(part)
    removed = _removed(part)
    return together([placed(piece).cut(*removed) for piece in joined.pieces])


def may_remove(part: Part) -> Solid:
    """The metal that may also go: drills' extra depth and points. Empty where there is none."""
    extra = (methods.KINDS[f.kind].may_remove(f.spec, part) for f in part.features)
    return nothing().fuse(*(solid for solid in extra if solid is not None))
