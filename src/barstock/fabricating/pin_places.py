"""Places for pins in a block of barstock's own: beside each piece that nothing else locates, clear
of joints, flame, screws and growth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import product
from math import ceil, cos, dist, hypot, pi, sin

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.part import Fixture, Piece
from barstock.drawing.vectors import dot
from barstock.fabricating.fixture_holes import FixtureHole, block_hole, tapped_deep
from barstock.fabricating.fixture_seat import Seat
from barstock.fabricating.flame_cut_outs import CLEAR, CutOut
from barstock.fabricating.locating import (
    APART,
    Stop,
    pressed,
    room,
    sides_wanted,
    tall_beside,
)
from barstock.methods.joined_metal import Metal, metal_of
from barstock.methods.pieces_meeting import meeting
from barstock.quantities import INCH, Unit
from barstock.workshop.shop import ToolKind, Workshop

SIZES = (2.0, 6.0)  # thinnest and thickest pin [mm]; common practice
NO_REAMER = {Unit.MM: 3.0, Unit.INCH: INCH / 8}
"""Size of pin where the shop has no reamer for one [mm]: a parallel pin of ISO 2338, a dowel of
ASME B18.8.2; from memory."""
WALL = 2.0  # of the block beside a pin's hole [mm]; common practice
AIR = 0.2  # from a pin to what it must not touch [mm]
CORNER = 1.0  # of a piece's side past where a pin touches it [mm]; common practice
JUST_IN = 0.02  # a point so far under a side is just inside the metal [mm]
BESIDE = 1.0  # between places tried along a side [mm]
FINE = 0.5  # between the depths tried there [mm]
ROUND = 12  # places tried round a pin

Flat = tuple[float, float]


def pin_size(workshop: Workshop) -> tuple[float, bool]:
    """The diameter of the pins [mm], and whether the shop has a reamer for it."""
    owned = [t.diameter for t in workshop.tools if t.kind is ToolKind.REAMER]
    good = [size for size in owned if SIZES[0] <= size <= SIZES[1]]
    return (min(good), True) if good else (NO_REAMER[workshop.unit], False)


@dataclass
class Pinning:
    """The choice of places for the pins of a block. size: of a pin [mm]; holes, slots: what the
    block has already; lacking: pieces that no place for a pin could be found for."""

    part: Part
    fixture: Fixture
    seat: Seat
    size: float
    holes: Sequence[FixtureHole]
    slots: Sequence[CutOut]
    stops: list[Stop] = field(default_factory=list)
    lacking: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        assert self.part.joined is not None
        for name, wants in sides_wanted(self.part, self.fixture).items():
            rows = self._rows(self.part.joined.piece(name))
            for n, axes in enumerate(wants):
                across = next((row for row in rows if row[0].side.axis in axes), [])
                # a second side needs no more than one: the first keeps the piece square
                self.stops += across[: 1 if n else 2]
                if not across:
                    self.lacking.append(name)

    def _rows(self, piece: Piece) -> list[list[Stop]]:
        """Two pins on each side that has room for them, else one; those farthest apart first."""
        rows = []
        for side in (f for f in Face if f.axis != self.fixture.under.axis):
            levels: dict[float, list[Stop]] = {}
            for level, stop in self._along(piece, side):
                levels.setdefault(level, []).append(stop)
            rows += [
                [row[0], row[-1]] if _span(row) >= APART else row[:1] for row in levels.values()
            ]
        return sorted(rows, key=lambda row: -_span(row))

    def _along(self, piece: Piece, side: Face) -> Iterator[tuple[float, Stop]]:
        """Pins that may touch a side of a piece, one beside the other, and how deep in it lies."""
        assert self.part.joined is not None
        own = metal_of(replace(self.part.joined, pieces=(piece,)))
        tall = tall_beside(piece, self.fixture)
        way, sign = self._way(side)
        spans = self.seat.spans(*piece.box)
        edge, depth = spans[way][sign > 0], spans[way][1] - spans[way][0]
        low, high = (end + by for end, by in zip(spans[1 - way], (CORNER, -CORNER), strict=True))
        for n in range(int((high - low) / BESIDE) + 1):
            beside = low + n * BESIDE
            deep = self._deep(own, tall, way, beside, (edge, sign), depth / 2)
            if deep is None:
                continue
            out = edge + sign * (self.size / 2 - deep)
            at = (out, beside) if way == 0 else (beside, out)
            stop = Stop(piece.name, side, (round(at[0], 3), round(at[1], 3)), self.size, tall)
            if self._clear(stop) and pressed(self.part, self.fixture, self.seat, stop) <= room():
                yield round(deep, 2), stop

    def _way(self, side: Face) -> tuple[int, int]:
        """Does a side look along the block's length (0) or width (1), and which way?"""
        along, across = dot(side.normal, self.seat.along), dot(side.normal, self.seat.across)
        return (0, round(along)) if along else (1, round(across))

    def _deep(
        self, own: Metal, tall: float, way: int, beside: float, edge: tuple[float, int], most: float
    ) -> float | None:
        """How far in from a piece's extreme its metal begins, level where a pin touches it."""

        def metal(deep: float) -> Iterator[bool]:
            at = edge[0] - edge[1] * deep
            for b in (beside - CORNER / 2, beside, beside + CORNER / 2):
                for up in (AIR, tall):
                    yield own(self.seat.point(*((at, b) if way == 0 else (b, at)), up))

        deep = JUST_IN
        while not any(metal(deep)):
            deep += FINE
            if deep > most:
                return None
        dry, wet = max(0.0, deep - FINE), deep
        while wet - dry > 1e-3:
            middle = (dry + wet) / 2
            dry, wet = (dry, middle) if any(metal(middle)) else (middle, wet)
        found = 0.0 if deep == JUST_IN else round(wet, 2)
        return found if all(metal(found + JUST_IN)) else None

    # -- clear of everything ---------------------------------------------------------------------

    def _clear(self, stop: Stop) -> bool:
        return (
            self._in_block(stop)
            and all(dist(stop.at, s.at) >= s.size / 2 + self.size / 2 + WALL for s in self.stops)
            and all(self._beside(stop, cut) for cut in self.slots)
            and not self._meets(stop)
            and all(gap >= CLEAR for gap in self._from_joints(stop))
        )

    def _in_block(self, stop: Stop) -> bool:
        """Has its hole walls of metal, to the block's edges and its other holes?"""
        wall = self.size / 2 + WALL
        inside = all(
            wall <= a <= size - wall for a, size in zip(stop.at, self.seat.size, strict=True)
        )
        return inside and all(
            dist(stop.at, over) >= wall + block_hole(h) / 2
            for h in self.holes
            for over in self._over(h)
        )

    def _over(self, hole: FixtureHole) -> Iterator[Flat]:
        """The places of the block's top that a hole lies under."""
        yield hole.at
        if hole.face is not Face.TOP:
            way, deep = hole.face.axis, tapped_deep(hole.form)
            for n in range(1, ceil(deep) + 2):
                at = list(hole.at)
                at[way] -= hole.face.sign * n
                yield at[0], at[1]

    def _beside(self, stop: Stop, cut: CutOut) -> bool:
        a = stop.at[1 if cut.along else 0]
        wall = self.size / 2 + WALL
        return not cut.low - wall < a < cut.high + wall

    def _meets(self, stop: Stop) -> bool:
        """Does the pin meet a piece, other than by the side it is meant to touch?"""
        way, sign = self._way(stop.side)
        radius = self.size / 2
        for n, up in product(range(ROUND), (AIR, stop.tall)):
            u = (cos(2 * pi * n / ROUND), sin(2 * pi * n / ROUND))
            by = radius - 0.05 if u[way] * sign < -0.5 else radius + AIR
            if self._metal(self.seat.point(stop.at[0] + by * u[0], stop.at[1] + by * u[1], up)):
                return True
        return False

    @cached_property
    def _metal(self) -> Metal:
        assert self.part.joined is not None
        return metal_of(self.part.joined)

    def _from_joints(self, stop: Stop) -> Iterator[float]:
        """From a pin to the fillet of every joint [mm]."""
        by = self.size / 2
        ends = [
            self.seat.point(stop.at[0] + way * by, stop.at[1] + way * by, up)
            for way, up in ((-1, 0.0), (1, stop.tall))
        ]
        for low, high, fillet in self._joints:
            apart = [
                max(0.0, min(e[i] for e in ends) - high[i], low[i] - max(e[i] for e in ends))
                for i in range(3)
            ]
            yield hypot(*apart) - fillet

    @cached_property
    def _joints(self) -> list[tuple[Vec, Vec, float]]:
        joined = self.part.joined
        assert joined is not None
        met = [(joint, meeting(joint, joined)) for joint in joined.joints]
        return [(*m.bounds, joint.fillet) for joint, m in met if m is not None]


def _span(row: Sequence[Stop]) -> float:
    return dist(row[0].at, row[-1].at)
