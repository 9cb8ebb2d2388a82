"""Solids: making them, moving them, adding, cutting, measuring. The one door to the CAD kernel.

Nothing outside solids/ imports the kernel. Lengths in mm. Heavy imports happen inside functions.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barstock.drawing.faces import Vec as Vec
from barstock.drawing.vectors import cross, dot, plus, scaled
from barstock.solids import kernel
from barstock.solids.construction import (
    FAR,
    AllOf,
    AnyOf,
    AsBuilt,
    Block,
    Construction,
    Frame,
    Placed,
    Round,
    Swept,
    less,
)

SLIGHT = 1e-9  # a lump under this volume [mm3] is a rounding error of the kernel


@dataclass(frozen=True)
class Placement:
    """A rigid motion: `rotation` (the rows of its matrix), then `shift` [mm]."""

    rotation: tuple[Vec, Vec, Vec] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    shift: Vec = (0.0, 0.0, 0.0)

    def turn(self, v: Vec) -> Vec:
        """The direction after the motion (no shift)."""
        a, b, c = self.rotation
        return (dot(a, v), dot(b, v), dot(c, v))

    def apply(self, p: Vec) -> Vec:
        """The point after the motion [mm]."""
        return plus(self.turn(p), self.shift)

    def inverse(self) -> Placement:
        """The motion that undoes this one."""
        a, b, c = self.rotation
        back = Placement(((a[0], b[0], c[0]), (a[1], b[1], c[1]), (a[2], b[2], c[2])))
        return Placement(back.rotation, scaled(back.turn(self.shift), -1.0))

    def then(self, after: Placement) -> Placement:
        """The motion of this one, then `after`."""
        columns = self.inverse().rotation
        rows = tuple(tuple(dot(row, column) for column in columns) for row in after.rotation)
        return Placement(rows, after.apply(self.shift))  # type: ignore[arg-type]


@dataclass(frozen=True, eq=False)
class Solid:
    """A body that never changes: empty, one lump or several.

    made: the kernel's own shape (None is nothing at all), or what gives it when first needed.
    known: how it is constructed, where that is known.
    """

    made: Any
    known: Construction | None = None

    @cached_property
    def shape(self) -> Any:
        """The kernel's own shape of it."""
        return self.made() if callable(self.made) else self.made

    def __reduce__(self) -> tuple[type[Solid], tuple[Any, Construction | None]]:
        """To another process it goes in the kernel's exact form, read there when first needed."""
        if self.made is None or callable(self.made):
            return Solid, (self.made, self.known)
        return Solid, (partial(kernel.shape_of, kernel.written(self.made)), self.known)

    @cached_property
    def construction(self) -> Construction:
        """How it is constructed: points are judged by that."""
        return self.known or AsBuilt(self)

    @cached_property
    def volume(self) -> float:
        """The volume of the body [mm3]."""
        return 0.0 if self.shape is None else kernel.volume(self.shape)

    @cached_property
    def bounds(self) -> tuple[Vec, Vec]:
        """Least and greatest corner of its box [mm]. Raises ValueError if it is empty."""
        if self.empty:
            raise ValueError("an empty solid has no bounds")
        return kernel.bounds(self.shape)

    @property
    def empty(self) -> bool:
        """Is there nothing at all?"""
        return self.shape is None

    def deep(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """How far each point (n, 3) lies inside the body, negative outside [mm]: never more than it
        is, as `construction` has it.
        """
        if self.empty or not len(points):
            return np.full(len(points), -FAR)
        return self.construction.deep(points)

    def cut(self, *tools: Solid, within: float = 0.0) -> Solid:
        """The body less all of `tools`.

        Surfaces `within` so much of each other are taken for one [mm]: of two that nearly lie in
        one another the kernel is apt to make up films, or to lose the solid between them.
        """
        near = [tool for tool in tools if self.near(tool)]
        if not near:
            return self
        made = less(self.construction, [tool.construction for tool in near])
        return built(kernel.cut(self.shape, [t.shape for t in near], within), made)

    def fuse(self, *others: Solid) -> Solid:
        """The body and all of `others` as one."""
        full = [solid for solid in (self, *others) if not solid.empty]
        if len(full) < 2:
            return full[0] if full else self
        made = AnyOf(tuple(solid.construction for solid in full))
        return built(kernel.fuse([solid.shape for solid in full]), made)

    def common(self, other: Solid) -> Solid:
        """The body of what both have."""
        if not self.near(other):
            return nothing()
        made = AllOf((self.construction, other.construction))
        return built(kernel.common(self.shape, other.shape), made)

    def differences(self, other: Solid) -> tuple[Solid, Solid]:
        """The body less another, and that less the body, by one intersection."""
        if not self.near(other):
            return self, other
        mine, its = kernel.differences(self.shape, other.shape)
        one, two = self.construction, other.construction
        return built(mine, less(one, [two])), built(its, less(two, [one]))

    def moved(self, placement: Placement) -> Solid:
        """The body after a rigid motion."""
        if self.empty:
            return self
        made = self.known
        return Solid(
            kernel.moved(self.shape, placement.rotation, placement.shift),
            made.moved(placement.rotation, placement.shift) if made else None,
        )

    def lumps(self) -> list[Solid]:
        """The separate bodies that it is made of."""
        lumps = [] if self.empty else list(kernel.explore(self.shape, "SOLID"))
        return [self] if len(lumps) == 1 else [Solid(lump) for lump in lumps]

    def mesh(self, deflection: float = 0.05) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
        """Vertices (n, 3) [mm] and triangles (m, 3) within `deflection` [mm], outward."""
        if self.empty:
            return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
        return kernel.mesh(self.shape, deflection)

    def distance(self, other: Solid) -> float:
        """Least distance to `other` [mm]; infinite if either is empty."""
        if self.empty or other.empty:
            return math.inf
        return kernel.distance(self.shape, other.shape)

    def contains(self, p: Vec) -> bool:
        """Is the point inside the body or on its skin?"""
        return not self.empty and kernel.contains(self.shape, p)

    def near(self, other: Solid) -> bool:
        """Do the boxes of the two bodies meet?"""
        if self.empty or other.empty:
            return False
        (low, high), (floor, roof) = self.bounds, other.bounds
        return all(low[i] <= roof[i] and floor[i] <= high[i] for i in range(3))


def built(shape: Any, made: Construction) -> Solid:
    """What the kernel built, constructed so, without crumbs that are its rounding errors."""
    volumes = ((lump, kernel.volume(lump)) for lump in kernel.explore(shape, "SOLID"))
    lumps = [(lump, volume) for lump, volume in volumes if volume > SLIGHT]
    if not lumps:
        return nothing()
    whole = lumps[0][0] if len(lumps) == 1 else kernel.compound([lump for lump, _ in lumps])
    found = Solid(whole, made)
    vars(found)["volume"] = sum(volume for _, volume in lumps)  # as it would be reckoned later
    return found


def nothing() -> Solid:
    """The empty solid."""
    return Solid(None)


def together(solids: Sequence[Solid]) -> Solid:
    """The solids side by side as one, not joined; they should not overlap."""
    full = [solid for solid in solids if not solid.empty]
    if not full:
        return nothing()
    made = AnyOf(tuple(solid.construction for solid in full))
    return Solid(kernel.compound([solid.shape for solid in full]), made)


def box(low: Vec, high: Vec) -> Solid:
    """A box between two corners, sides along the axes [mm].

    >>> round(box((0, 0, 0), (2, 3, 4)).volume, 6)
    24.0
    """
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Pnt

    shape = BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Solid()
    ends = zip(low, high, strict=True)
    least, most = zip(*((min(pair), max(pair)) for pair in ends), strict=True)
    return Solid(shape, Placed(Block(least, most)))


def _axes(base: Vec, axis: Vec) -> Any:
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    return gp_Ax2(gp_Pnt(*base), gp_Dir(*axis))


def cylinder(base: Vec, axis: Vec, radius: float, height: float) -> Solid:
    """A cylinder of `radius` and `height` [mm] from `base` along the unit vector `axis`."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder

    shape = BRepPrimAPI_MakeCylinder(_axes(base, axis), radius, height).Solid()
    return Solid(shape, _round(base, axis, radius, radius, height))


def cone(base: Vec, axis: Vec, base_radius: float, top_radius: float, height: float) -> Solid:
    """A cone from `base_radius` to `top_radius` (either may be 0) along `axis` [mm]."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCone

    if math.isclose(base_radius, top_radius):
        return cylinder(base, axis, base_radius, height)
    at = _axes(base, axis)
    shape = BRepPrimAPI_MakeCone(at, base_radius, top_radius, height).Solid()
    return Solid(shape, _round(base, axis, base_radius, top_radius, height))


def _round(base: Vec, axis: Vec, radius: float, top: float, height: float) -> Placed:
    return Placed(Round(radius, top, height), _standing(base, axis))


def _unit(v: Vec) -> Vec:
    return scaled(v, 1.0 / math.sqrt(dot(v, v)))


def _standing(base: Vec, axis: Vec) -> Frame:
    """The frame whose z runs along a unit vector from a place."""
    least = min(range(3), key=lambda i: abs(axis[i]))
    other = (float(least == 0), float(least == 1), float(least == 2))
    x = _unit(cross(other, axis))
    y = cross(axis, x)
    a, b, c = zip(x, y, axis, strict=True)
    return Frame((a, b, c), base)


def prism(outline: Sequence[Vec], along: Vec) -> Solid:
    """A closed flat polygon (3D points, not repeated at the end) swept along a vector [mm]."""
    return profile(outline[-1], [(p, 0.0) for p in outline], along)


def profile(start: Vec, pieces: Sequence[tuple[Vec, float]], along: Vec) -> Solid:
    """A closed outline of lines and arcs swept along a vector [mm].

    pieces: (end point, bulge), bulge = tan(included angle / 4), positive counter-clockwise seen
    with `along` pointing at the eye. Raises ValueError if the outline does not close,
    ArithmeticError if it is swept nowhere.
    """
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    if math.dist(start, pieces[-1][0]) > kernel.TOUCH:
        raise ValueError(f"the outline starts at {start} but ends at {pieces[-1][0]}")
    wire, here = BRepBuilderAPI_MakeWire(), start
    for end, bulge in pieces:
        if math.dist(here, end) > kernel.TOUCH:
            wire.Add(_edge(here, end, bulge, along))
        here = end
    with kernel.failing():
        face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
        swept = BRepPrimAPI_MakePrism(face, gp_Vec(*along)).Shape()
    solid = next(kernel.explore(swept, "SOLID"))
    shape = solid if kernel.volume(solid) > 0 else solid.Reversed()
    return Solid(shape, _swept(start, pieces, along))


def _swept(start: Vec, pieces: Sequence[tuple[Vec, float]], along: Vec) -> Placed | None:
    """None where the outline does not lie square to the way it is swept."""
    frame = _standing(start, _unit(along))
    flat = frame.back(np.array([end for end, _ in pieces]))
    if np.abs(flat[:, 2]).max() > kernel.TOUCH:
        return None
    ends = [(x, y, bulge) for (x, y, _), (_, bulge) in zip(flat.tolist(), pieces, strict=True)]
    return Placed(Swept(tuple(ends), math.sqrt(dot(along, along))), frame)


def _edge(start: Vec, end: Vec, bulge: float, along: Vec) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    if abs(bulge) < 1e-9:
        return BRepBuilderAPI_MakeEdge(gp_Pnt(*start), gp_Pnt(*end)).Edge()
    normal = scaled(along, 1.0 / math.sqrt(dot(along, along)))
    chord = plus(end, scaled(start, -1.0))
    right = (
        chord[1] * normal[2] - chord[2] * normal[1],
        chord[2] * normal[0] - chord[0] * normal[2],
        chord[0] * normal[1] - chord[1] * normal[0],
    )
    crown = plus(scaled(plus(start, end), 0.5), scaled(right, bulge / 2))
    arc = GC_MakeArcOfCircle(gp_Pnt(*start), gp_Pnt(*crown), gp_Pnt(*end)).Value()
    return BRepBuilderAPI_MakeEdge(arc).Edge()
