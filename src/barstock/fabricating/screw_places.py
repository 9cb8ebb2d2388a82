"""Finds where the fixing screws of a fabrication go, by its drawing, and so how long
they must be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from barstock.drawing.build import Part
from barstock.drawing.part import FixingScrew, Joined, ScrewHole
from barstock.fabricating.fixing_screws import ScrewLength, ScrewPlace, check_screw, screw_length
from barstock.fabricating.fixture_seat import gap_under
from barstock.methods.feature_cuts import axes_of, screw_hole
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
        found = screw_length(place, owned[0] if owned else None)
        if screw.length:
            wrong = check_screw(place, screw.length)
            found = replace(found, stock=screw.length, cut_to=screw.length, findings=wrong)
        yield found


def _screw_place(part: Part, joined: Joined, screw: FixingScrew) -> ScrewPlace | None:
    """What a screw passes on its way and what it is tapped into."""
    grips = [_thickness(joined, hole) for hole in screw.through]
    fixture = joined.fixture.part if joined.fixture else None
    if screw.fixes and fixture is None:
        return None
    if screw.fixes:
        grips.append(_gap(part, joined, screw))
    if not screw.through and fixture is not None:
        grips.append((fixture.height.low, fixture.height.high))
    least, most = sum(g[0] for g in grips), sum(g[1] for g in grips)
    count = len(screw_hole(joined, screw.holes[-1]).at) * (1 if screw.fixes else part.copies)
    if screw.into is None:
        assert fixture is not None
        return ScrewPlace(
            screw.name, screw.thread, least, most, fixture.material, fixture.height.nominal,
            count=count, of=screw.material,
        )  # fmt: skip
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


def _gap(part: Part, joined: Joined, screw: FixingScrew) -> tuple[float, float]:
    """Air between the block and the piece a screw holds to it, least and most [mm]."""
    assert joined.fixture is not None
    hole = screw.through[-1] if screw.into is None else screw.into
    box, under = joined.piece(hole.piece).box, joined.fixture.under
    gaps = []
    for at, _ in axes_of(joined, hole):
        low = list(at)
        low[under.axis] = box[1 if under.sign > 0 else 0][under.axis]
        gaps.append(gap_under(part, joined.fixture, (low[0], low[1], low[2])))
    return min(gaps), max(gaps)
