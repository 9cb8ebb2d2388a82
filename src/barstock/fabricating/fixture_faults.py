"""What is wrong with the block of a fixture: its seat, its pins, its holes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barstock.drawing.build import Face, Fault, Part
from barstock.drawing.part import Fixture, Joined
from barstock.fabricating.fixture_holes import (
    FixtureHole,
    bore_of,
    fixture_holes,
    heads_beneath,
)
from barstock.fabricating.fixture_seat import Seat, seat_faults, seat_on
from barstock.fabricating.growth import holds_too_tight
from barstock.fabricating.locating import stop_faults
from barstock.quantities import Length

EDGE = 1.5  # of a hole's diameters between its centre and the block's edge; common practice


def pointing_past(part: Part, joined: Joined, fixture: Fixture) -> Iterator[Fault]:
    """Screws of the fixture that come at no side of its block, or at four of one that would have to
    be made for them."""
    seat = seat_on(part, fixture)
    if min(seat.size) <= 0:
        first = next(screw for screw in joined.screws if screw.fixes)
        what = f"there is no room for the fixture between {' and '.join(seat.beside)}"
        mend = "screw them to the fixture square to the face that lies on it"
        yield Fault(first.place, what, mend, part.name)
        return
    if fixture.part is None and len(set(seat.beside.values())) == 4:
        what = "no bar makes a fixture that fills the room between pieces on four sides"
        mend = "mill a block of your own, and name it as its 'part'"
        yield Fault(fixture.place, what, mend, part.name)
        return
    told = set()
    for hole in fixture_holes(part, seat):
        aside = hole.face.axis != Face.TOP.axis
        if aside and hole.below <= 0 and hole.screw.name not in told:
            told.add(hole.screw.name)
            what = (
                f"fixing screw '{hole.screw.name}' does not point at the fixture, which lies under "
                f"the {fixture.under} face"
            )
            mend = "lay the fixture under another face, or name a hole square to that one"
            yield Fault(hole.screw.place, what, mend, part.name)


def fixture_faults(part: Part) -> Iterator[Fault]:
    """The faults of a fixture: its seat, its pins, holes that it lacks, that bind or lie too near
    its edge.
    """
    joined = part.joined
    assert joined is not None
    fixture = joined.fixture
    assert fixture is not None
    assert fixture.part is not None
    seat = seat_on(part, fixture)
    holes = fixture_holes(part, seat)
    if not holes:
        what = f"nothing holds '{part.name}' to its fixture"
        mend = "add a fixing screw 'into: fixture', or 'through: fixture'"
        yield Fault(fixture.place, what, mend, part.name)
    yield from seat_faults(part, fixture)
    yield from stop_faults(part, fixture)
    yield from heads_beneath(part, fixture)
    for hole in holes:
        yield from _edge(part, fixture, seat, hole)
        bore = bore_of(fixture.part, hole)
        if bore is None:
            what = (
                f"the fixture '{fixture.part.name}' has no hole for '{hole.screw.name}' at "
                f"{_place(hole)}"
            )
            yield Fault(fixture.place, what, "drill one there", part.name)
            continue
        if hole.tapped:
            if bore.thread != hole.form.name:
                what = f"the fixture is not tapped {hole.form.name} for '{hole.screw.name}'"
                yield Fault(fixture.place, what, f"give it 'thread: {hole.form.name}'", part.name)
            tight = holds_too_tight((hole.growth,))
        else:
            hold = replace(hole.growth.hold, hole=bore.diameter)
            tight = holds_too_tight((replace(hole.growth, hold=hold),))
        for finding in tight:
            place = hole.screw.place if hole.tapped else fixture.place
            what = f"fixture too tight: {finding.about}: {finding.what}"
            yield Fault(place, what, finding.mend, part.name)


def _place(hole: FixtureHole) -> str:
    left, front = hole.at
    from_left, from_front = f"{Length(left):g} from its left", f"{Length(front):g} from its front"
    if hole.face is Face.TOP:
        return f"{from_left}, {from_front}"
    along = from_front if hole.face.axis == 0 else from_left
    return f"{along}, {Length(hole.below):g} below its top, in its {hole.face}"


def _edge(part: Part, fixture: Fixture, seat: Seat, hole: FixtureHole) -> Iterator[Fault]:
    assert fixture.part is not None
    least = EDGE * hole.form.major
    sizes = (*seat.size, fixture.part.size[2])
    spot = (*hole.at, hole.spot[2] + sizes[2])
    room = min(min(spot[i], sizes[i] - spot[i]) for i in range(3) if i != hole.face.axis)
    if room < least - 1e-6:
        what = (
            f"the hole for '{hole.screw.name}' lies {Length(room):.1f} from the edge of the "
            f"fixture, {Length(least):.1f} is the least"
        )
        yield Fault(fixture.place, what, "use a larger block, or another hole", part.name)
