"""Finds where the fixing screws of a fabrication go, by its drawing, and so how long
they must be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barstock.drawing.build import Face, Part
from barstock.drawing.part import FixingScrew, Joined, ScrewHole
from barstock.fabricating.fixing_screws import ScrewLength, ScrewPlace, check_screw, screw_length
from barstock.fabricating.fixture_holes import InBlock, fixture_holes, in_block
from barstock.fabricating.fixture_seat import air_in, seat_on
from barstock.methods.feature_cuts import screw_hole
from barstock.workshop.shop import Workshop


def screw_lengths(part: Part, workshop: Workshop) -> Iterator[ScrewLength]:
    """The length of every fixing screw that has a place to go."""
    joined = part.joined
    assert joined is not None
    for screw in joined.screws:
        place = _screw_place(part, joined, screw)
        if place is None:
            continue
        owned = [s.lengths for s in workshop.screws if (s.thread, s.of) == (place.thread, place.of)]
        found = screw_length(place, owned[0] if owned else ())
        if screw.length:
            found = replace(
                found,
                stock=screw.length,
                cut_to=screw.length,
                findings=check_screw(place, screw.length),
                to_buy=not (owned and screw.length in owned[0]),
            )
        yield found


def _screw_place(part: Part, joined: Joined, screw: FixingScrew) -> ScrewPlace | None:
    """What a screw passes on its way and what it is tapped into."""
    grips = [_thickness(joined, hole) for hole in screw.through]
    fixture = joined.fixture.part if joined.fixture else None
    count = len(screw_hole(joined, screw.holes[-1]).at) * (1 if screw.fixes else part.copies)
    if screw.fixes:
        if fixture is None:
            return None
        found = _in_block(part, screw)
        if not found:
            return None
        grips.append((min(gap for gap, _ in found), max(gap for gap, _ in found)))
        inside = [one for _, one in found]
        rough = fixture.height.high - fixture.height.low if not screw.through else 0.0
        least, most = min(i.plain for i in inside), max(i.plain for i in inside)
        grips.append((least - rough / 2, most + rough / 2))
    least, most = sum(g[0] for g in grips), sum(g[1] for g in grips)
    if screw.into is None:
        assert fixture is not None
        return ScrewPlace(
            screw.name,
            screw.thread,
            least,
            most,
            fixture.material,
            min(i.thread for i in inside),
            blind=any(i.blind for i in inside),
            out=min(i.out for i in inside),
            count=count,
            of=screw.material,
        )
    bore = screw_hole(joined, screw.into)
    return ScrewPlace(
        screw.name,
        bore.thread,
        least,
        most,
        joined.piece(screw.into.piece).part.material,
        bore.depth,
        blind=not bore.through,
        count=count,
        of=screw.material,
    )


def _thickness(joined: Joined, hole: ScrewHole) -> tuple[float, float]:
    """Length of a piece that a screw passes, least and most [mm]."""
    cut, part = screw_hole(joined, hole), joined.piece(hole.piece).part
    whole = part.dimension(cut.face.axis)
    less = whole.nominal - cut.depth  # where the hole starts on a floor
    bored = cut.counterbore[1] if cut.counterbore else 0.0
    return whole.low - less - bored, whole.high - less - bored


def _in_block(part: Part, screw: FixingScrew) -> list[tuple[float, InBlock]]:
    """What each screw finds in the block, with the air before it [mm]."""
    joined = part.joined
    assert joined is not None
    assert joined.fixture is not None
    assert joined.fixture.part is not None
    fixture, block = joined.fixture, joined.fixture.part
    seat = seat_on(part, fixture)
    holes = fixture_holes(part, seat)
    found = []
    for hole in holes:
        if hole.screw.name != screw.name:
            continue
        inside = in_block(block, hole, shared=any(map(hole.meets, holes)))
        if inside is not None:
            air = 0.0
            if hole.face is Face.TOP:
                # under the piece that it holds
                air = seat.bottom(joined.piece(hole.piece)) + air_in(block)(hole.at)
            found.append((round(air, 3), inside))
    return found
