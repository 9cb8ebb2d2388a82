"""Seats a fabrication on the block of its fixture, and cuts that out for the flame."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import ceil, floor

from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.drawing.part import Fixture, Form, Joined, Piece
from barstock.drawing.vectors import cross, dot, plus
from barstock.fabricating.joined_metal import metal_of
from barstock.methods.cuts import LevelCut
from barstock.methods.feature_cuts import cuts_of
from barstock.methods.pieces_meeting import Meeting, meeting

AROUND = 6.0  # of the block past the work along its length [mm]; common practice
REACH = 2.0  # a joint so near the block is hidden from the flame [mm]; common practice
CLEAR = 5.0  # of the cut-out for the flame past the joint, and its depth [mm]; common practice
SHARE = 1 / 3  # of what a piece rests on that one cut-out may take; common practice
NARROW = 3.0  # no flame comes into a slot narrower than this [mm]; common practice
BRIM = 1.0  # of the block beside such a slot [mm]; common practice
CARRIED = 0.25  # least share of what a piece could rest on that the block carries; common practice
END = 0.25  # the block carries the work within this share of either end; common practice
JUST_IN = 0.05  # a point so far under a face is just inside the metal [mm]
PAINTED = 4.0  # of the block's top round the work [mm]; common practice
POINTS = 24  # tried on each side of what a piece could rest on

Area = tuple[tuple[float, float], tuple[float, float]]
"""A rectangle of the block's top: two corners, each from its left and front [mm]."""


@dataclass(frozen=True)
class Seat:
    """The seat of the whole on its fixture: unit vectors of the block's length and width, and where
    the block's left front top corner lies, all in the frame of the whole. size: of the block [mm].
    """

    along: Vec
    across: Vec
    corner: Vec
    size: tuple[float, float]

    def at(self, p: Vec) -> tuple[float, float]:
        """The place of a point of the whole, from the block's left and front [mm]."""
        away = plus(p, self.corner, -1.0)
        return round(dot(away, self.along), 6), round(dot(away, self.across), 6)

    def point(self, left: float, front: float, up: float) -> Vec:
        """The point of the whole so far from the block's left and front, above its top [mm]."""
        over = plus(plus(self.corner, self.along, left), self.across, front)
        return plus(over, cross(self.along, self.across), up)

    def spans(self, low: Vec, high: Vec) -> tuple[tuple[float, float], tuple[float, float]]:
        """What a box of the whole takes up of the block's length, and of its width [mm]."""
        a, b = self.at(low), self.at(high)
        return (min(a[0], b[0]), max(a[0], b[0])), (min(a[1], b[1]), max(a[1], b[1]))


def seat_on(part: Part, fixture: Fixture, width: float = 0.0) -> Seat:
    """The seat of a fabrication in the middle of a block. width: of the block, as the work if 0."""
    low, high = part.raw
    up = fixture.under.opposite.normal
    first = next(f for f in (Face.RIGHT, Face.BACK) if f.axis != fixture.under.axis)
    along = first.normal
    across = cross(up, along)
    corners = [
        (x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])
    ]
    runs = [dot(c, along) for c in corners]
    spreads = [dot(c, across) for c in corners]
    level = max(dot(c, fixture.under.normal) for c in corners)
    if fixture.part is not None:
        long, wide = fixture.part.size[0], fixture.part.size[1]
    else:
        long = ceil(max(runs) - min(runs) + 2 * AROUND)
        wide = width or max(spreads) - min(spreads)
    start = (max(runs) + min(runs) - long) / 2
    side = (max(spreads) + min(spreads) - wide) / 2
    at = [start * along[i] + side * across[i] + level * fixture.under.normal[i] for i in range(3)]
    return Seat(along, across, (at[0], at[1], at[2]), (long, wide))


# -- cut out for the flame -------------------------------------------------------------------------


@dataclass(frozen=True)
class CutOut:
    """A slot in the block's top, right across, under one line of a joint.

    along: the slot runs along the block's length, else its width. low, high: its walls, from the
    block's front, else from its left [mm].
    """

    joint: str
    along: bool
    low: float
    high: float


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
    if wide < NARROW:
        return f"would be {wide:.1f} mm wide, too narrow for a flame, if its pieces are to rest"
    beside = min(cut.low, seat.size[1 if cut.along else 0] - cut.high)
    if beside < BRIM:
        return f"would leave {max(beside, 0.0):.1f} mm of the block beside it"
    return ""


def _beneath(part: Part, fixture: Fixture, seat: Seat) -> Iterator[CutOut]:
    """The slots under joints that the block hides, whether there is room for them or not."""
    joined = part.joined
    assert joined is not None
    for joint in joined.joints:
        met = meeting(joint, joined)
        if met is None or not _hidden(part, fixture, met):
            continue
        for way, line in _lines(joint.form, fixture, seat, met):
            yield CutOut(joint.name, way == 1, *_walls(part, fixture, seat, way, line))


def _hidden(part: Part, fixture: Fixture, met: Meeting) -> bool:
    low, high = met.bounds
    axis, sign = fixture.under.axis, fixture.under.sign
    return abs((high if sign > 0 else low)[axis] - _level(part, fixture)) < REACH


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
    yield from ((way, line) for line in spans[way])


