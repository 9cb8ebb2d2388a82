"""The CAD kernel's booleans, meshes and measures on raw shapes. Only solids/ uses this.

Heavy imports happen inside functions. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray

TOUCH = 1e-6  # points nearer than this [mm] are one
HAIR = 1e-5  # surfaces this near are one at a second try, where the first failed [mm]


def hush() -> None:
    """Keep the kernel's own chatter off the user's terminal; only failures are printed."""
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)


@contextmanager
def failing() -> Iterator[None]:
    """Raise what the kernel fails at within as ArithmeticError."""
    try:
        yield
    except Exception as wrong:
        if not type(wrong).__module__.startswith("OCP"):  # its errors have no base of their own
            raise
        raise ArithmeticError(f"the CAD kernel could not build this: {wrong}") from wrong


def _boolean(kind: str, first: Sequence[Any], tools: Sequence[Any], within: float = 0.0) -> Any:
    from OCP import BRepAlgoAPI

    for apart in (within, within + HAIR):
        operation = getattr(BRepAlgoAPI, f"BRepAlgoAPI_{kind}")()
        operation.SetArguments(_listed(first))
        operation.SetTools(_listed(tools))
        operation.SetRunParallel(False)
        operation.SetNonDestructive(True)
        if apart:
            operation.SetFuzzyValue(apart)
        with suppress(ArithmeticError), failing():
            operation.Build()
            if operation.IsDone():
                return operation.Shape()
    raise ArithmeticError(f"the CAD kernel could not {kind.lower()} these solids")


def cut(shape: Any, tools: Sequence[Any], within: float = 0.0) -> Any:
    """The shape less all of `tools`; surfaces within so much of each other are taken
    as one [mm].
    """
    return _boolean("Cut", [shape], tools, within)


def fuse(shapes: Sequence[Any]) -> Any:
    """All of `shapes` as one, with faces and edges that run on joined."""
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    joined = _boolean("Fuse", shapes[:1], shapes[1:])
    tidy = ShapeUpgrade_UnifySameDomain(joined, True, True, False)
    tidy.Build()
    return tidy.Shape()


def common(shape: Any, other: Any) -> Any:
    """The shape of what both have."""
    return _boolean("Common", [shape], [other])


def explore(shape: Any, kind: str) -> Iterator[Any]:
    """Every sub-shape of a kind ("SOLID", "FACE", "EDGE") in `shape`."""
    from OCP import TopAbs
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    narrow: Callable[[Any], Any] = getattr(TopoDS, kind.capitalize())
    walk = TopExp_Explorer(shape, getattr(TopAbs.TopAbs_ShapeEnum, f"TopAbs_{kind}"))
    while walk.More():
        yield narrow(walk.Current())
        walk.Next()


def compound(shapes: Sequence[Any]) -> Any:
    """The shapes side by side as one, without joining them."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    builder, together = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(together)
    for shape in shapes:
        builder.Add(together, shape)
    return together


def moved(shape: Any, rotation: Sequence[Sequence[float]], shift: Sequence[float]) -> Any:
    """The shape turned by a rotation matrix, then shifted."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Trsf

    motion = gp_Trsf()
    rows = [value for row, s in zip(rotation, shift, strict=True) for value in (*row, s)]
    motion.SetValues(*rows)
    return BRepBuilderAPI_Transform(shape, motion, True).Shape()


def volume(shape: Any, finely: bool = False) -> float:
    """The volume [mm3]. finely: to a millionth part; slower where curved faces meet in curves."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    if finely:
        BRepGProp.VolumeProperties_s(shape, properties, 1e-6, True, False)
    else:
        BRepGProp.VolumeProperties_s(shape, properties)
    return float(properties.Mass())


def bounds(shape: Any) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Least and greatest corner of the exact bounding box [mm]."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    room = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, room, False, False)
    room.SetGap(0.0)
    low, high = room.CornerMin(), room.CornerMax()
    return (low.X(), low.Y(), low.Z()), (high.X(), high.Y(), high.Z())


def distance(shape: Any, other: Any) -> float:
    """Least distance between two shapes [mm]; 0 where they touch or overlap."""
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape

    return float(BRepExtrema_DistShapeShape(shape, other).Value())


def contains(shape: Any, p: Sequence[float]) -> bool:
    """Is the point inside `shape` or on its skin?"""
    from OCP import TopAbs
    from OCP.BRepClass3d import BRepClass3d_SolidClassifier
    from OCP.gp import gp_Pnt

    state = BRepClass3d_SolidClassifier(shape, gp_Pnt(*p), TOUCH).State()
    return state in (TopAbs.TopAbs_State.TopAbs_IN, TopAbs.TopAbs_State.TopAbs_ON)


