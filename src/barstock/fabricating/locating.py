"""Finds what locates each piece of a fabrication on its fixture: screws, pins, or another piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from math import dist

from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.drawing.part import FixingScrew, Fixture, Joined, Piece
from barstock.drawing.vectors import dot
from barstock.fabricating.firing import working_temperature
from barstock.fabricating.fixture_holes import CLOSE, fixture_holes
from barstock.fabricating.fixture_seat import Seat, beside_block, resting, seat_on
from barstock.fabricating.gap_chain import gap_from
from barstock.fabricating.growth import outgrows
from barstock.fabricating.joints import PLACED
from barstock.handbook.brazing import brazing_alloy
from barstock.handbook.heat import elongation
from barstock.methods.cuts import HoleCut
from barstock.methods.feature_cuts import axes_of, hole_of
from barstock.methods.joined_metal import metal_of
from barstock.methods.pieces_meeting import meeting
from barstock.quantities import Length
from barstock.route import LocatedPiece

APART = 5.0  # work may turn on two screws nearer than this [mm]; common practice
TALL = 6.0  # of a pin out of the block [mm], or six tenths of a low piece; common practice
TOUCHES = 0.05  # a pin so near a side touches it [mm]


@dataclass(frozen=True)
class Stop:
    """A pin in the block that a piece is pushed against. side: of the whole, where the pin stands
    beside the piece; at: its middle, from the block's left and front; size: its diameter; tall: how
    far it stands out of the block [mm]."""

    piece: str
    side: Face
    at: tuple[float, float]
    size: float
    tall: float


def tall_beside(piece: Piece, fixture: Fixture) -> float:
    """The height that a pin beside a piece stands out of the block [mm]."""
    low, high = piece.box
    return round(min(TALL, 0.6 * (high[fixture.under.axis] - low[fixture.under.axis])), 1)


def sides_wanted(part: Part, fixture: Fixture) -> dict[str, list[frozenset[int]]]:
    """The pieces on the block that nothing locates, and across which axes of the whole each wants a
    stop: across either where it may turn on a single screw of the fixture, across both where none
    holds it, but for the way it is butted against another piece."""
    joined = part.joined
    assert joined is not None
    level = frozenset(range(3)) - {fixture.under.axis}
    found = {}
    for piece in resting(part, fixture):
        if _by_screws(joined, piece, fixture):
            continue
        if _lies_in(joined, piece) or _screwed_to(joined, piece):
            continue
        screwed = any(_places(joined, screw, piece) for screw in joined.screws if screw.fixes)
        free = level - {axis for axis, _ in _butted(joined, piece)}
        found[piece.name] = [level] if screwed else [frozenset({axis}) for axis in sorted(free)]
    return found


def _butted(joined: Joined, piece: Piece) -> Iterator[tuple[int, str]]:
    """The axes across which a piece meets another in a joint, and that one."""
    for joint in joined.joints:
        met = meeting(joint, joined) if piece.name in joint.pieces else None
        if met is not None:
            yield met.normal.axis, _other(joint.pieces, piece.name)


def _by_screws(joined: Joined, piece: Piece, fixture: Fixture) -> bool:
    """Do screws of the fixture keep it from turning?"""
    places = [p for s in joined.screws if s.fixes for p in _places(joined, s, piece)]
    beside = beside_block(joined, fixture).get(piece.name, fixture.under)
    return _far(places, beside.axis) >= APART


def _lies_in(joined: Joined, piece: Piece) -> str:
    """The piece that it lies in, "" where it lies in none."""
    for joint in joined.joints:
        met = piece.name in joint.pieces and meeting(joint, joined) is not None
        if met and gap_from(joined, joint).inner == piece.name:
            return _other(joint.pieces, piece.name)
    return ""


def _screwed_to(joined: Joined, piece: Piece) -> tuple[str, ...]:
    """The pieces to which screws keep it from turning."""
    screws = [s for s in joined.screws if not s.fixes and _places(joined, s, piece)]
    places = [p for s in screws for p in _places(joined, s, piece)]
    axis = axes_of(joined, screws[0].holes[0])[0][1].axis if screws else 0
    if _far(places, axis) < APART:
        return ()
    return tuple(dict.fromkeys(h.piece for s in screws for h in s.holes if h.piece != piece.name))


def _other(pair: tuple[str, str], name: str) -> str:
    return pair[1] if pair[0] == name else pair[0]


def _places(joined: Joined, screw: FixingScrew, piece: Piece) -> list[Vec]:
    """Where a screw's axes go through a piece."""
    holes = [hole for hole in screw.holes if hole.piece == piece.name]
    return [at for hole in holes for at, _ in axes_of(joined, hole)]


def _far(places: list[Vec], axis: int) -> float:
    """How far the farthest of parallel axes lie apart [mm]."""
    flat = [tuple(p[i] for i in range(3) if i != axis) for p in places]
    return max((dist(a, b) for a, b in combinations(flat, 2)), default=0.0)


# -- the pins of a block ---------------------------------------------------------------------------


