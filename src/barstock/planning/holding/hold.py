"""Holding the work: packing, grip, where the jaws stand, and which poses a feature would spoil."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import ceil, radians, tan

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.dimension_runs import End as DimensionEnd
from barstock.drawing.dimension_runs import EndKind
from barstock.errors import UnplannableError
from barstock.handbook import holding_limits as limits
from barstock.planning.holding import v_block
from barstock.planning.holding.angle_plate import against, fits, raised, under_straps
from barstock.planning.holding.fixture_block import block_for, screws
from barstock.planning.holding.straps import Noses, noses, packed, table
from barstock.planning.tasks.pose import Box, Lie, Pose, Straps, lay
from barstock.planning.tasks.task import Bevel, End, Job, Level, Sink, Task
from barstock.planning.tasks.tooling import CONE_CLEAR
from barstock.planning.values import plan_view
from barstock.route import Body, BodyKind
from barstock.workshop.shop import Vise, Workshop

ABOVE_JAWS = 0.5  # least height of a floor that runs out over a jaw [mm]; common practice
FINDER_SEES = 3.0  # of a side above the jaws for the edge finder [mm]; common practice
PAST_JAW = 3.0  # how far an end stands past the jaws when it is squared [mm]; common practice
FINE_LEVEL = 0.1  # between the heights at which the printed grip is looked at [mm]
LEVELS = 8  # heights at which a jaw's grip is looked at
SPOTS = 12  # along each side of the face it rests on, looked at likewise
JAW_GONE = 0.65  # share of a jaw's grip that may be gone; common practice
VEE_GONE = 0.2  # share of what a V-block presses, or zero is found on; common practice
REST_GONE = 0.55  # share of a face that may be gone from under the work; common practice
HOLLOW_GONE = 0.75  # or of one that is whole at its four corners; common practice
PRESSED_GONE = 0.3  # of where straps press work against an angle plate; common practice
FIRM_GRIP = (
    8.0  # enough between the jaws to choose a packing by other reasons [mm]; common practice
)
MARGIN = 1.2  # times the share of thin work that must be gripped; common practice


@dataclass(frozen=True)
class Grip:
    """How a setup holds the work [mm].

    could: every packing that would do as well; least, most: between all that would do at all.
    """

    vise: Vise
    packing: float
    parallels: tuple[float, ...]
    parallels_out: bool
    grip: float
    stick_up: float
    jaws: tuple[float, float]
    opening: float
    could: frozenset[float] = frozenset()
    least: float = 0.0
    most: float = 0.0
    bodies: tuple[Body, ...] = ()


def least_grip(height: float) -> float:
    """The least height of work that must be between the jaws [mm]."""
    return limits.least_grip(height, MARGIN * limits.GRIP_SHARE)


def hold(
    pose: Pose,
    box: Box,
    tasks: Sequence[Task],
    workshop: Workshop,
    wanted: Sequence[float] = (),
) -> Grip:
    """Choose vise, packing and the jaws' place for these tasks.

    wanted: packings that other setups stand on, the most useful first [mm].
    Raises UnplannableError with the cure.
    """
    if pose.vee:
        return _in_the_vee(pose, box, tasks, workshop)
    if pose.straps:
        return _on_the_table(pose, box, tasks, workshop, wanted)
    flat = lay(pose, box, 0.0)
    low, high = flat.extent
    opening = high[1] - low[1]
    offered = [v for v in workshop.vises if pose.vise in ("", v.name)]
    vises = [v for v in offered if v.opening >= opening]
    if not vises:
        raise UnplannableError(
            f"no vise opens {opening:.1f} mm for {tasks[0].part.name!r} ({pose.name}); "
            f"the widest opens {max((v.opening for v in offered), default=0):g} mm"
        )
    trouble: UnplannableError | None = None
    for vise in vises:
        try:
            if pose.block:
                return _on_block(tasks[0], flat, vise, workshop)
            return _in_jaws(flat, vise, tasks, workshop, wanted)
        except UnplannableError as reason:
            trouble = trouble or reason
    assert trouble is not None
    raise trouble


def _in_jaws(
    flat: Lie, vise: Vise, tasks: Sequence[Task], workshop: Workshop, wanted: Sequence[float]
) -> Grip:
    """Work between the jaws of a vise."""
    pose, (low, high) = flat.pose, flat.extent
    opening, height = high[1] - low[1], high[2] - low[2]
    exposed = max((_exposed(t, flat) for t in tasks), default=0.0)
    most_grip = height - exposed - (ABOVE_JAWS if exposed else 0.0)
    through = max((_point_below(t) for t in tasks), default=0.0)
    least = max(vise.jaw_depth - most_grip, through, 0.0)
    most = vise.jaw_depth - least_grip(height)
    choices = _packings(workshop.parallels, least, most, pose, tasks)
    if by_the_middle(tasks, pose.fixed_jaw.axis):
        proud = vise.jaw_depth - height + FINDER_SEES
        choices = [c for c in choices if sum(c) >= proud] or choices
    firm = most_firm(choices, vise.jaw_depth)
    could = {round(sum(c), 4): c for c in reversed(choices) if sum(c) <= firm}
    packing = next((could[w] for w in wanted if w in could), choices[0])
    grip = min(vise.jaw_depth - sum(packing), height)
    thickness = workshop.parallel_thickness
    drawn_out = bool(packing) and any(_over_parallels(t, flat, thickness) for t in tasks)
    ends = [t for t in tasks if isinstance(t.job, End) and pose.up.axis != 0]
    if ends:
        plane = min(_plane(t, flat) for t in ends)
        right = plane - PAST_JAW
        jaws = (right - vise.jaw_width, right)
    else:
        middle = (low[0] + high[0]) / 2
        jaws = (middle - vise.jaw_width / 2, middle + vise.jaw_width / 2)
    return Grip(
        vise,
        sum(packing),
        packing,
        drawn_out,
        grip,
        height - grip,
        jaws,
        opening,
        frozenset(could),
        min(map(sum, choices)),
        max(map(sum, choices)),
    )


def by_the_middle(tasks: Sequence[Task], axis: int) -> bool:
    """Is a hole's place from the centre line held closer than the part is across?

    From one side, half of what the part is over or under would go into the place.
    """
    part = tasks[0].part
    across = (part.length, part.width, part.height)[axis]
    given = [
        (check.dimension, check.runs[0])
        for t in tasks
        for check in t.checks
        if check.runs and check.has(EndKind.HOLE, EndKind.MIDDLE)
    ]
    middle = DimensionEnd(EndKind.CENTRE_LINE, axis=axis)
    near = [size for size, origin in given if origin == middle]
    close = any(d.high - d.low < (across.high - across.low) / 2 - 1e-6 for d in near)
    return close and not any(o.face is not None and o.face.axis == axis for _, o in given)


def _on_block(task: Task, flat: Lie, vise: Vise, workshop: Workshop) -> Grip:
    """Work screwed down on a fixture block between the jaws."""
    held_by = screws(task, flat, workshop)
    bodies, under = block_for(held_by, flat, vise, workshop)
    block = bodies[0]
    (_, front, base), (_, back, top) = block.low, block.high
    middle = (block.low[0] + block.high[0]) / 2
    height = flat.extent[1][2]
    return Grip(
        vise,
        top,
        under,
        False,
        vise.jaw_depth - base,
        top + height - vise.jaw_depth,
        (middle - vise.jaw_width / 2, middle + vise.jaw_width / 2),
        back - front,
        frozenset({round(top, 4)}),
        top,
        top,
        bodies,
    )


def _on_the_table(
    pose: Pose, box: Box, tasks: Sequence[Task], workshop: Workshop, wanted: Sequence[float]
) -> Grip:
    """Work strapped down on the table."""
    assert pose.straps is not None
    if pose.straps.plate:
        return _against_the_plate(pose, box, pose.straps, workshop)
    deepest = max((_point_below(t) for t in tasks), default=0.0)
    packing, could = packed(pose, box, deepest, workshop, wanted)
    there = table(pose.straps, lay(pose, box, packing), workshop.parallel_thickness)
    carried = any(body.kind is BodyKind.PARALLEL for body in there)
    return _without_jaws("straps on the table", there, packing, could, on_parallels=carried)


def _against_the_plate(pose: Pose, box: Box, straps: Straps, workshop: Workshop) -> Grip:
    """Work stood on the table against the angle plate."""
    fits(pose, box, workshop)
    rest = raised(pose, box, workshop)
    there = against(straps, lay(pose, box, rest), workshop.parallel_thickness)
    return _without_jaws("angle plate on the table", there, rest, [rest], on_parallels=rest > 0)


def _without_jaws(
    device: str,
    there: tuple[Body, ...],
    packing: float,
    could: Sequence[float],
    *,
    on_parallels: bool,
) -> Grip:
    """What holds work on the table, where no jaws grip it. could: heights it might lie at [mm]."""
    return Grip(
        Vise(device, 0.0, 0.0, 0.0),
        packing,
        (packing,) if on_parallels else (),
        False,
        0.0,
        0.0,
        (0.0, 0.0),
        0.0,
        frozenset(could),
        min(could),
        max(could),
        bodies=there,
    )


def _in_the_vee(pose: Pose, box: Box, tasks: Sequence[Task], workshop: Workshop) -> Grip:
    """Round work in a V-block in the widest vise."""
    offered = [v for v in workshop.vises if pose.vise in ("", v.name)]
    if not offered:
        raise UnplannableError("workshop.yaml lists no vise to hold the V-block in")
    vise = max(offered, key=lambda v: v.opening)
    parallels, packing = v_block.packed(pose, box, tasks, vise, workshop.parallels)
    lie = lay(pose, box, packing)
    there = v_block.block_at(pose, lie)
    middle, rest = (there.low[0] + there.high[0]) / 2, sum(parallels)
    low = there.low[1]
    return Grip(
        vise,
        packing,
        parallels,
        False,
        vise.jaw_depth - rest,
        lie.extent[1][2] - vise.jaw_depth,
        (middle - vise.jaw_width / 2, middle + vise.jaw_width / 2),
        -low if v_block.stands(pose) else there.size[1],
        frozenset({round(packing, 4)}),
        packing,
        packing,
        bodies=v_block.bodies(pose, lie),
    )


def _plane(task: Task, lie: Lie) -> float:
    assert isinstance(task.job, End)
    return lie.at((task.part.size[0] if task.job.face is Face.RIGHT else 0.0, 0.0, 0.0))[0]


def _exposed(task: Task, lie: Lie) -> float:
    """How far below the work's top the jaws must stay for a task [mm]."""
    if isinstance(task.job, Bevel):
        up, size = lie.pose.up, task.part.size
        plane = lie.at(size if up.sign > 0 else (0.0, 0.0, 0.0))[2]
        return lie.extent[1][2] - plane + task.job.cut.size[0] + CONE_CLEAR
    if not isinstance(task.job, Level):
        return 0.0
    p = plan_view(task.job.cut, task.part.size, lie)
    if p.wall_front and p.wall_back:
        return 0.0
    return p.top - p.floor


