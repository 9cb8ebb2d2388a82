"""Cuts the block of a fixture out where it would hide a joint from the flame."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from barstock.drawing.build import Face, Fault, Part
from barstock.drawing.part import Fixture, Form
from barstock.drawing.vectors import dot
from barstock.fabricating.fixture_holes import fixture_holes
from barstock.fabricating.fixture_seat import JUST_IN, Seat, resting
from barstock.methods.pieces_meeting import Meeting, meeting
from barstock.quantities import Length

REACH = 2.0  # a joint so near the block is hidden from the flame [mm]; common practice
CLEAR = 5.0  # of the cut-out for the flame past the joint, and its depth [mm]; common practice
SHARE = 1 / 3  # of what a piece rests on that one cut-out may take; common practice
NARROW = 3.0  # no flame comes into a slot narrower than this [mm]; common practice
BRIM = 1.0  # of the block beside such a slot [mm]; common practice
ROOM = 0.75  # of a screw's diameter from the middle of its hole to its edge, with room to grow


@dataclass(frozen=True)
class CutOut:
    """A slot in the block's top, right across, under one line of a joint; a step where that runs at
    the block's edge.

    along: it runs along the block's length, else its width. low, high: its walls, from the
    block's front, else from its left [mm].
    """

    joint: str
    along: bool
    low: float
    high: float

    def at_edge(self, seat: Seat) -> bool:
        """Does it run out over an edge of the block?"""
        return self.low <= 0 or self.high >= seat.size[1 if self.along else 0]


def cut_outs(part: Part, fixture: Fixture, seat: Seat) -> Iterator[CutOut]:
    """The slots about the lines of joints that the block would hide from the flame.

    They go so far to either side that every piece keeps enough to rest on.
    """
    return (cut for cut in _beneath(part, fixture, seat) if not _no_slot(cut, seat))


def hidden_faults(part: Part, fixture: Fixture, seat: Seat) -> Iterator[Fault]:
    """Warnings of joints that lie on the block where no slot could be cut under them."""
    for cut in _beneath(part, fixture, seat):
        why = _no_slot(cut, seat)
        if why:
            what = f"the fixture hides joint '{cut.joint}' from the flame: a slot under it {why}"
            mend = "lay another face on the fixture, or heat the block through under that joint"
            yield Fault(fixture.place, what, mend, part.name, grade="warning")


def _no_slot(cut: CutOut, seat: Seat) -> str:
    """Why a slot is not cut, "" where it is."""
    wide = cut.high - cut.low
    if wide < (NARROW / 2 if cut.at_edge(seat) else NARROW):
        return (
            f"would be {Length(wide):.1f} wide, too narrow for a flame, if its pieces are to rest"
        )
    beside = min(cut.low, seat.size[1 if cut.along else 0] - cut.high)
    if beside < BRIM and not cut.at_edge(seat):
        return f"would leave {Length(max(beside, 0.0)):.1f} of the block beside it"
    return ""


def _beneath(part: Part, fixture: Fixture, seat: Seat) -> Iterator[CutOut]:
    """The slots under joints that the block hides, whether there is room for them or not."""
    joined = part.joined
    assert joined is not None
    found = dict[tuple[int, float], CutOut]()
    for joint in joined.joints:
        met = meeting(joint, joined)
        if met is None or not _hidden(seat, met):
            continue
        for way, line in _lines(joint.form, fixture, seat, met):
            walls = _walls(part, fixture, seat, way, line)
            # joints in one line have one slot
            found.setdefault((way, round(line, 1)), CutOut(joint.name, way == 1, *walls))
    yield from found.values()


def _hidden(seat: Seat, met: Meeting) -> bool:
    near = all(
        low < size + REACH and high > -REACH
        for (low, high), size in zip(seat.spans(*met.bounds), seat.size, strict=True)
    )
    return near and abs(min(map(seat.above, met.bounds))) < REACH


def _lines(form: Form, fixture: Fixture, seat: Seat, met: Meeting) -> Iterator[tuple[int, float]]:
    """Where the edge of a joint runs over the block: measured along its length (0) or its width
    (1), and how far [mm]. Of one that lies flat, or goes all round, the two long sides.
    """
    spans = seat.spans(*met.bounds)
    if met.normal.axis != fixture.under.axis and form is not Form.SPIGOT:
        way = 0 if abs(dot(met.normal.normal, seat.along)) > 0.5 else 1
        yield way, sum(spans[way]) / 2
        return
    way = 0 if spans[0][1] - spans[0][0] <= spans[1][1] - spans[1][0] else 1
    yield from ((way, line) for line in spans[way] if -REACH < line < seat.size[way] + REACH)


def _walls(part: Part, fixture: Fixture, seat: Seat, way: int, line: float) -> tuple[float, float]:
    """Walls of a slot about a line, so that no piece beside it loses more than its share to it."""
    before, behind = CLEAR, CLEAR
    for piece in resting(part, fixture):
        low, high = seat.spans(*piece.box)[way]
        if low < line - 2 * JUST_IN and high > line - CLEAR:
            before = min(before, (min(high, line) - low) * SHARE)
        if high > line + 2 * JUST_IN and low < line + CLEAR:
            behind = min(behind, (high - max(low, line)) * SHARE)
    for hole in fixture_holes(part, seat):
        if hole.face is Face.TOP:
            room = abs(line - hole.at[way]) - ROOM * hole.form.major - BRIM
            if hole.at[way] < line:
                before = min(before, room)
            else:
                behind = min(behind, room)
    line, before, behind = round(line, 1), max(before, 0.0), max(behind, 0.0)
    start, end = line - floor(2 * before) / 2, line + floor(2 * behind) / 2
    if seat.beside and (line < REACH or line > seat.size[way] - REACH):
        # at the edge against a piece: a step, open to that side
        start, end = (0.0, end) if line < REACH else (start, seat.size[way])
    return round(start, 4), round(end, 4)
