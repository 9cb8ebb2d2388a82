"""The cuts a feature asks for, in the part's own frame: what kinds say and the planner realises.

A kind never names a tool of the shop; planning/ picks one and works out readings. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from barstock.drawing.build import Face, Vec
from barstock.drawing.dimension_runs import CheckSort, EndKind, Runs
from barstock.drawing.vectors import dot
from barstock.quantities import Dimension

EDGE = 0.01  # so near an edge is on it [mm]


@dataclass(frozen=True)
class Check:
    """A dimension of the drawing that a cut makes and someone must check.

    name: its own among the feature's ("width", "from left (2)"): ids are made of it. nth: which it
    is of several of one name; of an outline's arcs, the point that it begins at; else 0. plain: of
    a feature with a mirror image, its name without the face. runs: from what to what, None where it
    is no distance. hole: size of the made hole whose centre or depth is checked, else 0 [mm].
    """

    name: str
    dimension: Dimension
    sort: CheckSort
    runs: Runs | None = None
    plain: str = ""
    nth: int = 0
    hole: float = 0.0

    def has(self, *kinds: EndKind) -> bool:
        """Is one of the dimension's ends of these kinds?"""
        return self.runs is not None and any(end.kind in kinds for end in self.runs)


@dataclass(frozen=True)
class LevelCut:
    """A flat floor under a rectangle in plan, cut by the end of a cutter.

    origin: a corner of the rectangle on the floor [mm, part frame]; run, across: unit vectors of
    the floor's two sides, up = run x across or its negative is the floor's outward normal `normal`.
    run_length, across_length: the sides [mm]. walls: which of the sides are walls of the finished
    part: any of "run-", "run+" (at run 0 and run_length), "across-", "across+"; at the other sides
    the cutter may run out. face: the face it is cut from; where `normal` is not that face's normal
    the work is tilted (`lean` degrees between them, never negative, about the horizontal axis
    `across`; `run` tells which way).
    corner, sharpest: largest and smallest radius of inside corners (walls that meet), and so of the
    cutter; 0 if there are none.
    checks: the dimensions made.
    """

    face: Face
    origin: Vec
    run: Vec
    across: Vec
    normal: Vec
    run_length: float
    across_length: float
    walls: frozenset[str]
    corner: float = 0.0
    sharpest: float = 0.0
    lean: float = 0.0
    checks: tuple[Check, ...] = ()
    note: str = ""

    def clears(self, point: Vec) -> bool:
        """Does the cut take away the metal at a point of the part's frame?"""
        a, b, h = self._from_corner(point)
        return (
            -EDGE <= a <= self.run_length + EDGE
            and -EDGE <= b <= self.across_length + EDGE
            and (h > 0)
        )

    def air(self, top: Vec, up: Face) -> float:
        """How deep it has left nothing under a point of the face `up` [mm]; 0 beside it."""
        down = up.opposite.normal
        inside = (top[0] + EDGE * down[0], top[1] + EDGE * down[1], top[2] + EDGE * down[2])
        deepest = inf
        for at, slope, length in zip(
            self._from_corner(inside),
            self._along(down),
            (self.run_length, self.across_length, inf),
            strict=True,
        ):
            if not 0.0 <= at <= length:
                return 0.0
            if slope > 1e-6:
                deepest = min(deepest, (length - at) / slope)
            elif slope < -1e-6:
                deepest = min(deepest, at / -slope)
        return deepest + EDGE if deepest < inf else 0.0

    def room(self, point: Vec, axis: Vec) -> float:
        """From a line through a point over the floor to the nearest wall beside it [mm].

        Infinite where there is no wall, or the point is not over the floor.
        """
        a, b, h = self._from_corner(point)
        if not self._within(a, b):
            return inf
        found = [inf]
        for side, near, far, way in (
            ("run", a, self.run_length - a, self.run),
            ("across", b, self.across_length - b, self.across),
        ):
            if abs(dot(way, axis)) < 0.1:
                found += [near] * (f"{side}-" in self.walls) + [far] * (f"{side}+" in self.walls)
        if abs(dot(self.normal, axis)) < 0.1:
            found.append(h)
        return min(found)

    def _within(self, a: float, b: float) -> bool:
        """Does a place along the two sides lie on the floor?"""
        return -EDGE <= a <= self.run_length + EDGE and -EDGE <= b <= self.across_length + EDGE

    def _from_corner(self, point: Vec) -> Vec:
        """See `_along`, from the floor's corner."""
        o = self.origin
        return self._along((point[0] - o[0], point[1] - o[1], point[2] - o[2]))

    def _along(self, v: Vec) -> Vec:
        """A step along the floor's two sides, of what lies under it as the face is seen (square to
        it where a wall stands at the end of its run), and its rise from the floor [mm]."""
        rise, up = dot(v, self.normal), self.face.normal
        if self.walls & {"run-", "run+"}:
            return (dot(v, self.run), dot(v, self.across), rise)
        drop = rise / dot(up, self.normal)
        under = (v[0] - up[0] * drop, v[1] - up[1] * drop, v[2] - up[2] * drop)
        return (dot(under, self.run), dot(under, self.across), rise)


