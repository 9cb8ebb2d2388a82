"""Plans what is machined after joining: the pieces joined are the stock, gaps and all.

The planner's own road: where there is metal it asks the pieces' cuts, never their solids.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from math import ceil, cos, pi, sin

from barstock.drawing.build import Build, Face, Part, Pin, Vec
from barstock.drawing.part import Joined
from barstock.errors import UnplannableError, concerning
from barstock.handbook.holding_limits import HOLDER_RADIUS
from barstock.methods.cuts import LevelCut
from barstock.methods.feature_cuts import cuts_of, filed_flush
from barstock.methods.joined_metal import Metal, metal_of
from barstock.planning.holding.way import way_of
from barstock.planning.tasks.pose import Pose, plus
from barstock.planning.tasks.task import JUST_IN, Line, Sink, Task
from barstock.planning.tasks.tooling import ToolChest
from barstock.quantities import Length
from barstock.route.statements import ReasonKind, because
from barstock.stocking.bar_choice import Lengths, Stock
from barstock.workshop.shop import BarStock, Holder, Tool, ToolKind

FIRM = 0.15  # least share of a jaw's grip with metal all the way across behind it, or
ENOUGH = 3.0  # so much of its length over the whole height [mm]; common practice
SPREAD = 0.5  # share of the work that what it rests on, or is held by, spans; common practice
ACROSS = 7  # points tried between the jaws
WIDE_SPOT = 0.9  # of the drilled diameter, a spot at 90 degrees over a screw; common practice
STEP = 0.2  # between points tried for metal along a hole's axis [mm]


def stock_of(part: Part) -> Stock:
    """The stock that a fabrication's features are cut from: its pieces."""
    low, high = part.raw
    bar = BarStock(
        name="the pieces joined",
        material=part.material,
        shape="rectangle",
        width=high[1] - low[1],
        height=high[2] - low[2],
        length=high[0] - low[0],
    )
    return Stock(bar, (low[1], high[1]), (low[2], high[2]), False, ())


def lengths_of(part: Part) -> Lengths:
    """The works to be loaded: one for every copy."""
    low, high = part.raw
    long = high[0] - low[0]
    return Lengths(1, part.copies, 1, long, long, 0.0)


def after_joining(part: Part, tasks: Sequence[Task], chest: ToolChest) -> list[Task]:
    """A fabrication's tasks: what is filed flush comes first, and only poses with metal to hold.

    Raises UnplannableError where a task is left without one.
    """
    joined = part.joined
    assert joined is not None
    metal = metal_of(joined)
    # a hole along a screw's is drilled where that one leads, not below it
    hollow = Hollow(metal_of(joined, holes=False), part.size)
    tasks = _led_by_screws(joined, tasks)
    filed = filed_flush(part)
    flush = [t for t in tasks if t.feature in filed]
    first = {t.id: because(ReasonKind.FLUSH_FIRST) for t in flush}
    ids = {t.id for t in tasks}
    found = []
    for t in tasks:
        after = {name: why for name, why in t.after.items() if name in ids}
        if isinstance(t.job, Sink):
            t = replace(t, cleared=(hollow,))
        if t in flush:
            found.append(replace(t, after={}, why=(because(ReasonKind.FILED_FIRST),)))
            continue
        poses = t.poses
        if not isinstance(t.job, Line):
            poses = tuple(p for p in poses if firm(p, part, metal))
        if not poses:
            with concerning(t.feature):
                raise UnplannableError(
                    "as joined it cannot be held for it between a vise's jaws: on no two sides is "
                    "there metal all the way across, and under the whole to rest on",
                    part.name,
                    t.named,
                )
        poses = _from_metal(t, poses, hollow)
        with concerning(t.feature):
            tools = _reaching(t, poses, hollow, chest)
        found.append(replace(t, poses=poses, tools=tools, after=after | first))
    return found


def _from_metal(task: Task, poses: tuple[Pose, ...], hollow: Hollow) -> tuple[Pose, ...]:
    """Only the poses in which a hole starts at the top of the whole, if there are any."""
    job = task.job
    if not isinstance(job, Sink):
        return poses
    tops = [
        pose
        for pose in poses
        if all(hollow.air(_top(p, pose.up, task.part.size), pose.up) == 0.0 for p in job.at)
    ]
    return tuple(tops) or poses