def stops_in(part: Part, fixture: Fixture) -> list[Stop]:
    """The pins of a block: its plain holes that no screw goes into, where they touch a piece."""
    assert part.joined is not None
    seat = seat_on(part, fixture)
    found = []
    for at, bore in _pins(part, fixture, seat):
        size = bore.diameter
        for piece in resting(part, fixture):
            tall = tall_beside(piece, fixture)
            metal = metal_of(replace(part.joined, pieces=(piece,)))
            for side in (f for f in Face if f.axis != fixture.under.axis):
                way = (dot(side.normal, seat.along), dot(side.normal, seat.across))
                near, clear = (
                    seat.point(at[0] - way[0] * by, at[1] - way[1] * by, tall / 2)
                    for by in (size / 2 + TOUCHES, size / 2 - TOUCHES)
                )
                if metal(near) and not metal(clear):
                    found.append(Stop(piece.name, side, at, size, tall))
    return found


def _pins(
    part: Part, fixture: Fixture, seat: Seat
) -> Iterator[tuple[tuple[float, float], HoleCut]]:
    """Where pins may stand in a block, from its left and front."""
    assert fixture.part is not None
    screws = [hole.at for hole in fixture_holes(part, seat) if hole.face is Face.TOP]
    for bore in (hole_of(feature, fixture.part) for feature in fixture.part.features):
        if bore is None or bore.thread or bore.face.axis != Face.TOP.axis:
            continue
        for at in bore.at:
            if all(dist(at[:2], screw) > PLACED for screw in screws):
                yield (at[0], at[1]), bore


def laid(part: Part, fixture: Fixture) -> frozenset[str]:
    """The pieces without a screw that pins, and what they are butted against, keep in place as long
    as the block is level."""
    found = set()
    stops = stops_in(part, fixture)
    for name, wants in sides_wanted(part, fixture).items():
        axes = {stop.side.axis for stop in stops if stop.piece == name}
        if axes and all(want & axes for want in wants):
            found.add(name)
    return frozenset(found)


def located(part: Part, fixture: Fixture) -> Iterator[LocatedPiece]:
    """The screws, pins or pieces that locate each piece."""
    joined = part.joined
    assert joined is not None
    stops, wanted = stops_in(part, fixture), sides_wanted(part, fixture)
    for piece in joined.pieces:
        pins = tuple(dict.fromkeys(stop.side for stop in stops if stop.piece == piece.name))
        screws = len([p for s in joined.screws if s.fixes for p in _places(joined, s, piece)])
        lies_in, screwed_to, shimmed_to = "", tuple[str, ...](), tuple[str, ...]()
        if piece.name not in wanted and not _by_screws(joined, piece, fixture):
            lies_in = _lies_in(joined, piece)
            screwed_to = () if lies_in else _screwed_to(joined, piece)
        elif not screws:
            beside = _butted(joined, piece)
            shimmed_to = tuple(other for axis, other in beside if axis != fixture.under.axis)
        axes = {side.axis for side in pins}
        found = screws or pins or lies_in or screwed_to or shimmed_to
        yield LocatedPiece(
            piece=piece.name,
            screws=screws,
            pins=pins,
            lies_in=lies_in,
            screwed_to=screwed_to,
            shimmed_to=shimmed_to,
            free=not found or not all(want & axes for want in wanted.get(piece.name, ())),
        )


def stop_faults(part: Part, fixture: Fixture) -> Iterator[Fault]:
    """The faults of pins that stand in the work's way, or that it presses on as it grows."""
    joined = part.joined
    assert joined is not None
    assert fixture.part is not None
    seat = seat_on(part, fixture)
    metal = metal_of(joined)
    for at, bore in _pins(part, fixture, seat):
        if bore.finish == "reamed" and metal(seat.point(*at, TOUCHES)):
            what = (
                f"the reamed hole of '{fixture.part.name}' at {Length(at[0]):g} from its left, "
                f"{Length(at[1]):g} from its front lies under the work: no pin can stand in it"
            )
            yield Fault(fixture.place, what, "move it beside the work", part.name)
    for stop in stops_in(part, fixture):
        by = pressed(part, fixture, seat, stop)
        if by > room():
            what = (
                f"fixture too tight: '{stop.piece}' grows {Length(by):.2f} against the pin at its "
                f"{stop.side}, {Length(stop.size):g} across"
            )
            mend = "put it on the side that the piece grows away from"
            yield Fault(fixture.place, what, mend, part.name)


def room() -> float:
    """The room that work has to press on a pin before it moves: what its locating
    hole gives [mm].
    """
    return CLOSE / 2


def pressed(part: Part, fixture: Fixture, seat: Seat, stop: Stop) -> float:
    """The most that a piece comes against a pin that just touches it cold, as it grows against the
    block or shrinks back, joined [mm].
    """
    joined = part.joined
    assert joined is not None
    datum = next((h.at for h in fixture_holes(part, seat) if h.face is Face.TOP), stop.at)
    way = (dot(stop.side.normal, seat.along), dot(stop.side.normal, seat.across))
    away = sum((a - d) * w for a, d, w in zip(stop.at, datum, way, strict=True)) - stop.size / 2
    return max(away * rate for rate in _rates(joined, fixture.material))


def _rates(joined: Joined, block: str) -> Iterator[float]:
    """By how much a length of the work outgrows the block's (mm/mm): at heat, and cold again once
    it has been joined."""
    alloys = [joint.fillers[0] for joint in joined.joints]
    heat = working_temperature(alloys)
    freezes = min(brazing_alloy(alloy).solidus for alloy in alloys)
    for of in dict.fromkeys(piece.part.material for piece in joined.pieces):
        yield from outgrows(of, block, heat)
        yield elongation(block, freezes) - elongation(of, freezes)