@dataclass(frozen=True)
class HoleCut:
    """Round holes alike, one axis direction. at: centres where the axis enters the material of
    `face` (on the face's plane, or lower where the hole starts on a floor). depth: of the full
    diameter below the entry [mm]; through: it leaves at the far side (depth then = thickness).

    finish: "drilled", "reamed", "bored", "tapped"; "countersunk" of holes made before. flat: flat
    bottom. diameter: finished; of a tapped hole the thread's major. thread: name; thread_depth: of
    full thread (0 = all through). tap_drill: suggested (handbook), drill_depth: of the tapping
    drill's full diameter; drill_least: that would do, 0 where the drawing says how deep;
    drilled_through: that goes through, though the thread ends before.
    countersink: (top diameter, included angle) or None. counterbore: (diameter, depth) or None.
    """

    face: Face
    at: tuple[Vec, ...]
    diameter: float
    depth: float
    through: bool
    finish: str = "drilled"
    flat: bool = False
    thread: str = ""
    thread_depth: float = 0.0
    tap_drill: float = 0.0
    drill_depth: float = 0.0
    drill_least: float = 0.0
    drilled_through: bool = False
    countersink: tuple[float, float] | None = None
    counterbore: tuple[float, float] | None = None
    checks: tuple[Check, ...] = ()
    note: str = ""

    def below(self, size: Vec) -> float:
        """How far below its face, of a part of this size, it starts [mm]."""
        axis, sign = self.face.axis, self.face.sign
        face = size[axis] if sign > 0 else 0.0
        return max((face - p[axis]) * sign for p in self.at)


@dataclass(frozen=True)
class Arc:
    """A piece of an outline: from the previous point to `to`, straight if bulge is 0.

    bulge = tan(included angle / 4), positive for counter-clockwise (see ProfileCut).
    """

    to: tuple[float, float]
    bulge: float = 0.0


@dataclass(frozen=True)
class ProfileCut:
    """A closed outline kept, all outside it (within the part's envelope) removed, through the part.

    face: the face it is seen on. start and pieces: in the part's two in-face axes (top, bottom:
    x y; front, back: x z; left, right: y z) [mm]. Bulges are counter-clockwise from the first axis
    to the second, as seen on top, front and right. least_inside: smallest inside radius [mm], 0
    none. way: "filed" (sawn near the line and filed to it) or "milled".
    """

    face: Face
    start: tuple[float, float]
    pieces: tuple[Arc, ...]
    way: str = "filed"
    least_inside: float = 0.0
    checks: tuple[Check, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class EdgeCut:
    """A bevel or rounding along one straight edge of the envelope, full length.

    faces: the two faces meeting there. size: bevel legs (on faces[0], on faces[1]) or (radius,
    radius) [mm]. shape: "bevel" or "round". way: "filed" or "milled" (cone cutter, 45 degrees).
    """

    faces: tuple[Face, Face]
    size: tuple[float, float]
    shape: str
    way: str = "filed"
    checks: tuple[Check, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class FlushCut:
    """All that stands proud of a face filed level with the surface that lies bare at `spot`.

    spot: in the face's two axes [mm, part frame]; proud: by how much it stands out [mm]; metal: how
    much there is to file [mm3].
    """

    face: Face
    spot: tuple[float, float]
    proud: float
    metal: float
    checks: tuple[Check, ...] = ()
    note: str = ""


Cut = LevelCut | HoleCut | ProfileCut | EdgeCut | FlushCut


@dataclass(frozen=True)
class Way:
    """One way of making a feature: cuts in the order they must be made."""

    name: str
    cuts: tuple[Cut, ...]
