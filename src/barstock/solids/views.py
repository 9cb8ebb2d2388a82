"""A solid seen from a direction: its visible and its hidden edges as flat strokes [mm]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from barstock.solids import kernel
from barstock.solids.shapes import Solid, Vec
from barstock.solids.strokes import Flat, Stroke, less, stroke, tidy

FINE = 0.15
"""Greatest turn between two points along a curve [radians]."""


@dataclass(frozen=True)
class View:
    """A solid as seen. Points are (right, up) in the picture plane through the origin [mm]."""

    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...]

    @property
    def bounds(self) -> tuple[Flat, Flat]:
        """Least and greatest corner [mm]."""
        points = [p for one in (*self.visible, *self.hidden) for p in one.points]
        xs, ys = zip(*points, strict=True)
        return (min(xs), min(ys)), (max(xs), max(ys))


def project(solid: Solid, toward: Vec, right: Vec) -> View:
    """The solid seen from afar, the eye in the direction `toward`, `right` to the right.

    Exact hidden-line removal. Edges where two faces run smoothly into one another are not drawn;
    hidden edges under visible ones are left out. Raises ValueError if the solid is empty.
    """
    from OCP.BRepLib import BRepLib
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    if solid.empty:
        raise ValueError("there is nothing to draw: the solid is empty")
    BRepLib.EncodeRegularity_s(solid.shape, 1e-4)
    eye = gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*toward), gp_Dir(*right))
    algorithm = HLRBRep_Algo()
    algorithm.Add(solid.shape)
    algorithm.Projector(HLRAlgo_Projector(eye))
    algorithm.Update()
    algorithm.Hide()
    found = HLRBRep_HLRToShape(algorithm)
    visible = tidy(_strokes(found.VCompound()) + _strokes(found.OutLineVCompound()))
    hidden = _strokes(found.HCompound()) + _strokes(found.OutLineHCompound())
    return View(visible, less(hidden, visible))


def _strokes(edges: Any) -> list[Stroke]:
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepLib import BRepLib
    from OCP.GCPnts import GCPnts_TangentialDeflection

    if edges is None or edges.IsNull():
        return []
    BRepLib.BuildCurves3d_s(edges)
    strokes = []
    for edge in kernel.explore(edges, "EDGE"):
        net = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge), FINE, 0.01, 9)
        points = [net.Value(i) for i in range(1, net.NbPoints() + 1)]
        flat = [(p.X(), p.Y()) for p in points]
        if max(abs(a - b) for p in flat for a, b in zip(p, flat[0], strict=True)) > 1e-4:
            strokes.append(stroke(flat))
    return strokes
