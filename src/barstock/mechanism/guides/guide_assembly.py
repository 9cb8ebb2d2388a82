"""This module puts the parts of a guide where they stand.

x is ahead, y to the left, z up, and the block's middle is at 0 [mm].
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from barstock.drawing.build import Build, Face, Part, Vec
from barstock.drawing.guides import Guide, Standing
from barstock.drawing.part import Piece
from barstock.methods import KINDS
from barstock.methods.drawn_solid import drawn_solid
from barstock.solids.shapes import Placement, Solid


@dataclass(frozen=True)
class Removed:
    """A Removed is what a feature takes away.

    name: part/feature; solid: in the frame of the feature's own part. round_hole: whether it is one
    round hole, or some alike. pieces: those of the whole that lead to that part, outermost first;
    none where it is the whole.
    """

    name: str
    round_hole: bool
    solid: Solid
    pieces: tuple[Piece, ...] = ()

    def contains(self, point: Vec) -> bool:
        """Tell whether a point of the whole lies in it or on its skin."""
        for piece in self.pieces:
            point = piece.back(point)
        return self.solid.contains(point)


@dataclass(frozen=True)
class Stood:
    """A Stood is a part where it stands.

    part: as drawn or as made; solid: in its place.
    """

    standing: Standing
    part: Part
    placement: Placement
    solid: Solid

    @cached_property
    def removed(self) -> tuple[Removed, ...]:
        """List what each of its features takes away, then those of its pieces."""
        return tuple(_removed(self.part))


def _removed(part: Part, pieces: tuple[Piece, ...] = ()) -> Iterator[Removed]:
    for feature in part.features:
        kind = KINDS[feature.kind]
        gone = kind.removes(feature.spec, part)
        yield Removed(f"{part.name}/{feature.name}", kind.round_holes, gone, pieces)
    for piece in part.joined.pieces if part.joined else ():
        yield from _removed(piece.part, (*pieces, piece))


def stood(guide: Guide, build: Build) -> tuple[Stood, ...]:
    """Give the block at rest, then all that stands fixed about it."""
    solids: dict[str, Solid] = {}
    found = []
    for standing in (guide.block, *guide.fixed):
        part = build.part(standing.part)
        if part.name not in solids:
            solids[part.name] = drawn_solid(part)
        where = placement(standing, part)
        found.append(Stood(standing, part, where, solids[part.name].moved(where)))
    return tuple(found)


def placement(standing: Standing, part: Part, at: dict[int, float] | None = None) -> Placement:
    """Return the motion that stands a part in its place.

    at: sizes to take instead of those aimed at by the standing's `at`, by their number there.
    """
    ahead = standing.ahead.opposite if standing.side > 0 else standing.ahead
    forward, up = ahead.normal, standing.up.normal
    turn = Placement((forward, _cross(up, forward), up))
    middle = turn.turn((part.size[0] / 2, part.size[1] / 2, part.size[2] / 2))
    shift = [-m for m in middle]
    for number, (face, size) in enumerate(standing.at):
        value = (at or {}).get(number, size.aimed().nominal)
        if standing.side and number == 0:
            value *= standing.side / 2
        looks = turn.turn(face.normal)
        axis = max(range(3), key=lambda i: abs(looks[i]))
        shift[axis] = value - turn.turn(_on(face, part))[axis]
    return Placement(turn.rotation, (shift[0], shift[1], shift[2]))


def _on(face: Face, part: Part) -> Vec:
    """Return a point of a face."""
    p = [0.0, 0.0, 0.0]
    p[face.axis] = part.size[face.axis] if face.sign > 0 else 0.0
    return (p[0], p[1], p[2])


def _cross(a: Vec, b: Vec) -> Vec:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
