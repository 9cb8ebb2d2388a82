"""Follows a part through its route: where every face and surface comes to lie, and by which errors.

A surface's place is a chain of causes: how far it may lie from where it is drawn, along its axis of
the part, reckoned from the bar's front, bottom and the sawn end. It is cut by a reading from a
zero, and the zero lies on a face that an earlier setup cut: the causes follow one another.
Between two surfaces cut from one zero that zero's causes drop out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from math import cos, radians, tan

from barstock.drawing.build import Face, Part
from barstock.handbook.iso_fits import it
from barstock.machines import machine_type
from barstock.machines.dial import Dial
from barstock.methods.cuts import Cut, EdgeCut, HoleCut, LevelCut
from barstock.quantities import show
from barstock.route import BarPiece, FileSquare, Operation, Process, Route, Setup
from barstock.tolerancing.chains import Chain, together
from barstock.tolerancing.shop_errors import (
    CUTTER,
    DRILLED,
    FINDER,
    FOLLOWS,
    MARKED,
    REAMED,
    SAWN,
    TOUCH,
    Cause,
    CauseKind,
    cause,
)
from barstock.workshop.shop import Machine, ToolKind, Workshop

DRILLINGS = (
    Process.DRILL,
    Process.DRILL_FOR_THREAD,
    Process.DRILL_FOR_REAMING,
    Process.DRILL_FOR_BORING,
    Process.DRILL_UNDER_SIZE,
)
NOWHERE = Chain(())
SAME = 0.01


class SurfaceSort(StrEnum):
    """The sorts of surface."""

    RUN_WALL = "run wall"
    ACROSS_WALL = "across wall"
    FLOOR = "floor"
    CENTRE = "centre"
    MOUTH = "mouth"
    BEVEL = "bevel"
    FACE = "face"


WALLS = (SurfaceSort.RUN_WALL, SurfaceSort.ACROSS_WALL)
Found = tuple[SurfaceSort, int, float, Chain]
"""What a surface is, its axis, where it is drawn along that [mm], and its place."""


@dataclass(frozen=True)
class Surface:
    """A wall, floor or centre line, drawn at `at` along `axis` [mm]."""

    feature: str
    sort: SurfaceSort
    axis: int
    at: float
    place: Chain
    operation: str
    setup: str


def lone(link: Cause, times: float = 1.0) -> Chain:
    """The chain of one cause alone."""
    return Chain(((link, times),))


def plus(*chains: Chain | tuple[Chain, float]) -> Chain:
    """The chains added up, each once or so many times."""
    pairs = [c if isinstance(c, tuple) else (c, 1.0) for c in chains]
    return together(*pairs)


@dataclass
class Trace:
    """The way of one part through the shop. faces: where each now lies; surfaces: all
    that is cut.
    """

    part: Part
    route: Route
    workshop: Workshop
    cuts: Mapping[str, tuple[Cut, ...]]
    faces: dict[Face, Chain] = field(default_factory=dict)
    surfaces: list[Surface] = field(default_factory=list)

    def follow(self) -> Trace:
        """Follow the part through every setup of its bars and pieces, in order."""
        bar = next((b for b in self.route.bars if b.part == self.part.name), None)
        self._bought(bar)
        works = {self.part.name, bar.id if bar else self.part.name}
        for setup in self.route.setups:
            if setup.work not in works:
                continue
            lying, table = Lying(self, setup), machine_type(setup.machine_kind).table
            for operation in setup.operations:
                if table:
                    self._cut(lying, operation)
                for move in operation.moves:
                    if isinstance(move, FileSquare):
                        self.faces[move.face] = _filed(move, setup)
        return self

    def _bought(self, bar: BarPiece | None) -> None:
        """The bar's faces, and the sawn ends."""
        minus, plus_, one = -0.1, 0.0, False
        if bar is not None:
            for stock in self.workshop.rack:
                if (stock.name, stock.material) == (bar.stock, bar.material):
                    minus, plus_ = stock.tolerance
                    one = bar.count * (bar.length + 2) <= stock.length
        for axis, name in ((1, "width"), (2, "height")):
            size = Cause(f"{name} of the bar", 0.0, minus, plus_, CauseKind.BAR, not one, side=name)
            self.faces[Face.of(axis, -1)] = NOWHERE
            self.faces[Face.of(axis, 1)] = lone(size)
        self.faces[Face.LEFT] = NOWHERE
        self.faces[Face.RIGHT] = lone(cause("sawn length", SAWN, CauseKind.SAWN))

    def _cut(self, lying: Lying, operation: Operation) -> None:
        face = operation.face
        if face is not None and lying.setup.holding.up is face:
            self.faces[face] = plus(lying.zero("Z", operation), lying.reading("Z", operation))
        elif face is not None:
            across = lying.axis_of(face.axis)
            self.faces[face] = plus(
                lying.zero(across, operation),
                lying.reading(across, operation),
                lone(lying.cutter(operation), -face.sign / 2),
            )
        feature = operation.features[0]
        index = max(0, operation.cut - 1)
        for cut in self.cuts.get(feature, ())[index : index + 1]:
            if isinstance(cut, LevelCut):
                found = self._level(lying, operation, cut)
            elif isinstance(cut, HoleCut):
                found = self._hole(lying, operation, cut)
            elif isinstance(cut, EdgeCut) and operation.cutter.kind is ToolKind.COUNTERSINK:
                found = self._bevel(lying, operation, cut)
            else:
                continue
            for sort, axis, at, place in found:
                self.surfaces.append(
                    Surface(feature, sort, axis, at, place, operation.id, lying.setup.id)
                )

    def _level(self, lying: Lying, operation: Operation, cut: LevelCut) -> Iterator[Found]:
        """Its walls, and its floor (at both ends where it leans). One cut from the side has its
        walls over each other, and the saw's rim makes its floor."""
        deep = lying.axis_of(cut.face.axis)
        sideways = deep != "Z" and not cut.lean
        wide = operation.cutter.flute if sideways else operation.cutter.diameter
        for name, wall, way, length in (
            ("run", SurfaceSort.RUN_WALL, cut.run, cut.run_length),
            ("across", SurfaceSort.ACROSS_WALL, cut.across, cut.across_length),
        ):
            axis = max(range(3), key=lambda i: abs(way[i]))
            both = {f"{name}-", f"{name}+"} <= cut.walls
            exact = both and abs(length - wide) < SAME
            for end, far in (("-", 0.0), ("+", length)):
                if name + end in cut.walls:
                    towards = (1 if way[axis] > 0 else -1) * (1 if far else -1)
                    which = "" if exact else " of the near wall" if not far else " of the far wall"
                    place = plus(
                        lying.zero(lying.axis_of(axis), operation),
                        lying.reading(lying.axis_of(axis), operation, which),
                        lone(lying.cutter(operation), towards / 2),
                    )
                    yield wall, axis, cut.origin[axis] + way[axis] * far, place
        if sideways:
            rim = lone(lying.cutter(operation), -cut.face.sign / 2)
            floor = plus(lying.zero(deep, operation), lying.reading(deep, operation), rim)
            yield SurfaceSort.FLOOR, cut.face.axis, cut.origin[cut.face.axis], floor
            return
        for far in (0.0, cut.run_length) if cut.lean else (0.0,):
            point = [o + r * far for o, r in zip(cut.origin, cut.run, strict=True)]
            floor = lying.floor(operation, (point[0], point[1], point[2]))
            yield SurfaceSort.FLOOR, cut.face.axis, point[cut.face.axis], floor

    def _hole(self, lying: Lying, operation: Operation, cut: HoleCut) -> Iterator[Found]:
        """Its centres, and its bottom."""
        if not machine_type(lying.setup.machine_kind).axes:
            yield from self._followed(operation)
            return
        for axis in {0, 1, 2} - {cut.face.axis}:
            name = lying.axis_of(axis)
            for at in sorted({round(p[axis], 6) for p in cut.at}):
                reading = lying.reading(name, operation, f" at {show(at, self.part.unit)}")
                yield SurfaceSort.CENTRE, axis, at, plus(lying.zero(name, operation), reading)
        sunk = operation.does is Process.COUNTERBORE and cut.counterbore
        if lying.setup.holding.up is cut.face and (sunk or not cut.through):
            drilled = operation.does in DRILLINGS and cut.drill_depth
            axis, depth = cut.face.axis, sunk[1] if sunk else drilled or cut.depth
            bottom = cut.at[0][axis] - cut.face.sign * depth
            place = plus(lying.zero("Z", operation), lying.reading("Z", operation))
            yield SurfaceSort.FLOOR, axis, bottom, place
        if lying.setup.holding.up is cut.face and operation.cutter.kind is ToolKind.COUNTERSINK:
            yield SurfaceSort.MOUTH, cut.face.axis, 0.0, self._mouth(lying, operation, cut)

    def _followed(self, operation: Operation) -> Iterator[Found]:
        """The centres of a hole that was drilled where it had been spotted."""
        named = operation.features
        spots = [s for s in self.surfaces if s.feature in named and s.sort is SurfaceSort.CENTRE]
        for spot in {(s.axis, s.at): s for s in spots}.values():
            words = f"{operation.id.partition('/')[2]} beside its spot"
            yield (
                SurfaceSort.CENTRE,
                spot.axis,
                spot.at,
                plus(spot.place, lone(cause(words, FOLLOWS, CauseKind.LINE))),
            )

    def _mouth(self, lying: Lying, operation: Operation, cut: HoleCut) -> Chain:
        """The top diameter of a countersink, sunk from where it touched the hole's edge.

        Depth from the touch times 2 tan of half the angle, more than the hole's own diameter.
        """
        wider = 2 * tan(radians(operation.cutter.point / 2))
        touched = cause(
            "touch at the hole's edge", TOUCH, CauseKind.TOUCH, setup=lying.setup.id, axis="Z"
        )
        oversize = it(cut.diameter, REAMED if cut.finish == "reamed" else DRILLED) / 1000
        hole = Cause("diameter of the hole", 0.0, 0.0, oversize, CauseKind.HOLE, False)
        return plus((lone(touched), wider), (lying.reading("Z", operation), wider), lone(hole))

    def _bevel(self, lying: Lying, operation: Operation, cut: EdgeCut) -> Iterator[Found]:
        """The leg of a bevel at 45 degrees: height and place of the cone count alike."""
        up = lying.setup.holding.up
        beside = cut.faces[0] if cut.faces[1] is up else cut.faces[1]
        across = lying.axis_of(beside.axis)
        leg = plus(
            (self.faces[up], up.sign),
            (lying.zero("Z", operation), -up.sign),
            lying.reading("Z", operation),
            (self.faces[beside], beside.sign),
            (lying.zero(across, operation), -beside.sign),
            lying.reading(across, operation),
        )
        yield SurfaceSort.BEVEL, up.axis, 0.0, leg