def _point_below(task: Task) -> float:
    """How far a task's cutter goes below the work [mm]."""
    job = task.job
    if isinstance(job, Sink) and job.through:
        tool = task.tools[0]
        point = tool.diameter / 2 / tan(radians(tool.point / 2)) if tool.point < 179.9 else 2.0
        return point + 1.0
    if isinstance(job, Level):
        return job.below(task.part.size)
    return 1.0 if isinstance(job, End) else 0.0


def _over_parallels(task: Task, lie: Lie, thickness: float) -> bool:
    job = task.job
    low, high = lie.extent
    if isinstance(job, Level) and job.below(task.part.size) > 0:
        front, back = plan_view(job.cut, task.part.size, lie).y
        return back + 0.5 > high[1] - thickness or front - 0.5 < low[1] + thickness
    if not (isinstance(job, Sink) and job.through):
        return False
    for p in job.at:
        y = lie.at(p)[1]
        radius = job.size / 2 + 0.5
        if y + radius > high[1] - thickness or y - radius < low[1] + thickness:
            return True
    return False


def most_firm(choices: Sequence[tuple[float, ...]], jaw_depth: float) -> float:
    """The highest packing that holds the work firmly, or as firmly as can be [mm]."""
    return max(sum(choices[0]), jaw_depth - FIRM_GRIP)