def _reaching(
    task: Task, poses: tuple[Pose, ...], hollow: Hollow, chest: ToolChest
) -> tuple[Tool, ...]:
    """The tools whose chuck keeps clear of the pieces that stand up beside a hole.

    Raises UnplannableError where there is none.
    """
    job = task.job
    if not isinstance(job, Sink) or task.tools[0].holder is not Holder.CHUCK:
        return task.tools
    wanted = (max(_reach_wanted(job, p, pose.up, hollow) for p in job.at) for pose in poses)
    needs = min(wanted)
    owned = chest.of(ToolKind.SPOT_DRILL, lambda _: True) if job.step == "spot" else []
    good = [tool for tool in (*task.tools, *owned) if tool.reach >= needs]
    if good:
        return tuple(good[:1]) if job.step == "spot" else tuple(good)
    stick_out = f"{Length(ceil(needs)):g}"
    raise UnplannableError(
        f"as joined a piece stands up beside it, in the way of the chuck: {task.tools[0].name} "
        f"would have to stick out {stick_out}; list one that does, as "
        f"{{size: …, reach: {stick_out}}}, or make it in the piece before joining",
        task.part.name,
        task.named,
    )


def _reach_wanted(job: Sink, p: Vec, up: Face, hollow: Hollow) -> float:
    """How far a tool must stick out for its chuck to stay above what stands beside a hole [mm]."""
    top = _top(p, up, hollow.size)
    start = hollow.air(top, up)
    # a spot is as deep as where the drill begins asks, all else is counted from the entry drawn
    entry = (top[up.axis] - p[up.axis]) * up.sign
    deep = (start if job.step == "spot" else entry) + job.depth
    end = hollow.size[up.axis] if job.through else deep
    if start == 0.0:
        return 0.0
    u, v = (i for i in range(3) if i != up.axis)
    beside = []
    chuck = HOLDER_RADIUS[Holder.CHUCK]
    for n, far in product(range(16), (chuck, chuck / 2, job.size / 2 + 1.0)):
        way = list(top)
        way[u] += far * cos(n * pi / 8)
        way[v] += far * sin(n * pi / 8)
        beside.append(hollow.air((way[0], way[1], way[2]), up))
    return max(0.0, end - min(beside)) if min(beside) < start - JUST_IN else 0.0


def _top(p: Vec, up: Face, size: Vec) -> Vec:
    """The point on the face `up` of the whole above another."""
    far = list(p)
    far[up.axis] = size[up.axis] if up.sign > 0 else 0.0
    return (far[0], far[1], far[2])


def _led_by_screws(joined: Joined, tasks: Sequence[Task]) -> list[Task]:
    """Nothing is spotted where the hole of a fixing screw leads the drill. One left in leads none:
    that is spotted, wide enough to reach past the clearance round the screw.
    """
    left_in = {screw.replaced_by for screw in joined.screws if screw.left_in}
    replaced = {screw.replaced_by for screw in joined.screws} - left_in
    spots = {
        t.id: t
        for t in tasks
        if t.feature in replaced and isinstance(t.job, Sink) and t.job.step == "spot"
    }
    tasks = _spotted_wide(tasks, left_in)
    found = []
    for t in tasks:
        spot = next((spots[name] for name in t.after if name in spots), None)
        if t.id in spots:
            continue
        if spot is not None:
            others = {name: why for name, why in t.after.items() if name != spot.id}
            led = because(ReasonKind.SCREW_LEADS)
            checks = (*spot.checks, *t.checks)
            t = replace(t, after=spot.after | others, checks=checks, why=(*t.why, led))
        found.append(t)
    return found


def _spotted_wide(tasks: Sequence[Task], left_in: set[str]) -> list[Task]:
    """The tasks with the spots of these features nearly as wide as what is drilled after them."""
    found = []
    for t in tasks:
        job = t.job
        if t.feature in left_in and isinstance(job, Sink) and job.step == "spot":
            drilled = [
                other.job.size
                for other in tasks
                if t.id in other.after and isinstance(other.job, Sink)
            ]
            mouth = WIDE_SPOT * min([*drilled, t.tools[0].diameter])
            t = replace(t, job=replace(job, depth=max(job.depth, mouth / 2)))
        found.append(t)
    return found