def _filed(move: FileSquare, setup: Setup) -> Chain:
    """Where an end filed square lies: the first is what the other is measured from."""
    if not move.to_length:
        return NOWHERE
    words = f"filing to length, setup {setup.id}"
    return lone(cause(words, MARKED, CauseKind.LINE, setup=setup.id))


@dataclass(frozen=True)
class Lying:
    """A part in one of its setups."""

    trace: Trace
    setup: Setup

    @property
    def right(self) -> Face:
        """The part's face that looks to the right."""
        up, jaw = self.setup.holding.up, self.setup.holding.fixed_jaw
        axis = 3 - up.axis - jaw.axis
        u, j = up.normal, jaw.normal
        turn = j[(axis + 1) % 3] * u[(axis + 2) % 3] - j[(axis + 2) % 3] * u[(axis + 1) % 3]
        return Face.of(axis, 1 if turn > 0 else -1)

    def axis_of(self, axis: int) -> str:
        """The machine's axis along an axis of the part."""
        holding = self.setup.holding
        return "Z" if axis == holding.up.axis else "Y" if axis == holding.fixed_jaw.axis else "X"

    def reading(self, axis: str, operation: Operation, which: str = "") -> Chain:
        """The error of a setting of an axis, as a chain."""
        words = f"{axis} reading of {operation.id.partition('/')[2]}{which}"
        return lone(
            cause(
                words,
                Dial(self._machine).step(axis),
                CauseKind.READING,
                setup=self.setup.id,
                axis=axis,
            )
        )

    @property
    def _machine(self) -> Machine | None:
        return next((m for m in self.trace.workshop.machines if m.name == self.setup.machine), None)

    def cutter(self, operation: Operation) -> Cause:
        """The error of a cutter's diameter, as a chain."""
        words = f"diameter of the {operation.cutter.name} cutter"
        return cause(words, CUTTER, CauseKind.CUTTER, each=False, setup=self.setup.id)

    def zero(self, axis: str, operation: Operation) -> Chain:
        """The place of an axis's zero, and what it may be out by."""
        if axis == "Z":
            return self._height(operation, self.trace.faces, 0.0)
        setup, faces, shop = self.setup, self.trace.faces, self.trace.workshop
        zero = setup.zero_x if axis == "X" else setup.zero_y
        jaw = setup.holding.fixed_jaw
        sides = {"left": self.right.opposite, "right": self.right, "front": jaw.opposite,
                 "back": jaw, "fixed jaw": jaw}  # fmt: skip
        if zero.find == "none":
            words = f"marking out, setup {setup.id}"
            return lone(cause(words, MARKED, CauseKind.LINE, setup=setup.id, axis=axis))
        if axis == "X" and setup.holding.stop != "none":
            touching = sides[setup.holding.stop]
            held = cause(
                f"stop of setup {setup.id}",
                shop.stop_repeat,
                CauseKind.STOP,
                setup=setup.id,
                axis=axis,
            )
        elif axis == "Y":
            touching = jaw
            held = cause(
                f"seat at the fixed jaw, setup {setup.id}", shop.vise_repeat, CauseKind.SEAT,
                setup=setup.id, axis=axis,
            )  # fmt: skip
        else:
            touching = None
        once = touching is not None and sides.get(zero.find) is touching
        edge = cause(
            f"edge found in {axis}, setup {setup.id}", FINDER, CauseKind.EDGE,
            each=not once, setup=setup.id, axis=axis,
        )  # fmt: skip
        if zero.find == "centre":
            low, high = (faces[f] for f in ((self.right, self.right.opposite) if axis == "X"
                                            else (jaw, jaw.opposite)))  # fmt: skip
            return plus((low, 0.5), (high, 0.5), lone(edge))
        if once:
            return plus(faces[sides[zero.find]], lone(held), lone(edge))
        return plus(faces[sides[zero.find]], lone(edge))

    def floor(self, operation: Operation, point: tuple[float, float, float]) -> Chain:
        """The place of a level floor, where a point of it is drawn; on tilted work a length shifts
        it.
        """
        tilt = self.setup.holding.tilt
        zero = self._height(operation, self.trace.faces, tilt, point)
        times = 1 / cos(radians(tilt))
        return plus(zero, (self.reading("Z", operation), times))

    def _height(
        self,
        operation: Operation,
        faces: Mapping[Face, Chain],
        tilt: float,
        point: tuple[float, float, float] | None = None,
    ) -> Chain:
        """Where the zero of Z lies, as it acts at a point of the part."""
        setup, up = self.setup, self.setup.holding.up
        rest = up.opposite
        slope = tan(radians(tilt)) * up.sign * self.right.sign
        raised = self.right if tilt >= 0 else self.right.opposite
        shift = self._along(point) if tilt and point else NOWHERE
        seat = lone(
            cause(f"seat on the parallels, setup {setup.id}", self.trace.workshop.vise_repeat,
                  CauseKind.SEAT, setup=setup.id, axis="Z")
        )  # fmt: skip
        lean = NOWHERE
        if tilt and point:
            axis = self.right.axis
            end = self.trace.part.size[axis] if raised.sign > 0 else 0.0
            lever = abs(point[axis] - end) / max(self.trace.part.size[axis], 1e-9)
            lies = cause(f"tilt as seated, setup {setup.id}", self.trace.workshop.vise_repeat,
                         CauseKind.TILT, setup=setup.id, axis="Z")  # fmt: skip
            lean = lone(lies, lever) if lever else NOWHERE
        every = setup.zero_z.find == "top" and self._touched_each(operation)
        touch = lone(
            cause(f"{operation.cutter.name} touched, setup {setup.id}", TOUCH, CauseKind.TOUCH,
                  each=every, setup=setup.id, axis="Z"),
            1 / cos(radians(tilt)),
        )  # fmt: skip
        if setup.zero_z.find == "top":
            top = plus(faces[up], (faces[raised], slope), (shift, -slope))
            if every:
                return plus(top, touch, lean)
            low = plus(faces[rest], (faces[raised.opposite], slope), (shift, -slope))
            return plus(low, seat, touch, lean, _first(plus(top, (low, -1.0))))
        return plus(faces[rest], seat, touch, lean)

    def _along(self, point: tuple[float, float, float]) -> Chain:
        """Where a point of the part lies between its two ends along the table's X."""
        axis, faces = self.right.axis, self.trace.faces
        far = point[axis] / self.trace.part.size[axis]
        return plus((faces[Face.of(axis, -1)], 1 - far), (faces[Face.of(axis, 1)], far))

    def _touched_each(self, operation: Operation) -> bool:
        """Is the top touched on every copy? So it is where cutters are changed for each of them."""
        if self.setup.copies == 1:
            return True
        names = {o.id: o.cutter.name for o in self.setup.operations}
        for one in self.setup.passes:
            if operation.id in one:
                return len({names[i] for i in one}) > 1
        return False


def _first(height: Chain) -> Chain:
    """The height of the first copy, on which the zero was set: its own errors, for all copies."""
    terms = []
    for link, times in height.links:
        if isinstance(link, Cause) and link.each:
            own = f"{link.name}, first copy"
            link = replace(link, name=own, nominal=0.0, each=False, first=True)
        terms.append((link, times))
    return Chain(tuple(terms))