def _packings(
    owned: Sequence[float], least: float, most: float, pose: Pose, tasks: Sequence[Task]
) -> list[tuple[float, ...]]:
    """Packings between the limits from the parallels owned, one height or two stacked.

    Those of fewest pieces first, of these the lowest first.
    """
    through = any(isinstance(t.job, Sink) and t.job.through for t in tasks)
    bare: list[tuple[float, ...]] = [()] if least <= 1e-9 else []
    choices: list[tuple[float, ...]] = [(p,) for p in owned]
    choices += combinations(owned, 2)
    good = [c for c in choices if least - 1e-6 <= sum(c) <= most + 1e-6]
    good += bare if not through or not good else []
    if not good:
        raise UnplannableError(
            f"no parallels owned pack {tasks[0].part.name!r} ({pose.name}) to between "
            f"{least:.1f} and {most:.1f} mm above the bed of the vise; add such a pair to "
            "workshop.yaml"
        )
    return sorted(good, key=lambda c: (len(c), sum(c)))


# -- what spoils a pose ------------------------------------------------------------------------


def removed_at(task: Task, point: Vec) -> bool:
    """Does the task take away the metal at a point of the part's frame?"""
    return _removes(task.job, task.part.size, point)


def _removes(job: Job, size: Vec, point: Vec) -> bool:
    if isinstance(job, Level):
        return job.cut.clears(point)
    if isinstance(job, Sink) and job.step in ("drill", "counterbore", "flat", "bore"):
        return job.clears(point)
    return isinstance(job, Bevel) and _in_bevel(job, point, size)


