"""Two pieces of a fabrication that meet on a slope: how it leans, whether both lean alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import asin, cos, degrees, hypot, radians

from barstock.drawing.build import AXES, Fault, Part, Vec
from barstock.drawing.part import Form, Joined, Joint
from barstock.drawing.vectors import dot, plus, scaled
from barstock.methods.drawn_solid import placed
from barstock.methods.spigot import SKIN
from barstock.quantities import show
from barstock.solids.face_polygons import Polygon, polygons
from barstock.solids.shapes import Placement, Solid

SQUARE = cos(radians(0.5))
"""A face whose normal is nearer to an axis than this does not lean."""
FACING = cos(radians(20.0))
"""Slopes that look at each other so nearly are meant to meet."""
NEAR = 5.0
"""And those that stand no further apart [mm]."""


@dataclass(frozen=True)
class Scarf:
    """The slopes of two pieces that look at each other.

    normal: square to the first one's, of unit length, towards the second; along: the axis that the
    slope runs least steeply to; leans: of both to that axis [degrees]; apart, gapes: the least and
    the greatest distance between them, square to the slope [mm].
    """

    normal: Vec
    along: int
    leans: tuple[float, float]
    apart: float
    gapes: float

    @property
    def stretch(self) -> float:
        """How far the pieces move along that axis for each mm that the slopes part."""
        return 1 / abs(self.normal[self.along])

    def skin(self, first: Solid, second: Solid) -> Solid:
        """A thin layer of the second piece's metal where they meet."""
        moved = first.moved(Placement(shift=scaled(self.normal, max(self.apart, 0.0) + SKIN)))
        return moved.common(second)

    def spread(self, low: Vec, high: Vec) -> tuple[float, float]:
        """The length up the slope, and the width, of a joint between these corners [mm]."""
        level = min(range(3), key=lambda i: abs(self.normal[i]))
        rising = [high[i] - low[i] for i in range(3) if i != level]
        return hypot(*rising), high[level] - low[level]


@lru_cache(maxsize=64)
def scarf_of(joint: Joint, joined: Joined) -> Scarf | None:
    """The slopes on which the pieces of a joint meet; None where none look at each other."""
    if joint.form is not Form.SCARF:
        return None
    first, second = (_slopes(placed(joined.piece(name))) for name in joint.pieces)
    pairs = [
        _facing(ours, theirs)
        for ours in first
        for theirs in second
        if dot(_normal(ours), _normal(theirs)) < -FACING
    ]
    near = [pair for pair in pairs if abs(pair.apart) < NEAR]
    return min(near, key=lambda pair: abs(pair.apart), default=None)


def _slopes(solid: Solid) -> list[Polygon]:
    return [p for p in polygons(solid) if p.flat and max(abs(x) for x in _normal(p)) < SQUARE]


def _normal(of: Polygon) -> Vec:
    return _point(of.normal)


def _facing(ours: Polygon, theirs: Polygon) -> Scarf:
    normal, other = _normal(ours), _normal(theirs)
    rising = [i for i in range(3) if abs(normal[i]) > 1e-3]
    along = min(rising, key=lambda i: abs(normal[i]))
    start = _point(ours.corners[0])
    parted = [dot(plus(_point(corner), start, -1.0), normal) for corner in theirs.corners]
    leans = (degrees(asin(abs(normal[along]))), degrees(asin(abs(other[along]))))
    return Scarf(normal, along, leans, min(parted), max(parted))


def _point(row: Iterable[float]) -> Vec:
    x, y, z = (float(x) for x in row)
    return (x, y, z)


def scarf_faults(part: Part, joint: Joint, joined: Joined) -> Iterator[Fault]:
    """A scarf whose pieces do not slope, do not slope alike, or stand too far apart."""
    if joint.form is not Form.SCARF:
        return
    first, second = joint.pieces
    found, unit, about = scarf_of(joint, joined), part.unit, f"joint '{joint.name}': "
    if found is None:
        what = f"{about}no slopes of '{first}' and '{second}' look at each other"
        mend = (
            "a scarf leans: cut a slope on each (an outline on a side), the second turned so that "
            "they face; where they meet square write 'form: butt', 'lap' or 'tee'"
        )
        yield Fault(joint.place, what, mend, part.name)
        return
    axis, (ours, theirs) = AXES[found.along], found.leans
    if found.gapes - found.apart > max(joint.gap.high - joint.gap.low, SKIN):
        what = (
            f"{about}'{first}' slopes {ours:.2f}° to the {axis} and '{second}' {theirs:.2f}°: they "
            f"gape {show(found.gapes - found.apart, unit)} more at one end than at the other"
        )
        yield Fault(joint.place, what, "draw both slopes at one angle", part.name)
        return
    if found.apart > SKIN and not joint.gap.low - SKIN <= found.apart <= joint.gap.high + SKIN:
        what = (
            f"{about}the slopes of '{first}' and '{second}' stand {show(found.apart, unit)} apart, "
            f"square to the slope; the gap is {joint.gap.text}"
        )
        mend = (
            f"move one by {show(found.apart * found.stretch, unit)} along the {axis}, so that "
            "they touch as drawn, or to the gap"
        )
        yield Fault(joint.place, what, mend, part.name)
