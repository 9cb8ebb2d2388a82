"""Seats a fabrication on the block of its fixture: beneath the work, or between its pieces."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from math import ceil, inf

from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.drawing.part import Fixture, Joined, Piece
from barstock.drawing.vectors import cross, dot, plus
from barstock.methods.cuts import LevelCut
from barstock.methods.feature_cuts import axes_of, cuts_of
from barstock.methods.joined_metal import metal_of

AROUND = 6.0  # of the block past the work along its length [mm]; common practice
CARRIED = 0.25  # least share of what a piece could rest on that the block carries; common practice
END = 0.25  # the block carries the work within this share of either end; common practice
JUST_IN = 0.05  # a point so far under a face is just inside the metal [mm]
PAINTED = 4.0  # of the block's top round the work [mm]; common practice
POINTS = 24  # tried on each side of what a piece could rest on

Area = tuple[tuple[float, float], tuple[float, float]]
"""A rectangle of the block's top: two corners, each from its left and front [mm]."""
Span = tuple[float, float]


@dataclass(frozen=True)
class Seat:
    """The seat of the whole on its fixture: unit vectors of the block's length and width, and where
    the block's left front top corner lies, all in the frame of the whole. size: of the block [mm];
    beside: pieces screwed to a side of the block, and the side of the whole it lies on of each.
    """

    along: Vec
    across: Vec
    corner: Vec
    size: tuple[float, float]
    beside: Mapping[str, Face]

    @property
    def up(self) -> Vec:
        """The way out of the block's top."""
        return cross(self.along, self.across)

    def at(self, p: Vec) -> tuple[float, float]:
        """The place of a point of the whole, from the block's left and front [mm]."""
        away = plus(p, self.corner, -1.0)
        return round(dot(away, self.along), 6), round(dot(away, self.across), 6)

    def above(self, p: Vec) -> float:
        """How far a point of the whole lies above the block's top [mm]."""
        return round(dot(plus(p, self.corner, -1.0), self.up), 6)

    def point(self, left: float, front: float, up: float) -> Vec:
        """The point of the whole so far from the block's left and front, above its top [mm]."""
        over = plus(plus(self.corner, self.along, left), self.across, front)
        return plus(over, self.up, up)

    def spans(self, low: Vec, high: Vec) -> tuple[Span, Span]:
        """What a box of the whole takes up of the block's length, and of its width [mm]."""
        a, b = self.at(low), self.at(high)
        return (min(a[0], b[0]), max(a[0], b[0])), (min(a[1], b[1]), max(a[1], b[1]))

    def bottom(self, piece: Piece) -> float:
        """How far a piece's underside lies above the block's top [mm]."""
        return min(self.above(corner) for corner in piece.box)

    def covers(self, piece: Piece) -> bool:
        """Does the piece lie over the block, or under it?"""
        return all(
            low < size - JUST_IN and high > JUST_IN
            for (low, high), size in zip(self.spans(*piece.box), self.size, strict=True)
        )

    def face(self, way: Face) -> Face:
        """The face of the block that looks to a side of the whole."""
        axes = (self.along, self.across, self.up)
        axis = next(i for i, axis in enumerate(axes) if abs(dot(axis, way.normal)) > 0.5)
        return Face.of(axis, 1 if dot(axes[axis], way.normal) > 0 else -1)


def beside_block(joined: Joined, fixture: Fixture) -> dict[str, Face]:
    """The pieces that screws hold to a side of the block, and the side of the whole that the block
    lies on of each: towards the middle of the whole."""
    found = {}
    low, high = joined.box
    for screw in joined.screws:
        if not screw.fixes:
            continue
        hole = screw.holes[-1]
        axis = axes_of(joined, hole)[0][1].axis
        if axis != fixture.under.axis:
            a, b = joined.piece(hole.piece).box
            inward = a[axis] + b[axis] <= low[axis] + high[axis]
            found[hole.piece] = Face.of(axis, 1 if inward else -1)
    return found


def held_along(joined: Joined, axis: int) -> dict[str, float]:
    """The pieces that the fixture holds along an axis of the whole, and where: at the first of the
    screws that run across it, or at the side of the block that they are screwed to [mm]."""
    found = {}
    for screw in joined.screws:
        for hole in screw.holes if screw.fixes else ():
            at, face = axes_of(joined, hole)[0]
            if face.axis != axis:
                found[hole.piece] = at[axis]
    beside = beside_block(joined, joined.fixture) if joined.fixture else {}
    for name, side in beside.items():
        if side.axis == axis:
            found[name] = joined.piece(name).box[side.sign > 0][axis]
    return found


@lru_cache(maxsize=64)
def seat_on(part: Part, fixture: Fixture, width: float = 0.0) -> Seat:
    """The seat of a fabrication on a block: in the middle of it, or with it between the pieces that
    are screwed to its sides, as far up as those over it let it go. width: of the block, as the work
    if 0.
    """
    joined, block = part.joined, fixture.part
    assert joined is not None
    up, beside = fixture.under.opposite.normal, beside_block(joined, fixture)
    axes = [face.axis for face in beside.values()]
    level = [i for i in range(3) if i != fixture.under.axis]
    along = Face.of(axes[0] if axes else level[0], 1).normal
    across = cross(up, along)
    sizes = (block.size[0], block.size[1]) if block else (0.0, width)
    spans = [
        _span(part, axis, beside, size, AROUND if axis == along else 0.0)
        for axis, size in zip((along, across), sizes, strict=True)
    ]
    low = min(dot(corner, up) for corner in part.raw)
    at = [spans[0][0] * along[i] + spans[1][0] * across[i] + low * up[i] for i in range(3)]
    size = (spans[0][1] - spans[0][0], spans[1][1] - spans[1][0])
    lying = Seat(along, across, (at[0], at[1], at[2]), size, beside)
    rise = _rise(joined, fixture, lying)
    return replace(lying, corner=plus(lying.corner, up, rise))


