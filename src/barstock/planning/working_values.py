"""Working values: the readings to dial for a task, in the pose and from the zeros of its setup.

Everything is worked out from the part's frame through the lie of the work to the table, then to
readings. The rules of cutting (depth a pass, what is left for the last light cut) stand here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, inf, radians, tan

from barstock.drawing.model import Face, Vec
from barstock.methods.cuts import EdgeCut, LevelCut
from barstock.planning.dial import Dial
from barstock.planning.poses import Lie, dot, plus
from barstock.planning.route import Move, Plunge, Shape, Step, Traverse
from barstock.planning.tasks import Bevel, End, Level, Line, Sink, Task
from barstock.planning.tooling import CONE_CLEAR, WALL_CUT
from barstock.quantities import show
from barstock.workshop.model import Tool

OVERRUN = 1.0  # how far a cutter runs clear of the work [mm]
BELOW = 0.5  # how far a side cut reaches below the work [mm]
# Greatest depth of one roughing cut as a share of the cutter's diameter on a light mill; common
# practice.
ROUGH = {
    "mild steel": 0.25,
    "free-cutting steel": 0.3,
    "stainless steel": 0.15,
    "silver steel": 0.2,
}


@dataclass
class Cutting:
    """The moves and the bench steps of one operation, and how far the cutter travels [mm]."""

    dial: Dial
    moves: list[Move] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    travel: float = 0.0
    approaches: int = 0

    def traverse(self, points: list[tuple[float, float]], z: float) -> None:
        """One run of the cutter at a height."""
        snap = self.dial.snap
        at = tuple((snap("X", x), snap("Y", y)) for x, y in points)
        self.moves.append(Traverse(points=at, z=snap("Z", z)))
        for (ax, ay), (bx, by) in pairwise(points):
            self.travel += ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
        self.approaches += 1

    def step(self, words: str, caution: str = "", **dial: str) -> None:
        """One line at the bench."""
        self.steps.append(Step(words=words, dial=dial, caution=caution))


@dataclass(frozen=True)
class Zeros:
    """Table positions of the zeros [mm]; readings are table minus these."""

    x: float
    y: float
    z: float


def cut(task: Task, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves and steps of a task done with `tool` on work lying so."""
    job = task.job
    if isinstance(job, Level):
        return _level(task, job.cut, tool, lie, zeros, dial)
    if isinstance(job, End):
        return _end(task, job, tool, lie, zeros, dial)
    if isinstance(job, Sink):
        return _sink(task, job, tool, lie, zeros, dial)
    if isinstance(job, Bevel):
        return _bevel(task, job.cut, tool, lie, zeros, dial)
    return _line(task, job, dial)


def rough_depth(material: str, tool: Tool) -> float:
    """Depth of one roughing cut [mm]."""
    return max(0.3, ROUGH.get(material, 0.5) * tool.diameter)


# -- level floors ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Plan:
    """A level cut on the table: the rectangle, its walls, floor and the top it starts from."""

    x: tuple[float, float]
    y: tuple[float, float]
    floor: float
    top: float
    wall_left: bool
    wall_right: bool
    wall_front: bool
    wall_back: bool


def plan_view(cut: LevelCut, size: Vec, lie: Lie) -> Plan:
    """Where a level cut lies on the table; sides open to the air are carried on past the work.

    size: of the part [mm].
    """
    low, high = lie.extent
    x, y = [0.0, 0.0], [0.0, 0.0]
    walls: set[tuple[int, int]] = set()
    half = plus(plus(cut.origin, cut.run, cut.run_length / 2), cut.across, cut.across_length / 2)
    for name, way, length in (
        ("run", cut.run, cut.run_length),
        ("across", cut.across, cut.across_length),
    ):
        for sign in (-1, 1):
            middle = plus(half, way, sign * length / 2)
            outward = lie.pose.turn(way)
            axis = 0 if abs(outward[0]) > abs(outward[1]) else 1
            side = 1 if outward[axis] * sign > 0 else 0
            here = lie.at(middle)[axis]
            if name + ("+" if sign > 0 else "-") in cut.walls:
                walls.add((axis, side))
            elif _reaches_air(middle, plus((0.0, 0.0, 0.0), way, sign), size):
                here = (low, high)[side][axis]
            (x, y)[axis][side] = here
    return Plan(
        (x[0], x[1]),
        (y[0], y[1]),
        lie.at(cut.origin)[2],
        high[2],
        (0, 0) in walls,
        (0, 1) in walls,
        (1, 0) in walls,
        (1, 1) in walls,
    )