# -- where there is metal ------------------------------------------------------------------------


@dataclass(frozen=True)
class Hollow:
    """The air beside the pieces of a whole, on whose floors a hole may start as on a cut's."""

    metal: Metal
    size: Vec

    def air(self, top: Vec, up: Face) -> float:
        """How deep there is no metal under a point of the face `up` [mm]; all, if there is none."""
        thick, down = self.size[up.axis], up.opposite.normal
        if self.metal(plus(top, down, JUST_IN)):
            return 0.0
        deep = JUST_IN
        while not self.metal(plus(top, down, deep)):
            deep += STEP
            if deep > thick:
                return thick
        dry, low = deep - STEP, deep
        while low - dry > 1e-4:
            middle = (dry + low) / 2
            dry, low = (dry, middle) if self.metal(plus(top, down, middle)) else (middle, low)
        return round(low, 3)


def firm(pose: Pose, part: Part, metal: Metal) -> bool:
    """Is there metal right across between the jaws, and under the work, so that nothing bends?

    The work is looked at between every two of its pieces' faces, however thin it is there.
    """
    held = way_of(pose).pressed(pose, part)
    if held is None:
        return True
    along, jaw, levels = pose.right.axis, pose.fixed_jaw.axis, held.levels
    slices = _slices(part, along)
    area, places = 0.0, []
    for low, high in slices:
        solid = 0
        for a, b in zip(held.jaws[0][:levels], held.jaws[1][:levels], strict=True):
            ends = _moved(a, along, (low + high) / 2), _moved(b, along, (low + high) / 2)
            solid += all(metal(p) for p in _between(*ends))
        if solid:
            places += [low, high]
        area += (high - low) * solid / levels
    rest = [
        p
        for x in _edges(slices)
        for y in _edges(_slices(part, jaw))
        if metal(p := _moved(_moved(held.rest[0], along, x), jaw, y))
    ]
    length = part.size[along]
    return (
        area >= min(FIRM * length, ENOUGH)
        and max(places, default=0.0) - min(places, default=0.0) >= SPREAD * length - 1e-6
        and _span(rest, along) >= SPREAD * length - 1e-6
        and _span(rest, jaw) >= SPREAD * part.size[jaw] - 1e-6
    )


def _slices(part: Part, axis: int) -> list[tuple[float, float]]:
    """The spans along an axis between the faces of a fabrication's pieces and of their cuts."""
    assert part.joined is not None
    faces = {0.0, part.size[axis]}
    for piece in part.joined.pieces:
        corners = [*piece.box]
        for cut in cuts_of(piece.part):
            if isinstance(cut, LevelCut):
                far = plus(plus(cut.origin, cut.run, cut.run_length), cut.across, cut.across_length)
                corners += [piece.at(cut.origin), piece.at(far)]
        faces |= {round(c[axis], 4) for c in corners if 0 < c[axis] < part.size[axis]}
    return [(a, b) for a, b in pairwise(sorted(faces)) if b - a > 2 * JUST_IN]


def _edges(slices: Sequence[tuple[float, float]]) -> list[float]:
    """Places just inside both ends of every span, and in its middle."""
    return [x for a, b in slices for x in (a + JUST_IN, (a + b) / 2, b - JUST_IN)]


def _moved(p: Vec, axis: int, to: float) -> Vec:
    """A point with another coordinate on an axis."""
    x, y, z = (to if i == axis else c for i, c in enumerate(p))
    return (x, y, z)


def _between(a: Vec, b: Vec) -> list[Vec]:
    whole = plus(b, a, -1.0)
    return [plus(a, whole, n / (ACROSS - 1)) for n in range(ACROSS)]


def _span(points: Sequence[Vec], axis: int) -> float:
    values = [p[axis] for p in points]
    return max(values, default=0.0) - min(values, default=0.0)


# -- between the parts -----------------------------------------------------------------------------


def pieces_first(build: Build) -> list[Pin]:
    """All work on pieces, and on the fixture, comes before that on what is joined from them."""
    found = []
    for whole in build.fabrications:
        joined = whole.joined
        assert joined is not None
        found += [Pin("before", (part.name, whole.name)) for part in joined.parts]
    return found
