"""Holes of a fixture's block for the screws that hold the work, and what growth asks of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from barstock.drawing.build import Fault, Part
from barstock.drawing.part import FixingScrew, Fixture, Joined
from barstock.fabricating.firing import working_temperature
from barstock.fabricating.fixture_seat import Seat, air_in, resting, seat_on
from barstock.fabricating.growth import Hold, HoleGrowth, hole_growths
from barstock.handbook.heat import elongation
from barstock.handbook.threads import Thread, thread
from barstock.methods.feature_cuts import axes_of, screw_hole

CLOSE = 0.1  # by which a hole that locates is wider than its screw [mm]; common practice


@dataclass(frozen=True)
class FixtureHole:
    """A hole of the block for a screw: where it is from left and front, and how wide [mm].

    tapped: the screw goes into the block, through a hole of the piece; else it comes through the
    block and goes into the piece.
    """

    screw: FixingScrew
    piece: str
    at: tuple[float, float]
    form: Thread
    tapped: bool
    growth: HoleGrowth


def fixture_holes(part: Part, seat: Seat) -> list[FixtureHole]:
    """The holes that the block must have; the first locates, the others leave room to grow."""
    joined = part.joined
    assert joined is not None
    assert joined.fixture is not None
    places = list(_places(joined, seat))
    heat = working_temperature([joint.fillers[0] for joint in joined.joints])
    together = _quickest(joined, heat)
    holds = tuple(
        Hold(
            name=screw.name,
            piece=part.name,
            at=at,
            hole=_piece_hole(joined, screw, form),
            shank=form.major,
            locates=n == 0,
        )
        for n, (screw, _, at, form) in enumerate(places)
    )
    grown = hole_growths(holds, {part.name: together}, joined.fixture.material, heat)
    return [
        FixtureHole(screw, piece, at, form, screw.into is None, growth)
        for (screw, piece, at, form), growth in zip(places, grown, strict=True)
    ]


def _places(
    joined: Joined, seat: Seat
) -> Iterator[tuple[FixingScrew, str, tuple[float, float], Thread]]:
    for screw in joined.screws:
        if not screw.fixes:
            continue
        hole = screw.through[-1] if screw.into is None else screw.into
        word = screw.thread or screw_hole(joined, hole).thread
        for at, _ in axes_of(joined, hole):
            yield screw, hole.piece, seat.at(at), thread(word)


def _quickest(joined: Joined, heat: float) -> str:
    """The material of the pieces that grows most, which the whole cannot outgrow."""
    return max((p.part.material for p in joined.pieces), key=lambda of: elongation(of, heat))


def _piece_hole(joined: Joined, screw: FixingScrew, form: Thread) -> float:
    """Diameter of the hole that the screw has room in: the piece's where the block is tapped."""
    if screw.into is None and screw.through:
        return screw_hole(joined, screw.through[-1]).diameter
    return form.major + CLOSE


def block_hole(hole: FixtureHole) -> float:
    """The diameter of a plain hole of the block [mm]: close to locate, else with room to grow."""
    if hole.growth.hold.locates:
        return round(hole.form.major + CLOSE, 3)
    return ceil(hole.growth.needs * 10 - 1e-9) / 10


def heads_beneath(part: Part, fixture: Fixture) -> Iterator[Fault]:
    """Screws from piece to piece whose heads would stand between the work and the block. A cap
    screw's head is as tall as its thread is thick (ISO 4762; from memory)."""
    joined = part.joined
    assert joined is not None
    assert fixture.part is not None
    seat, lowest = seat_on(part, fixture), [piece.name for piece in resting(part, fixture)]
    axis, sign = fixture.under.axis, fixture.under.sign
    for screw in joined.screws:
        if screw.fixes or screw.into is None or screw.through[0].piece not in lowest:
            continue
        head = axes_of(joined, screw.through[0])
        middles = [sum(joined.piece(hole.piece).box[i][axis] for i in (0, 1)) / 2
                   for hole in (screw.through[0], screw.into)]  # fmt: skip
        from_above = (middles[1] - middles[0]) * sign > 0
        if head[0][1].axis != axis or from_above:
            continue
        counterbore = screw_hole(joined, screw.through[0]).counterbore
        tall = thread(screw_hole(joined, screw.into).thread).major
        sunk = counterbore[1] if counterbore else 0.0
        if head[0][1] is not fixture.under:
            sunk = 0.0
        if any(sunk + air_in(fixture.part, seat.at(at)) < tall for at, _ in head):
            what = (
                f"the head of fixing screw '{screw.name}', {tall:g} mm tall, stands between the "
                f"work and its fixture, which lies under the {fixture.under} face"
            )
            mend = "counterbore its hole, put it in from the other side, or lay another face down"
            yield Fault(screw.place, what, mend, part.name)