def _reaches_air(middle: Vec, outward: Vec, size: Vec) -> bool:
    """Does a side of the rectangle lie at the part's own side? (A ridge's peak does not.)"""
    axis = max(range(3), key=lambda i: abs(outward[i]))
    return middle[axis] > size[axis] - 0.01 if outward[axis] > 0 else middle[axis] < 0.01


def _level(task: Task, c: LevelCut, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    p = plan_view(c, task.part.size, lie)
    out = Cutting(dial)
    radius = tool.diameter / 2
    depth = p.top - p.floor
    runs_x = (p.x[1] - p.x[0]) >= (p.y[1] - p.y[0])
    sideways, endways = p.wall_front or p.wall_back, p.wall_left or p.wall_right
    if sideways != endways:
        runs_x = sideways  # along the wall, never towards it
    elif sideways and (p.wall_front and p.wall_back) != (p.wall_left and p.wall_right):
        runs_x = p.wall_front and p.wall_back
    along, walls_along = (
        (p.x, (p.wall_left, p.wall_right)) if runs_x else (p.y, (p.wall_front, p.wall_back))
    )
    across, walls_across = (
        (p.y, (p.wall_front, p.wall_back)) if runs_x else (p.x, (p.wall_left, p.wall_right))
    )
    exact = all(walls_across) and abs(across[1] - across[0] - tool.diameter) < 0.01
    leave = 0.0 if exact else WALL_CUT
    zero_along, zero_across = (zeros.x, zeros.y) if runs_x else (zeros.y, zeros.x)

    def lane(margin: float) -> list[float]:
        """Cutter-centre positions across, `margin` left on the walls."""
        low = across[0] + (radius + margin if walls_across[0] else 0.0)
        high = across[1] - (radius + margin if walls_across[1] else 0.0)
        covers = 0.98 * tool.diameter >= across[1] - across[0]
        if not any(walls_across):
            middle = (across[0] + across[1]) / 2
            if covers:
                return [middle]
            low, high = across[0] + radius * 0.6, across[1] - radius * 0.6
        elif not walls_across[0]:
            low = high if covers else min(across[0] + radius * 0.4, high)
        elif not walls_across[1]:
            high = low if covers else max(across[1] - radius * 0.4, low)
        if high - low < 0.001:
            return [(low + high) / 2]
        count = max(2, ceil((high - low) / (tool.diameter * 0.7)) + 1)
        return [low + (high - low) * i / (count - 1) for i in range(count)]

    def reach(margin: float) -> tuple[float, float]:
        """Cutter-centre positions along."""
        low = along[0] + (radius + margin if walls_along[0] else -radius - OVERRUN)
        high = along[1] - (radius + margin if walls_along[1] else -radius - OVERRUN)
        return low, high

    lone = walls_across[0] != walls_across[1]

    def serpentine(margin: float, z: float) -> None:
        low, high = reach(margin)
        if lone and not _rising("Y" if runs_x else "X", int(walls_across[1])):
            low, high = high, low
        points: list[tuple[float, float]] = []
        for i, b in enumerate(lane(margin)):
            a0, a1 = (low, high) if i % 2 == 0 else (high, low)
            for a in (a0, a1):
                points.append(_swap(a - zero_along, b - zero_across, runs_x))
        out.traverse(points, z - zeros.z)

    levels = max(1, ceil((depth - WALL_CUT) / rough_depth(task.part.material, tool)))
    rough_floor = p.floor + (WALL_CUT if depth > 2 * WALL_CUT else 0.0)
    zs = [p.top - (p.top - rough_floor) * (i + 1) / levels for i in range(levels)]
    if rough_floor == p.floor:
        zs = []
    for z in zs:
        serpentine(leave, z)
    serpentine(leave, p.floor)

    names = ("X", "Y") if runs_x else ("Y", "X")
    low, high = reach(leave)
    if lone and not _rising("Y" if runs_x else "X", int(walls_across[1])):
        low, high = high, low
    lanes = lane(leave)
    from_to = dial.span(names[0], low - zero_along, high - zero_along)
    at = dial.several(names[1], [b - zero_across for b in lanes])
    if zs:
        out.step(
            f"Rough in {len(zs)} cut{'s' if len(zs) > 1 else ''}",
            **{
                names[1]: at,
                f"{names[0]} from – to": from_to,
                "Z": dial.several("Z", [z - zeros.z for z in zs]),
            },
        )
    floor = dial.reading("Z", p.floor - zeros.z)
    out.step(
        "Last light cut on the floor" if zs else "One cut",
        **{names[1]: at, f"{names[0]} from – to": from_to, "Z": floor},
    )
    if leave:
        for index, side in ((0, "-"), (1, "+")):
            if walls_across[index]:
                b = across[index] + (radius if index == 0 else -radius)
                run = _way(reach(0.0), names[1], index)
                out.traverse(
                    [_swap(a - zero_along, b - zero_across, runs_x) for a in run],
                    p.floor - zeros.z,
                )
                span = dial.span(names[0], run[0] - zero_along, run[1] - zero_along)
                out.step(
                    f"{_wall(names[1], side)} wall to size",
                    **{
                        names[1]: dial.reading(names[1], b - zero_across),
                        f"{names[0]} from – to": span,
                        "Z": floor,
                    },
                )
            if walls_along[index]:
                a = along[index] + (radius if index == 0 else -radius)
                ends = lane(0.0)
                run = _way((ends[0], ends[-1]), names[0], index)
                out.traverse(
                    [_swap(a - zero_along, b - zero_across, runs_x) for b in run],
                    p.floor - zeros.z,
                )
                span = dial.span(names[1], run[0] - zero_across, run[1] - zero_across)
                out.step(
                    f"{_wall(names[0], side)} wall to size",
                    **{
                        names[0]: dial.reading(names[0], a - zero_along),
                        f"{names[1]} from – to": span,
                        "Z": floor,
                    },
                )
    return out


def _swap(a: float, b: float, runs_x: bool) -> tuple[float, float]:
    return (a, b) if runs_x else (b, a)


def _rising(square_to: str, index: int) -> bool:
    """Is a wall cut towards greater readings, so that the feed is against the cutter's turning?

    square_to: the axis the wall is square to; index 1: it lies on that axis's greater side. With a
    cutter turning clockwise from above, the wall must be on the left hand as the cutter goes: on
    slides with backlash it would else be snatched along; common practice.
    """
    return (index == 1) == (square_to == "Y")


def _way(run: tuple[float, float], square_to: str, index: int) -> tuple[float, float]:
    """A run beside a wall, against the cutter's turning."""
    return run if _rising(square_to, index) else (run[1], run[0])


def _wall(axis: str, side: str) -> str:
    return {"X-": "Left", "X+": "Right", "Y-": "Front", "Y+": "Back"}[axis + side]


# -- ends --------------------------------------------------------------------------------------


def _end(task: Task, job: End, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    part = task.part
    plane = lie.at((part.size[0] if job.face is Face.RIGHT else 0.0, 0.0, 0.0))[0]
    low, high = lie.extent
    radius = tool.diameter / 2
    out = Cutting(dial)
    z = low[2] - BELOW
    y0, y1 = low[1] - radius - OVERRUN, high[1] + radius + OVERRUN
    rough = plane + WALL_CUT
    for words, x in (("Clean up", rough), ("Last light cut", plane)):
        centre = x + radius
        out.traverse(
            [(centre - zeros.x, y0 - zeros.y), (centre - zeros.x, y1 - zeros.y)], z - zeros.z
        )
        out.step(
            words,
            X=dial.reading("X", centre - zeros.x),
            **{
                "Y from – to": dial.span("Y", y0 - zeros.y, y1 - zeros.y),
                "Z": dial.reading("Z", z - zeros.z),
            },
        )
    return out


# -- round holes -------------------------------------------------------------------------------


def tip_depth(job: Sink, tool: Tool, thickness: float) -> float:
    """How deep the tool's tip goes below the face it enters [mm]."""
    point = tool.diameter / 2 / tan(radians(tool.point / 2)) if tool.point < 179.9 else 0.0
    if job.step == "spot":
        return job.depth
    if job.through:
        extra = {"drill": point + 0.5, "ream": 2.0, "tap": 1.5, "bore": 0.3}[job.step]
        return thickness + extra
    return job.depth + (point if job.step == "drill" else 0.0)


def _sink(task: Task, job: Sink, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    out = Cutting(dial)
    part = task.part
    thickness = part.size[job.face.axis]
    surface = lie.at(part.size if lie.pose.up.sign > 0 else (0.0, 0.0, 0.0))[2]
    touch = job.step == "countersink"
    wide = job.size if job.step == "bore" else 0.0
    deep = tip_depth(job, tool, thickness)
    spots = []
    for p in job.at:
        x, y, _ = lie.at(p)
        z = surface - deep
        if touch:
            z = zeros.z - job.depth
        elif job.step == "spot":
            z = min([surface, *_floors(task, p, lie)]) - deep
        spots.append((x - zeros.x, y - zeros.y, z - zeros.z))
    spots.sort()
    for x, y, z in spots:
        out.moves.append(
            Plunge(
                x=dial.snap("X", x),
                y=dial.snap("Y", y),
                z=dial.snap("Z", z),
                touch=touch,
                wide=wide,
            )
        )
        out.travel += abs(job.depth) + 2.0
        out.approaches += 1
    words = {
        "spot": "Spot",
        "drill": "Drill",
        "ream": "Ream",
        "tap": "Tap",
        "flat": "Plunge",
        "countersink": "Countersink",
        "counterbore": "Counterbore",
        "bore": "Bore",
    }[job.step]
    for n, (x, y, z) in enumerate(spots):
        depth = dial.reading("Z", z)
        if touch:
            depth = f"{dial.length(dial.snap('Z', job.depth))} below the touch at the hole's edge"
        elif job.through:
            depth = f"{depth}, right through"
        out.step(
            f"{words} {n + 1}" if len(spots) > 1 else words,
            X=dial.reading("X", x),
            Y=dial.reading("Y", y),
            Z=depth,
        )
    return out


def _floors(task: Task, p: Vec, lie: Lie) -> list[float]:
    """Table heights of the metal, under what was cut before, that a hole at `p` starts on."""
    up = lie.pose.up
    start = list(p)
    start[up.axis] = task.part.size[up.axis] if up.sign > 0 else 0.0
    top = (start[0], start[1], start[2])
    return [lie.at(top)[2] - gap for c in task.cleared if (gap := air(c, top, up)) > 0]


def air(cut: LevelCut, top: Vec, up: Face) -> float:
    """How deep a level cut has left nothing under a point of the face `up` [mm]; 0 beside it."""
    inside = plus(plus(top, up.normal, -0.01), cut.origin, -1.0)
    down = up.opposite.normal
    deepest = inf
    for side, length in (
        (cut.run, cut.run_length),
        (cut.across, cut.across_length),
        (cut.normal, inf),
    ):
        at, slope = dot(inside, side), dot(down, side)
        if not 0.0 <= at <= length:
            return 0.0
        if slope > 1e-6:
            deepest = min(deepest, (length - at) / slope)
        elif slope < -1e-6:
            deepest = min(deepest, at / -slope)
    return deepest + 0.01 if deepest < inf else 0.0


# -- bevels ------------------------------------------------------------------------------------


def _bevel(task: Task, c: EdgeCut, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The cone's axis runs beside the edge, its point below it: both legs come out alike."""
    up = lie.pose.up
    side = c.faces[0] if c.faces[1] is up else c.faces[1]
    size = task.part.size
    corner = lie.at(
        (
            size[0] if Face.RIGHT in (up, side) else 0.0,
            size[1] if Face.BACK in (up, side) else 0.0,
            size[2] if Face.TOP in (up, side) else 0.0,
        )
    )
    outward = lie.pose.turn(side.normal)
    axis = 0 if abs(outward[0]) > 0.5 else 1
    fixed = corner[axis] + (CONE_CLEAR if outward[axis] > 0 else -CONE_CLEAR)
    low, high = lie.extent
    start, stop = low[1 - axis] - tool.diameter, high[1 - axis] + tool.diameter
    z = corner[2] - c.size[0] - CONE_CLEAR
    out = Cutting(dial)
    zero_fixed, zero_run = (zeros.x, zeros.y) if axis == 0 else (zeros.y, zeros.x)
    runs_x = axis == 1
    out.traverse(
        [_swap(a - zero_run, fixed - zero_fixed, runs_x) for a in (start, stop)], z - zeros.z
    )
    names = ("X", "Y") if axis == 0 else ("Y", "X")
    out.step(
        f"Bevel {show(c.size[0], dial.unit)}",
        **{
            names[0]: dial.reading(names[0], fixed - zero_fixed),
            f"{names[1]} from – to": dial.span(names[1], start - zero_run, stop - zero_run),
            "Z": dial.reading("Z", z - zeros.z),
        },
    )
    return out


# -- lines filed to ----------------------------------------------------------------------------


def _line(task: Task, job: Line, dial: Dial) -> Cutting:
    out = Cutting(dial)
    c = job.cut
    part = task.part
    if isinstance(c, EdgeCut):
        a, b = c.size
        face = Face.of(3 - c.faces[0].axis - c.faces[1].axis, 1)
        first, second = sorted(c.faces, key=lambda f: f.axis)
        u, v = (a, b) if first is c.faces[1] else (b, a)
        # c.size[0] is the leg lying on faces[0], measured away from faces[1].
        bulge = 0.0
        if c.shape == "round":
            # A quarter circle bulging towards the corner; its sense turns with the corner's hand.
            bulge = -(2**0.5 - 1)
        outline = (
            (-1.0, -1.0, 0.0),
            (u, -1.0, 0.0),
            (u, 0.0, 0.0),
            (0.0, v, bulge),
            (-1.0, v, 0.0),
        )
        out.moves.append(
            Shape(face=face, from_u=first, from_v=second, outline=outline, inside_out=True)
        )
        out.travel = part.size[face.axis]
        size = f"R {c.size[0]:g}" if c.shape == "round" else f"{c.size[0]:g} x {c.size[1]:g}"
        out.step(
            f"Mark out {size} on both ends of the edge {c.faces[0]} / {c.faces[1]}; file to it"
        )
        return out
    axes = [i for i in range(3) if i != c.face.axis]
    from_u, from_v = Face.of(axes[0], -1), Face.of(axes[1], -1)
    marked = [(c.start[0], c.start[1], 0.0)]
    length = 0.0
    last = c.start
    for piece in c.pieces:
        length += ((piece.to[0] - last[0]) ** 2 + (piece.to[1] - last[1]) ** 2) ** 0.5
        last = piece.to
        marked.append((piece.to[0], piece.to[1], piece.bulge))
    if marked[-1][:2] == marked[0][:2]:
        marked[0] = (marked[0][0], marked[0][1], marked[-1][2])
        marked.pop()
    out.moves.append(Shape(face=c.face, from_u=from_u, from_v=from_v, outline=tuple(marked)))
    out.travel = length
    out.step(
        f"Mark out on the {c.face} face from the {from_u} and the {from_v}; saw 1 mm outside the "
        "line; file to the line"
    )
    for n, (u, v, bulge) in enumerate(marked):
        out.step(
            f"Point {n + 1}" + (", by an arc" if bulge else ""),
            **{f"from {from_u}": show(u, dial.unit), f"from {from_v}": show(v, dial.unit)},
        )
    return out