def _span(part: Part, axis: Vec, beside: Mapping[str, Face], size: float, around: float) -> Span:
    """What the block takes up along an axis of the whole: all the room between pieces at both its
    ends, from one end inward, or about the middle of the work. size: the block's, if it is known.
    """
    assert part.joined is not None
    ends = sorted(dot(corner, axis) for corner in part.raw)
    low, high = -inf, inf
    for name, face in beside.items():
        own = sorted(dot(corner, axis) for corner in part.joined.piece(name).box)
        if dot(face.normal, axis) > 0.5:
            low = max(low, own[1])
        elif dot(face.normal, axis) < -0.5:
            high = min(high, own[0])
    if low > -inf and high < inf:
        middle, long = (low + high) / 2, size or high - low
    elif low > -inf:
        long = size or ceil(ends[1] + around - low)
        middle = low + long / 2
    elif high < inf:
        long = size or ceil(high - ends[0] + around)
        middle = high - long / 2
    else:
        long = size or (ceil(ends[1] - ends[0] + 2 * around) if around else ends[1] - ends[0])
        middle = (ends[0] + ends[1]) / 2
    return middle - long / 2, middle + long / 2


def _rise(joined: Joined, fixture: Fixture, lying: Seat) -> float:
    """How far a block that lies under all of the work can go up, until a piece lies on it [mm]."""
    block = fixture.part
    free = []
    for piece in joined.pieces:
        if not lying.covers(piece):
            continue
        low = lying.bottom(piece)
        if block is None:
            free.append(low)
            continue
        air = air_in(block)
        over = [lying.at(p) for p in _land(joined, piece, fixture)]
        free += [low + air(at) for at in over if _over(block, at)]
    if free:
        return round(min(free), 6)
    if not lying.beside:
        return 0.0
    tops = (max(lying.above(c) for c in joined.piece(name).box) for name in lying.beside)
    return min(tops)


def _over(block: Part, at: tuple[float, float]) -> bool:
    return all(0 <= a <= size for a, size in zip(at, block.size[:2], strict=True))


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


@lru_cache(maxsize=64)
def resting(part: Part, fixture: Fixture) -> tuple[Piece, ...]:
    """The pieces that come down to the block."""
    joined = part.joined
    assert joined is not None
    seat = seat_on(part, fixture)
    return tuple(piece for piece in joined.pieces if _rests(joined, piece, fixture, seat))


def _rests(joined: Joined, piece: Piece, fixture: Fixture, seat: Seat) -> bool:
    """Does a piece lie on the block's top, or on the floor of a step of it?"""
    if abs(seat.bottom(piece)) < JUST_IN:
        return not seat.beside or seat.covers(piece)
    return bool(_carried(joined, piece, fixture, seat))


def _carried(joined: Joined, piece: Piece, fixture: Fixture, seat: Seat) -> list[Span]:
    """Where the block carries a piece, from its left and front."""
    block = fixture.part
    if block is None:
        return []
    low, air = seat.bottom(piece), air_in(block)
    over = [seat.at(p) for p in _land(joined, piece, fixture)]
    return [at for at in over if _over(block, at) and abs(low + air(at)) < JUST_IN]


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
        carried = _carried(part.joined, piece, fixture, seat)
        all_land, all_carried = all_land + over, all_carried + carried
        if len(carried) < CARRIED * len(land):
            what = (
                f"the fixture '{fixture.part.name}' carries '{piece.name}' on "
                f"{len(carried) / len(land):.0%} of what it could rest on"
            )
            yield Fault(fixture.place, what, mend, part.name)
    for way, name in ((0, "length"), (1, "width")):
        if seat.beside:  # the pieces at its sides are held by those
            break
        low, high = _extremes(all_land, way)
        first, last = _extremes(all_carried, way)
        if all_carried and max(first - low, high - last) > END * (high - low):
            what = (
                f"the fixture '{fixture.part.name}' does not carry the work at both ends of the "
                f"block's {name}"
            )
            yield Fault(fixture.place, what, mend, part.name)


def _extremes(points: Sequence[Span], way: int) -> Span:
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


def air_in(block: Part) -> Callable[[Span], float]:
    """How deep slots leave nothing under a place of the block's top, its own holes aside [mm]: of a
    place from its left and front. Beside the block all of its thickness is air.
    """
    long, wide, thick = block.size
    cuts = [cut for cut in cuts_of(block) if isinstance(cut, LevelCut)]

    def air(at: Span) -> float:
        if not (0 <= at[0] <= long and 0 <= at[1] <= wide):
            return thick
        floors = (cut.air((*at, thick), Face.TOP) for cut in cuts)
        return round(max(floors, default=0.0), 3)

    return air
