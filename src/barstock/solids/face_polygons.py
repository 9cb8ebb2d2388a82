"""The faces of a solid as polygons: flat ones exactly, round ones as triangles [mm]."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from barstock.solids import kernel
from barstock.solids.shapes import Solid
from barstock.solids.skin import Points, patches

ROUND = 0.02
"""Triangles lie within this of a round face [mm]."""
STRAIGHT = 1e-6


@dataclass(frozen=True)
class Polygon:
    """A convex piece of a face: corners (n, 3), counter-clockwise seen from outside.

    flat: is the face itself flat?
    """

    corners: Points
    flat: bool

    @cached_property
    def normal(self) -> Points:
        """The outward unit normal."""
        return normal(self.corners)


def normal(corners: Points) -> Points:
    """The unit normal of a flat polygon, by the sum of its corners' products (Newell)."""
    (x, y, z), (u, v, w) = (corners - corners[0]).T, (np.roll(corners, -1, axis=0) - corners[0]).T
    area = (float(y @ w - z @ v), float(z @ u - x @ w), float(x @ v - y @ u))
    return np.array(area) / max(math.hypot(*area), 1e-300)


def normals_of(some: Sequence[Polygon]) -> Points:
    """The unit normals of many polygons, (n, 3)."""
    found = np.zeros((len(some), 3))
    counts = np.array([len(p.corners) for p in some])
    for many in np.unique(counts):
        which = np.flatnonzero(counts == many)
        corners = np.array([some[n].corners for n in which.tolist()])
        about = corners - corners[:, :1]
        area = np.cross(about, np.roll(about, -1, axis=1)).sum(axis=1)
        found[which] = area / np.maximum(np.linalg.norm(area, axis=1, keepdims=True), 1e-300)
    return found


def polygons(solid: Solid, deflection: float = ROUND) -> list[Polygon]:
    """All faces as convex polygons: flat ones whole where they can be, else in triangles.

    Holes in flat faces are counted as filled. Arcs in the edge of a flat face, and round faces,
    are followed within `deflection`.
    """
    found = []
    skin = patches(solid, deflection)
    faces = [] if solid.empty else list(kernel.explore(solid.shape, "FACE"))
    for patch, face in zip(skin, faces, strict=True):
        whole = _outline(face, deflection) if patch.flat else None
        if whole is not None and np.dot(normal(whole), patch.normals[0]) < 0:
            whole = whole[::-1]
        if whole is None:
            found += [Polygon(corners, False) for corners in patch.triangles]
        else:
            found += [Polygon(corners, True) for corners in _pieces(whole)]
    return found


def _outline(face: Any, deflection: float) -> Points:
    """The outer edge, without corners that lie on the straight."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepTools import BRepTools, BRepTools_WireExplorer
    from OCP.GCPnts import GCPnts_TangentialDeflection
    from OCP.TopAbs import TopAbs_Orientation

    points: list[tuple[float, float, float]] = []
    walk = BRepTools_WireExplorer(BRepTools.OuterWire_s(face), face)
    while walk.More():
        net = GCPnts_TangentialDeflection(BRepAdaptor_Curve(walk.Current()), 0.2, deflection, 2)
        along = [net.Value(i) for i in range(1, net.NbPoints() + 1)]
        if walk.Current().Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
            along.reverse()
        points += [(p.X(), p.Y(), p.Z()) for p in along[:-1]]
        walk.Next()
    corners = np.array(points)
    before, after = corners - np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0) - corners
    turn = np.linalg.norm(np.cross(before, after), axis=1)
    bent = turn > STRAIGHT * np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
    return np.asarray(corners[bent])


def _pieces(corners: Points) -> list[Points]:
    """A flat outline in convex pieces, by cutting ears off until the rest is convex."""
    upright, found = normal(corners), []
    while len(corners) > 3:
        before, after = np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0)
        out = np.cross(corners - before, after - corners) @ upright > 0
        if out.all():
            break
        ears = (i for i in np.flatnonzero(out) if _empty(corners, int(i), upright))
        ear = int(next(ears, np.argmax(out)))
        found.append(np.array([before[ear], corners[ear], after[ear]]))
        corners = np.delete(corners, ear, axis=0)
    return [*found, corners]


def _empty(corners: Points, ear: int, upright: Points) -> bool:
    """Does no other corner lie in the triangle cut off at this one?"""
    n = len(corners)
    triangle = corners[[ear - 1, ear, (ear + 1) % n]]
    others = np.delete(corners, [ear - 1 if ear else n - 1, ear, (ear + 1) % n], axis=0)
    inside = np.ones(len(others), dtype=bool)
    for a, b in zip(triangle, np.roll(triangle, -1, axis=0), strict=True):
        inside &= np.cross(b - a, others - a) @ upright > -STRAIGHT
    return not inside.any()
