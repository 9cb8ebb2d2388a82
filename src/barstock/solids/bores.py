"""Round holes found in a solid, and what is round itself: cylinders and cones."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from barstock.solids import kernel
from barstock.solids.shapes import Solid, Vec


@dataclass(frozen=True)
class Bore:
    """A round inward face: from `low` to `high`, two points on its axis [mm].

    radius_low, radius_high: its radius at either; equal for a cylinder.
    """

    low: Vec
    high: Vec
    radius_low: float
    radius_high: float

    @property
    def conical(self) -> bool:
        """Is the face a cone (a spot, a drill's point, a countersink)?"""
        return not math.isclose(self.radius_low, self.radius_high, abs_tol=1e-7)


def upright_bores(solid: Solid, x: float, y: float, off: float) -> list[Bore]:
    """The bores along z whose axis passes within `off` [mm] of x, y; `low` is the lower end."""
    return [
        bore
        for bore in bores(solid)
        if abs(bore.high[0] - bore.low[0]) + abs(bore.high[1] - bore.low[1]) < 1e-3
        and math.hypot(bore.low[0] - x, bore.low[1] - y) <= off
    ]


def bores(solid: Solid) -> Iterator[Bore]:
    """Every bore of `solid`, its ends sorted by z."""
    return (bore for bore, inward, _ in _round_faces(solid) if inward)


def rounds(solid: Solid) -> Iterator[Bore]:
    """The outward round faces, as pins and bars have: those that go more than half of the way
    round.
    """
    return (one for one, inward, turn in _round_faces(solid) if not inward and turn > 1.1 * math.pi)


def _round_faces(solid: Solid) -> Iterator[tuple[Bore, bool, float]]:
    """Every round face, whether it opens inward, and how far it goes round [radians]."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_SurfaceType
    from OCP.TopAbs import TopAbs_Orientation

    for face in [] if solid.empty else kernel.explore(solid.shape, "FACE"):
        surface = BRepAdaptor_Surface(face)
        kind = surface.GetType()
        if kind == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            round_, slope = surface.Cylinder(), 0.0
            radius = round_.Radius()
        elif kind == GeomAbs_SurfaceType.GeomAbs_Cone:
            round_ = surface.Cone()
            slope, radius = round_.SemiAngle(), round_.RefRadius()
        else:
            continue
        direct = round_.Position().Direct()
        inward = (face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED) is direct
        at, along = round_.Axis().Location(), round_.Axis().Direction()
        ends = []
        for v in (surface.FirstVParameter(), surface.LastVParameter()):
            d = v * math.cos(slope)
            point = (at.X() + d * along.X(), at.Y() + d * along.Y(), at.Z() + d * along.Z())
            ends.append((point, abs(radius + v * math.sin(slope))))
        (low, r_low), (high, r_high) = sorted(ends, key=lambda end: end[0][2])
        turn = surface.LastUParameter() - surface.FirstUParameter()
        yield Bore(low, high, r_low, r_high), inward, turn