@lru_cache(maxsize=1024)
def _gone(job: Job, size: Vec, points: tuple[Vec, ...]) -> frozenset[Vec]:
    """The points where a job takes away the metal of a part of that size.

    Remembered: the same few jobs are looked at in the same few poses, over and over.
    """
    return frozenset(p for p in points if _removes(job, size, p))


def _in_bevel(job: Bevel, point: Vec, size: Vec) -> bool:
    """Does a point lie in the corner that a bevel takes off?"""
    share = 0.0
    for face, leg in zip(reversed(job.cut.faces), job.cut.size, strict=True):
        edge = size[face.axis] if face.sign > 0 else 0.0
        share += (edge - point[face.axis]) * face.sign / leg
    return share < 1.0


@dataclass(frozen=True)
class Seat:
    """Points of the work that a pose needs: on either jaw's grip, and on the face it rests on.

    corners: of the points it rests on. jaw_share: of a jaw's points that may be gone. levels: of a
    jaw's points, as many at each; 0 where no two jaws press against each other.
    """

    jaws: tuple[tuple[Vec, ...], tuple[Vec, ...]]
    rest: tuple[Vec, ...]
    corners: frozenset[Vec]
    jaw_share: float = JAW_GONE
    levels: int = 0

    def spoilt_by(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks which together would take away too much of it; none if enough is left."""
        guilty: list[Task] = []
        for points, share in (
            (self.jaws[0], self.jaw_share),
            (self.jaws[1], self.jaw_share),
            (self.rest, REST_GONE),
        ):
            gone = {t.id: _gone(t.job, t.part.size, points) for t in tasks}
            away = frozenset[Vec]().union(*gone.values())
            if points is self.rest and not away & self.corners:
                share = HOLLOW_GONE
            if len(away) > share * len(points):
                guilty += [t for t in tasks if gone[t.id] and t not in guilty]
        return guilty or self._aside(tasks)

    def _aside(self, tasks: Sequence[Task]) -> list[Task]:
        """The tasks that leave either jaw enough, but not at heights where they meet."""
        if not self.levels:
            return []
        gone = {t.id: [_gone(t.job, t.part.size, points) for points in self.jaws] for t in tasks}
        low, high = 0, self.levels
        for n, points in enumerate(self.jaws):
            away = frozenset[Vec]().union(*(each[n] for each in gone.values()))
            left = [m % self.levels for m, p in enumerate(points) if p not in away]
            low, high = max(low, min(left)), min(high, max(left) + 1)
        if high - low >= (1 - self.jaw_share) * self.levels:
            return []
        return [t for t in tasks if any(gone[t.id])]


def seat(pose: Pose, box: Box, grip: float) -> Seat | Noses:
    """What a pose needs of work with these extremes, `grip` of its height between the jaws."""
    if pose.vee:
        pressed, seen, any_of = v_block.seat_points(pose, box)
        return Seat((pressed, seen), any_of, frozenset(), VEE_GONE)
    if pose.straps and pose.straps.plate:
        return Seat((under_straps(pose, box), ()), (), frozenset(), PRESSED_GONE)
    return noses(pose, box) if pose.straps else in_jaws(pose, box, grip)


def in_jaws(pose: Pose, box: Box, grip: float, levels: int = LEVELS) -> Seat:
    """What a pose in a vise needs. levels: at which the jaws are looked at."""
    return _seat(pose.up, pose.right.axis, pose.fixed_jaw, box, grip, levels)


@lru_cache(maxsize=256)
def _seat(up: Face, along: int, fixed_jaw: Face, box: Box, grip: float, levels: int) -> Seat:
    jaws = []
    for jaw in (fixed_jaw, fixed_jaw.opposite):
        points = []
        for i in range(9):
            for j in range(levels):
                p = [0.0, 0.0, 0.0]
                p[along] = _between(box, along, (i + 0.5) / 9)
                p[up.axis] = _side(box, up.opposite) + up.sign * grip * (j + 0.5) / levels
                p[jaw.axis] = _side(box, jaw) - jaw.sign * 0.02
                points.append((p[0], p[1], p[2]))
        jaws.append(tuple(points))
    rest = []
    u, v = (i for i in range(3) if i != up.axis)
    for i in range(SPOTS):
        for j in range(SPOTS):
            p = [0.0, 0.0, 0.0]
            p[u], p[v] = _between(box, u, (i + 0.5) / SPOTS), _between(box, v, (j + 0.5) / SPOTS)
            p[up.axis] = _side(box, up.opposite) + up.sign * 0.02
            rest.append((p[0], p[1], p[2]))
    height = box[1][up.axis] - box[0][up.axis]
    share = min(JAW_GONE, 1 - least_grip(height) / grip)
    ends = [(min(p[i] for p in rest), max(p[i] for p in rest)) for i in (u, v)]
    corners = frozenset(p for p in rest if p[u] in ends[0] and p[v] in ends[1])
    return Seat((jaws[0], jaws[1]), tuple(rest), corners, share, levels)


def touched(pose: Pose, box: Box, grip: float, done: Sequence[Task]) -> float:
    """Height over which both jaws touch work that is gripped so deep, after these cuts [mm]."""
    whole = in_jaws(pose, box, grip, ceil(grip / FINE_LEVEL)).jaws
    heights = []
    for points in whole:
        gone = frozenset[Vec]().union(*(_gone(t.job, t.part.size, points) for t in done))
        stays = [p for p in points if p not in gone]
        rest = _side(box, pose.up.opposite)
        heights.append([abs(p[pose.up.axis] - rest) for p in stays])
    if not all(heights):
        return grip
    levels = ceil(grip / FINE_LEVEL)
    low, high = max(map(min, heights)), min(map(max, heights))
    return min(grip, high - low + grip / levels)


def sides_clear(pose: Pose, box: Box, done: Sequence[Task]) -> bool:
    """Are both sides at the jaws still there near the top, where an edge finder touches them?"""
    for jaw in (pose.fixed_jaw, pose.fixed_jaw.opposite):
        for share in (0.25, 0.5, 0.75):
            p = [0.0, 0.0, 0.0]
            p[pose.right.axis] = _between(box, pose.right.axis, share)
            p[pose.up.axis] = _side(box, pose.up) - pose.up.sign * FINDER_SEES / 2
            p[jaw.axis] = _side(box, jaw) - jaw.sign * 0.02
            if any(removed_at(t, (p[0], p[1], p[2])) for t in done):
                return False
    return True


def _between(box: Box, axis: int, share: float) -> float:
    return box[0][axis] + (box[1][axis] - box[0][axis]) * share


def _side(box: Box, face: Face) -> float:
    return box[1][face.axis] if face.sign > 0 else box[0][face.axis]


def likely_grip(part: Part, pose: Pose) -> float:
    """Height of work that will be between the jaws in a pose, before packing is known [mm]."""
    height = part.size[pose.up.axis]
    return max(least_grip(height), min(height * 0.5, 12.0))
