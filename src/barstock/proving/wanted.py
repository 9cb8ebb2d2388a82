"""What the drawing wants of a part, and how far each of its surfaces may lie off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from barstock.drawing.build import Feature, Part
from barstock.drawing.dimension_runs import CheckSort
from barstock.drawing.record_walk import every
from barstock.quantities import Dimension
from barstock.solids.shapes import Placement, Solid

EXACT = 0.02  # how near the finished surface comes to the drawn one [mm]
NOTHING = 0.003  # a difference no deeper than this is the readings' rounding [mm]


@dataclass(frozen=True)
class Wanted:
    """A part as drawn.

    removes: what the drawing takes away, by feature; may: what may also go; allowed: how far the
    surface may lie off the nominal one, by feature, "" for the envelope; places: how far a round
    hole may stand off its nominal place, by feature [mm]. pieces: what the pieces of a whole were
    cut out of, and how far their surfaces may lie off there.
    """

    part: str
    drawn: Solid
    removes: dict[str, Solid]
    may: tuple[Solid, ...] = ()
    allowed: dict[str, float] | None = None
    places: dict[str, float] | None = None
    pieces: tuple[tuple[Solid, float], ...] = ()

    def limit(self, feature: str) -> float:
        """The allowed deviation at a feature [mm]."""
        return (self.allowed or {}).get(feature, EXACT)

    def place(self, feature: str) -> float:
        """How far a round hole of a feature may stand off its place [mm]."""
        return (self.places or {}).get(feature, EXACT)


def wanted(part: Part) -> Wanted:
    """What the drawing wants of a part."""
    from barstock.methods import KINDS
    from barstock.methods.drawn_solid import drawn_solid, may_remove

    may = [KINDS[f.kind].may_remove(f.spec, part) for f in part.features]
    pieces = []
    for piece in part.joined.pieces if part.joined else ():
        stands = Placement(piece.rows, piece.shift)
        may.append(may_remove(piece.part).moved(stands))
        pieces += [
            (KINDS[f.kind].removes(f.spec, piece.part).moved(stands), _allowed_of(f))
            for f in piece.part.features
        ]
    allowed = {f.name: _allowed_of(f) for f in part.features}
    allowed[""] = _allowed((part.length, part.width, part.height))
    return Wanted(
        part.name,
        drawn_solid(part),
        {f.name: KINDS[f.kind].removes(f.spec, part) for f in part.features},
        tuple(solid for solid in may if solid is not None and not solid.empty),
        allowed,
        {
            f.name: _allowed(_places(way.cuts for way in KINDS[f.kind].ways(f.spec, part)))
            for f in part.features
        },
        tuple(pieces),
    )


def _allowed_of(feature: Feature) -> float:
    """How far the surface of a feature may lie off [mm]."""
    return _allowed(every(Dimension, feature.spec))


def _places(ways: Iterable[Iterable[Any]]) -> list[Dimension]:
    """The dimensions of cuts that say where they stand."""
    checks = (check for cuts in ways for cut in cuts for check in cut.checks)
    return [check.dimension for check in checks if check.sort is CheckSort.POSITION]


def _allowed(dimensions: Iterable[Dimension]) -> float:
    sizes = [d for d in dimensions if d.plus > d.minus]
    off = max((abs(d.middle - d.nominal) for d in sizes if d.stated), default=0.0)
    half = min(((d.plus - d.minus) / 2 for d in sizes if d.stated), default=EXACT)
    return off + min(EXACT, max(half, NOTHING))
