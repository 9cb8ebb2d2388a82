"""This module gives the places of a track that a vehicle is tried at, with the rails' heights.

They are what EN 14363 tests at standstill: twisted track, and curves with and without speed. What a
track has is the club's to say; figures of full-size railways do not hold for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import cos, inf, pi

from barstock.drawing.track_measured import Dip, Track
from barstock.drawing.vehicle import Vehicle
from barstock.reading.amounts import G

UNLOADING = 0.6
"""Most of its load on level track that a wheel may lose, ΔQ/Q0. EN 14363:2016, safety against
derailment on twisted track; from memory."""

SOURCE = "EN 14363:2016, safety against derailment on twisted track (from memory)"

TRIED = 48
"""A vehicle is tried at so many places along a dip."""


@dataclass(frozen=True)
class Case:
    """A Case is a place on the track.

    rails: height under each wheel [mm]; lean: sideways push to the right on every mass, as a share
    of its weight.
    """

    name: str
    rails: dict[str, float]
    lean: float = 0.0


def cases(vehicle: Vehicle, track: Track) -> Iterator[Case]:
    """List the places to try: level, both twists, a dip under either rail, the curve both ways."""
    yield Case("level track", _rails(vehicle, lambda along, side: 0.0))
    if track.twist:
        for words, hand in (("falling to the left", 1), ("falling to the right", -1)):

            def twisted(along: float, side: int, hand: int = hand) -> float:
                return hand * side * track.twist * along / 2

            yield Case(f"twisted track, {words}", _rails(vehicle, twisted))
    if track.dip:
        yield from _dips(vehicle, track.dip)
    if track.radius < inf:
        fast = track.speed**2 / (track.radius / 1000) / G
        for hand, word in ((1, "left"), (-1, "right")):

            def canted(along: float, side: int, hand: int = hand) -> float:
                return -side * hand * track.cant / 2

            yield Case(f"curve to the {word}, standing", _rails(vehicle, canted))
            if fast:
                name = f"curve to the {word}, at the highest speed"
                yield Case(name, _rails(vehicle, canted), hand * fast)


def joints(track: Track, along: float, side: int) -> float:
    """Return the height of a rail with dipped joints [mm]. side: 1 left, -1 right."""
    rail = track.joints
    if rail is None:
        return 0.0
    start = rail.spacing / 2 if rail.staggered and side < 0 else 0.0
    return -sunk(Dip(rail.depth, rail.length), (along - start) % rail.spacing)


def sunk(dip: Dip, along: float) -> float:
    """Return how far the rail lies low within a dip [mm]: one wave of a cosine."""
    if not 0 < along < dip.length:
        return 0.0
    return dip.depth * (1 - cos(2 * pi * along / dip.length)) / 2


def _dips(vehicle: Vehicle, dip: Dip) -> Iterator[Case]:
    """List a dip in the left rail, and one in the right, with the vehicle at places all along."""
    ends = [axle.along for axle in vehicle.axles]
    run = dip.length + max(ends) - min(ends)
    for side, word in ((1, "left"), (-1, "right")):
        for n in range(TRIED):
            start = max(ends) - run * (n + 0.5) / TRIED

            def low(along: float, rail: int, side: int = side, start: float = start) -> float:
                return -sunk(dip, along - start) if rail == side else 0.0

            yield Case(f"dip in the {word} rail", _rails(vehicle, low))


def _rails(vehicle: Vehicle, height: Callable[[float, int], float]) -> dict[str, float]:
    return {
        box: height(axle.along, side)
        for axle in vehicle.axles
        for box, side in zip(axle.boxes, (1, -1), strict=True)
    }
