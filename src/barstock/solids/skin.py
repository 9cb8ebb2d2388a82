"""A solid's skin for pictures: each face as flat triangles, each sharp edge as points [mm]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barstock.solids import kernel
from barstock.solids.shapes import Solid

Points = NDArray[np.float64]
Corners = NDArray[np.int64]

FINE = 0.12
"""Greatest turn from one triangle or edge piece to the next [radians]."""


@dataclass(frozen=True)
class Patch:
    """One face of a skin. points: (n, 3); corners: (m, 3), outward; flat: is it a plane?"""

    points: Points
    corners: Corners
    flat: bool

    @property
    def triangles(self) -> Points:
        """The corners' points of every triangle, (m, 3 corners, 3)."""
        return np.asarray(self.points[self.corners])

    @property
    def normals(self) -> Points:
        """The outward unit normal of each triangle, (m, 3)."""
        a, b, c = self.triangles.transpose(1, 0, 2)
        across = np.cross(b - a, c - a)
        return np.asarray(across / np.maximum(np.linalg.norm(across, axis=1), 1e-12)[:, None])


def patches(solid: Solid, deflection: float, turn: float = FINE) -> list[Patch]:
    """Every face within `deflection` [mm]. turn: greatest from triangle to triangle [radians]."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.GeomAbs import GeomAbs_SurfaceType

    if solid.empty:
        return []
    BRepMesh_IncrementalMesh(solid.shape, deflection, False, turn, False)
    found = []
    for face in kernel.explore(solid.shape, "FACE"):
        points, corners = _net(face)
        if len(corners):
            kind = BRepAdaptor_Surface(face).GetType()
            found.append(Patch(points, corners, kind == GeomAbs_SurfaceType.GeomAbs_Plane))
    return found


def _net(face: Any) -> tuple[Points, Corners]:
    from OCP import TopAbs
    from OCP.BRep import BRep_Tool
    from OCP.TopLoc import TopLoc_Location

    where = TopLoc_Location()
    net = BRep_Tool.Triangulation_s(face, where)
    if net is None:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    motion = where.Transformation()
    nodes = [net.Node(i).Transformed(motion) for i in range(1, net.NbNodes() + 1)]
    triples = [net.Triangle(i).Get() for i in range(1, net.NbTriangles() + 1)]
    corners = np.array(triples, dtype=np.int64) - 1
    if face.Orientation() == TopAbs.TopAbs_Orientation.TopAbs_REVERSED:
        corners = corners[:, [0, 2, 1]]
    return np.array([(p.X(), p.Y(), p.Z()) for p in nodes]), corners


def edges(solid: Solid, deflection: float, turn: float = FINE) -> list[Points]:
    """Every edge where two faces meet at an angle, as points (n, 3) within `deflection` [mm].

    turn: as of `patches`.
    """
    from OCP.BRep import BRep_Tool
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepLib import BRepLib
    from OCP.GCPnts import GCPnts_TangentialDeflection
    from OCP.GeomAbs import GeomAbs_Shape

    if solid.empty:
        return []
    BRepLib.EncodeRegularity_s(solid.shape, 1e-3)
    found = []
    for edge, faces in _with_faces(solid.shape):
        if BRep_Tool.Degenerated_s(edge):
            continue
        if len(faces) == 2:
            if faces[0].IsSame(faces[1]):
                continue  # the seam of a round face
            if BRep_Tool.Continuity_s(edge, *faces) != GeomAbs_Shape.GeomAbs_C0:
                continue
        net = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge), turn, deflection, 2)
        points = [net.Value(i) for i in range(1, net.NbPoints() + 1)]
        found.append(np.array([(p.X(), p.Y(), p.Z()) for p in points]))
    return found


def _with_faces(shape: Any) -> list[tuple[Any, list[Any]]]:
    """Each edge with the faces that meet there (a seam names its face twice)."""
    found: dict[int, list[tuple[Any, list[Any]]]] = {}
    for face in kernel.explore(shape, "FACE"):
        for edge in kernel.explore(face, "EDGE"):
            alike = found.setdefault(hash(edge), [])
            faces = next((faces for other, faces in alike if other.IsSame(edge)), None)
            if faces is None:
                alike.append((edge, [face]))
            else:
                faces.append(face)
    return [pair for alike in found.values() for pair in alike]
