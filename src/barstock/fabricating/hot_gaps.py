"""Works out the gap of each joint cold and at heat: what the fixture, a spigot or
screws do to it.
"""

from __future__ import annotations

from barstock.drawing import part as drawn
from barstock.fabricating.filler_gaps import Gap
from barstock.fabricating.fixture_seat import held_along
from barstock.fabricating.growth import Side, gap_change, spigot_change
from barstock.fabricating.joints import Joint
from barstock.methods.pieces_meeting import meeting
from barstock.methods.scarf import scarf_of


def gap_at_heat(joined: drawn.Joined, joint: Joint, heat: float) -> Gap:
    """The gap of a joint; heat: working temperature [C].

    Screws that hold both pieces to each other keep it as it is; a spigot's opens or closes by both
    metals; between pieces that the fixture holds, by theirs and the fixture's. Raises
    NoFigureError.
    """
    gap = Gap(joint.name, joint.gap_least, joint.gap_most, joint.gap_least, joint.gap_most)
    if joint.screwed:
        return gap
    a, b = (joined.piece(name) for name in joint.pieces)
    if joint.form is drawn.Form.SPIGOT:
        inner, outer = sorted((a, b), key=_across)
        grows = spigot_change(_across(inner), outer.part.material, inner.part.material, heat)
        return gap.heated((grows, grows))
    as_drawn = next(j for j in joined.joints if j.name == joint.name)
    met, leans, fixture = meeting(as_drawn, joined), scarf_of(as_drawn, joined), joined.fixture
    if met is None or fixture is None:
        return gap
    axis = leans.along if leans else met.normal.axis
    if axis == fixture.under.axis:
        return gap
    held = held_along(joined, axis)
    if not {a.name, b.name} <= held.keys():
        return gap
    onward = leans.normal[axis] > 0 if leans else met.normal.sign > 0
    middle = (met.low[axis] + met.high[axis]) / 2
    face = middle if leans else a.box[1 if onward else 0][axis]
    low, high = (a, b) if onward else (b, a)
    materials = {piece.name: piece.part.material for piece in (a, b)}
    sides = [Side(piece.name, held[piece.name], face) for piece in (low, high)]
    least, most = gap_change(sides[0], sides[1], materials, fixture.material, heat)
    square = 1 / leans.stretch if leans else 1.0
    return gap.heated((least * square, most * square))


def _across(piece: drawn.Piece) -> float:
    """The second of its sizes: of a round piece its diameter [mm]."""
    return sorted(piece.part.size)[1]