def _walls(part: Part, fixture: Fixture, seat: Seat, way: int, line: float) -> tuple[float, float]:
    """Walls of a slot about a line, so that no piece beside it loses more than its share to it."""
    before, behind = CLEAR, CLEAR
    for piece in resting(part, fixture):
        low, high = seat.spans(*piece.box)[way]
        if low < line - 2 * JUST_IN and high > line - CLEAR:
            before = min(before, (min(high, line) - low) * SHARE)
        if high > line + 2 * JUST_IN and low < line + CLEAR:
            behind = min(behind, (high - max(low, line)) * SHARE)
    line = round(line, 1)
    return round(line - floor(2 * before) / 2, 1), round(line + floor(2 * behind) / 2, 1)


# -- where no filler may go ------------------------------------------------------------------------


def painted(part: Part, fixture: Fixture, seat: Seat) -> tuple[Area, ...]:
    """The areas of the block's top, about what lies on it, where filler must not go; those that
    meet are one.
    """
    found: list[Area] = []
    for piece in resting(part, fixture):
        spans = seat.spans(*piece.box)
        low, high = zip(
            *((max(a - PAINTED, 0.0), min(b + PAINTED, size))
              for (a, b), size in zip(spans, seat.size, strict=True)), strict=True
        )  # fmt: skip
        area = ((low[0], low[1]), (high[0], high[1]))
        for other in [one for one in found if _meet(one, area)]:
            found.remove(other)
            area = _about(other, area)
        found.append(area)
    return tuple(found)


def _meet(one: Area, other: Area) -> bool:
    return all(max(one[0][i], other[0][i]) <= min(one[1][i], other[1][i]) for i in (0, 1))


def _about(one: Area, other: Area) -> Area:
    low = [min(one[0][i], other[0][i]) for i in (0, 1)]
    high = [max(one[1][i], other[1][i]) for i in (0, 1)]
    return (low[0], low[1]), (high[0], high[1])


# -- what is left to rest on -----------------------------------------------------------------------


def _level(part: Part, fixture: Fixture) -> float:
    return part.raw[1 if fixture.under.sign > 0 else 0][fixture.under.axis]


def resting(part: Part, fixture: Fixture) -> list[Piece]:
    """The pieces that come down to the block."""
    joined = part.joined
    assert joined is not None
    end, axis = 1 if fixture.under.sign > 0 else 0, fixture.under.axis
    level = _level(part, fixture)
    return [p for p in joined.pieces if abs(p.box[end][axis] - level) < JUST_IN]


def seat_faults(part: Part, fixture: Fixture) -> Iterator[Fault]:
    """The faults of a block that hardly carries a piece, or not the work at both its ends."""
    assert part.joined is not None
    assert fixture.part is not None
    seat = seat_on(part, fixture)
    mend = "make its slots narrower or the block larger, so that there is metal under the work"
    all_land, all_carried = list[tuple[float, float]](), list[tuple[float, float]]()
    for piece in resting(part, fixture):
        land = _land(part.joined, piece, fixture)
        over = [seat.at(p) for p in land]
        carried = [at for at in over if not air_in(fixture.part, at)]
        all_land, all_carried = all_land + over, all_carried + carried
        if len(carried) < CARRIED * len(land):
            what = (
                f"the fixture '{fixture.part.name}' carries '{piece.name}' on "
                f"{len(carried) / len(land):.0%} of what it could rest on"
            )
            yield Fault(fixture.place, what, mend, part.name)
    for way, name in ((0, "length"), (1, "width")):
        low, high = _extremes(all_land, way)
        first, last = _extremes(all_carried, way)
        if all_carried and max(first - low, high - last) > END * (high - low):
            what = (
                f"the fixture '{fixture.part.name}' does not carry the work at both ends of the "
                f"block's {name}"
            )
            yield Fault(fixture.place, what, mend, part.name)


def _extremes(points: list[tuple[float, float]], way: int) -> tuple[float, float]:
    values = [p[way] for p in points]
    return min(values, default=0.0), max(values, default=0.0)


def _land(joined: Joined, piece: Piece, fixture: Fixture) -> list[Vec]:
    """Points of a piece, just inside its metal, that come down to the block."""
    metal = metal_of(replace(joined, pieces=(piece,)))
    low, high = piece.box
    axis = fixture.under.axis
    level = high[axis] - JUST_IN if fixture.under.sign > 0 else low[axis] + JUST_IN
    rows = [
        [level]
        if i == axis
        else [low[i] + (n + 0.5) * (high[i] - low[i]) / POINTS for n in range(POINTS)]
        for i in range(3)
    ]
    return [(x, y, z) for x, y, z in product(*rows) if metal((x, y, z))]


def air_in(block: Part, at: tuple[float, float]) -> float:
    """How deep slots leave nothing under a place of the block's top, its own holes aside [mm].

    at: from its left and front; beside the block all of its thickness is air.
    """
    long, wide, thick = block.size
    if not (0 <= at[0] <= long and 0 <= at[1] <= wide):
        return thick
    floors = (
        cut.air((*at, thick), Face.TOP) for cut in cuts_of(block) if isinstance(cut, LevelCut)
    )
    return round(max(floors, default=0.0), 3)


def gap_under(part: Part, fixture: Fixture, p: Vec) -> float:
    """The distance from where a screw leaves the lowest piece down to the metal of
    the block [mm].
    """
    assert fixture.part is not None
    above = abs(p[fixture.under.axis] - _level(part, fixture))
    return round(above + air_in(fixture.part, seat_on(part, fixture).at(p)), 3)