def mesh(
    shape: Any, deflection: float, within: Sequence[Sequence[float]] = ()
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """The triangles over the skin within `deflection` [mm], welded where they meet.

    within: least and greatest corner of a box; faces that do not come near it are left out.
    """
    from OCP import TopAbs
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopLoc import TopLoc_Location

    faces = list(explore(shape, "FACE"))
    if len(within):
        faces = [face for face in faces if _comes_near(face, *within)]
        shape = compound(faces)
    BRepMesh_IncrementalMesh(shape, deflection, False, 0.35, False)
    points: list[tuple[float, float, float]] = []
    corners: list[tuple[int, int, int]] = []
    for face in faces:
        where = TopLoc_Location()
        net = BRep_Tool.Triangulation_s(face, where)
        if net is None:
            continue
        first, motion = len(points), where.Transformation()
        nodes = (net.Node(i) for i in range(1, net.NbNodes() + 1))
        if not where.IsIdentity():
            nodes = (p.Transformed(motion) for p in nodes)
        points += [(p.X(), p.Y(), p.Z()) for p in nodes]
        flip = face.Orientation() == TopAbs.TopAbs_Orientation.TopAbs_REVERSED
        for i in range(1, net.NbTriangles() + 1):
            a, b, c = (first + n - 1 for n in net.Triangle(i).Get())
            corners.append((a, c, b) if flip else (a, b, c))
    if not points:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    return _weld(np.array(points), np.array(corners, dtype=np.int64))


def _comes_near(face: Any, low: Sequence[float], high: Sequence[float]) -> bool:
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    room = Bnd_Box()
    BRepBndLib.Add_s(face, room, True)
    least, most = room.CornerMin(), room.CornerMax()
    return bool(
        low[0] <= most.X()
        and low[1] <= most.Y()
        and low[2] <= most.Z()
        and least.X() <= high[0]
        and least.Y() <= high[1]
        and least.Z() <= high[2]
    )


def _weld(
    points: NDArray[np.float64], corners: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    _, first, place = np.unique(np.round(points, 6), axis=0, return_index=True, return_inverse=True)
    corners = place.reshape(-1)[corners]
    a, b, c = corners.T
    return points[first], corners[(a != b) & (b != c) & (a != c)]


def part_off(shape: Any, tools: Sequence[Any], within: float = 0.0) -> tuple[Any, Any]:
    """The shape that `tools` leave of `shape` and what they take from it, by one intersection.

    Surfaces `within` so much of each other are taken as one [mm].
    """
    met = _intersection([shape, *tools], within)
    return _of(met, "Cut", [shape], tools), _of(met, "Common", [shape], tools)


def differences(one: Any, other: Any) -> tuple[Any, Any]:
    """What the one has that the other has not, and the other way round, by one intersection."""
    met = _intersection([one, other])
    return _of(met, "Cut", [one], [other]), _of(met, "Cut", [other], [one])


def _intersection(shapes: Sequence[Any], within: float = 0.0) -> Any:
    from OCP.BOPAlgo import BOPAlgo_PaveFiller

    filler = BOPAlgo_PaveFiller()
    filler.SetArguments(_listed(shapes))
    filler.SetNonDestructive(True)
    if within:
        filler.SetFuzzyValue(within)
    with failing():
        filler.Perform()
    return filler


def _of(met: Any, kind: str, first: Sequence[Any], tools: Sequence[Any]) -> Any:
    """A boolean of shapes whose intersection has been worked out."""
    from OCP import BRepAlgoAPI

    operation = getattr(BRepAlgoAPI, f"BRepAlgoAPI_{kind}")(met)
    operation.SetArguments(_listed(first))
    operation.SetTools(_listed(tools))
    operation.SetNonDestructive(True)
    with failing():
        operation.Build()
    if not operation.IsDone():
        raise ArithmeticError("the CAD kernel could not cut these solids")
    return operation.Shape()


def _listed(shapes: Sequence[Any]) -> Any:
    from OCP.collections import List_TopoDS_Shape

    found = List_TopoDS_Shape()
    for shape in shapes:
        found.Append(shape)
    return found


def written(shape: Any) -> bytes:
    """The shape in the kernel's own exact form."""
    from OCP.BinTools import BinTools

    stream = BytesIO()
    BinTools.Write_s(shape, stream)
    return stream.getvalue()


def shape_of(raw: bytes) -> Any:
    """The shape that `written` wrote. Raises OSError if it cannot be read."""
    from OCP.BinTools import BinTools
    from OCP.TopoDS import TopoDS_Shape

    shape = TopoDS_Shape()
    BinTools.Read_s(shape, BytesIO(raw))
    if shape.IsNull():
        raise OSError("a solid kept on disk cannot be read")
    return shape
