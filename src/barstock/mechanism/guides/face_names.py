"""This module says what a face of a part is called, and which features have to do with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barstock.drawing.build import Part, Vec
from barstock.mechanism.guides.guide_assembly import Stood
from barstock.methods.drawn_solid import drawn_solid
from barstock.solids.face_polygons import Polygon
from barstock.solids.shapes import Solid

LOOKS = (("behind", "ahead"), ("right", "left"), ("down", "up"))


def named(stood: Stood, polygon: Polygon) -> str:
    """Name a face by the part that stands there, the feature it belongs to, and where it looks."""
    looks = [float(n) for n in polygon.normal]
    axis = max(range(3), key=lambda i: abs(looks[i]))
    own = next(features_at(stood, [_middle(stood, polygon)]), "")
    own = own.removeprefix(f"{stood.part.name}/")
    title = f"{stood.standing.name}, {own}" if own else stood.standing.name
    return f"{title} (looking {LOOKS[axis][looks[axis] > 0]})"


def in_hole(stood: Stood, polygon: Polygon) -> bool:
    """Tell whether a face is the wall or the floor of a hole."""
    middle = _middle(stood, polygon)
    return any(
        gone.contains(middle) for gone in stood.removed if gone.round_hole and not gone.pieces
    )


def _middle(stood: Stood, polygon: Polygon) -> Vec:
    """Return the middle of a face in the part's own frame."""
    x, y, z = polygon.corners.mean(axis=0)
    return stood.placement.inverse().apply((float(x), float(y), float(z)))


def features_at(stood: Stood, points: Sequence[Vec]) -> Iterator[str]:
    """List the features, part/feature, on whose skin a point of the part lies.

    Those of the part's pieces are listed too.
    """
    for gone in stood.removed:
        if any(gone.contains(p) for p in points):
            yield gone.name


def drawn_with(part: Part, features: Sequence[str]) -> Solid:
    """Draw the part with only those of its own features that are named, which is quicker."""
    kept = tuple(f for f in part.features if f"{part.name}/{f.name}" in features)
    return drawn_solid(replace(part, features=kept))
