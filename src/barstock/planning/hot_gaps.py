"""The gap of each joint cold and at heat: what the fixture, a spigot or screws do to it."""

from __future__ import annotations

from barstock.drawing import fabrication as drawn
from barstock.joining.gaps import Gap
from barstock.joining.growth import Side, gap_change, spigot_change
from barstock.joining.model import Form, Joint
from barstock.methods.meeting import axes_of, meeting


def gap_at_heat(joined: drawn.Joined, joint: Joint, heat: float) -> Gap:
    """A joint's gap; heat: working temperature [C].

    Screws that hold both pieces to each other keep it as it is; a spigot's opens or closes by both
    metals; between pieces that the fixture holds, by theirs and the fixture's. Raises
    NoFigureError.
    """
    gap = Gap(joint.name, joint.gap_least, joint.gap_most, joint.gap_least, joint.gap_most)
    if joint.screwed:
        return gap
    a, b = (joined.piece(name) for name in joint.pieces)
    if joint.form is Form.SPIGOT:
        inner, outer = sorted((a, b), key=_across)
        grows = spigot_change(_across(inner), outer.part.material, inner.part.material, heat)
        return gap.heated((grows, grows))
    met = meeting(next(j for j in joined.joints if j.name == joint.name), joined)
    fixture = joined.fixture
    if met is None or fixture is None or met.normal.axis == fixture.under.axis:
        return gap
    axis = met.normal.axis
    held = {
        hole.piece: axes_of(joined, hole)[0][0][axis]
        for screw in joined.screws
        if screw.fixes
        for hole in screw.holes
    }
    if not {a.name, b.name} <= held.keys():
        return gap
    face = a.box[1 if met.normal.sign > 0 else 0][axis]
    low, high = (a, b) if met.normal.sign > 0 else (b, a)
    materials = {piece.name: piece.part.material for piece in (a, b)}
    sides = [Side(piece.name, held[piece.name], face) for piece in (low, high)]
    return gap.heated(gap_change(sides[0], sides[1], materials, fixture.material, heat))


def _across(piece: drawn.Piece) -> float:
    """The second of its sizes: of a round piece its diameter [mm]."""
    return sorted(piece.part.size)[1]
