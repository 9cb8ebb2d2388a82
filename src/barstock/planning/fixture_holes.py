"""Holes of a fixture's block for the screws that hold the work, and what growth asks of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from barstock.drawing.fabrication import FixingScrew, Joined
from barstock.drawing.model import Part
from barstock.handbook.threads import Thread, thread
from barstock.joining.firing import working_temperature
from barstock.joining.growth import Hold, HoleGrowth, hole_growths
from barstock.methods.meeting import axes_of
from barstock.planning.fixture_seat import Seat

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
            hole=_piece_hole(screw, form),
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
        word = screw.thread or hole.feature.spec.bore.thread
        for at, _ in axes_of(joined, hole):
            yield screw, hole.piece, seat.at(at), thread(word)


def _quickest(joined: Joined, heat: float) -> str:
    """The material of the pieces that grows most: the whole grows no more than all of it would."""
    from barstock.handbook.heat import elongation

    return max((p.part.material for p in joined.pieces), key=lambda of: elongation(of, heat))


def _piece_hole(screw: FixingScrew, form: Thread) -> float:
    """What the screw has room in: the piece's hole where the block is tapped."""
    if screw.into is None and screw.through:
        return float(screw.through[-1].feature.spec.bore.diameter)
    return form.major + CLOSE


def block_hole(hole: FixtureHole) -> float:
    """Diameter of a plain hole of the block [mm]: close to locate, else with room to grow."""
    if hole.growth.hold.locates:
        return round(hole.form.major + CLOSE, 3)
    return ceil(hole.growth.needs * 10 - 1e-9) / 10
