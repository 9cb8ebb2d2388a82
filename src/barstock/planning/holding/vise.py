"""Work between the jaws of a vise, on parallels or the bed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from math import ceil
from typing import ClassVar, Literal

from barstock.drawing.build import Face, Part, Vec
from barstock.errors import UnplannableError
from barstock.handbook import holding_limits as limits
from barstock.handbook.slitting_saws import SCREW
from barstock.planning.holding.cone_room import below_cones
from barstock.planning.holding.cutter_runs import STANDS_OUT, point_below
from barstock.planning.holding.finder_room import PROUD, end_there, goes_between
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import (
    JAW_GONE,
    Needed,
    Seat,
    between,
    gone,
    removed_at,
    side,
    springs,
)
from barstock.planning.holding.way import Need, Way, by_the_middle
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Bevel, End, Facing, Level, Sink, Slit, Task
from barstock.planning.tasks.tooling import CONE_CLEAR
from barstock.planning.values import plan_view, slot_view
from barstock.quantities import Length
from barstock.route import Holding
from barstock.route.statements import Caution, CautionKind
from barstock.stocking.bar_choice import CLEAN_UP
from barstock.workshop.shop import Vise, Workshop

USUAL_JAW = 80.0  # width of a small mill's vise [mm]; common practice
OVERHANG = 0.5  # of a jaw's width that a bar may stand past each end of it; common practice
LIMBER = 4.0  # times its thickness that a bar may stand past the jaws; common practice
ABOVE_JAWS = 0.5  # least height of a floor that runs out over a jaw [mm], or
FIRM = 3.0  # between the jaws where any of the cuts leaves so much [mm]; common practice
SUNK = 4.0  # that thin work may lie below the jaws' tops, and is so thick [mm]; common practice
CLOSE = 0.2  # that where the work has little else to be gripped by [mm]; common practice
FINDER_SEES = 3.0  # of a side above the jaws for the edge finder [mm]; common practice
PAST_JAW = 3.0  # how far an end stands past the jaws when it is squared [mm]; common practice
FINE_LEVEL = 0.1  # between the heights at which the printed grip is looked at [mm]
LEVELS = 8  # heights at which a jaw's grip is looked at
REST_PLACES = 200  # along the face that tilted work rests on, looked at
SPOTS = 12  # along each side of the face it rests on, looked at likewise
FIRM_GRIP = (
    8.0  # enough between the jaws to choose a packing by other reasons [mm]; common practice
)
LITTLE = 4.0  # less grip than this is warned of [mm]; common practice
TALL = 3.0  # times its grip that work may stand up before a warning; common practice
LIKELY = 1.5  # times the least grip that there will be at least; common practice
MARGIN = 1.2  # times the share of thin work that must be gripped; common practice


@dataclass(frozen=True)
class InVise(Way):
    """Work between the jaws of a vise. vise: the one to use, where it is not free; near: the end
    near which work longer than the jaws is held, "" about its middle; slides: may the vise stand
    free under the spindle of a drill press? lowered: may thin work lie lower than the jaws' tops,
    for cuts that keep between them?
    """

    name = "vise"
    slides: ClassVar[bool] = True
    vise: str = ""
    near: Literal["", "left", "right"] = ""
    lowered: bool = False

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is thought of first for whatever lies with a long face up."""
        return cls() if need is Need.CUT and up.axis != 0 else None

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """Work longer than the jaws is offered with either end near them; thin work lowered."""
        way, least = pose.way, min((v.jaw_width for v in shop.vises), default=0.0)
        if not isinstance(way, InVise) or type(way) is not cls or way.near:
            return ()
        if pose.stage == "bar" or pose.tilt:
            return ()
        long = part.size[pose.right.axis] > least
        near = [replace(way, near="left"), replace(way, near="right")] if long else []
        thin = part.size[pose.up.axis] <= SUNK
        return [*near, *(replace(one, lowered=True) for one in (way, *near) if thin)]

    def pose_words(self, pose: Pose) -> str:
        """The vise, and which end it is near, for the name of a pose."""
        held = f", in the {self.vise}" if self.vise else ""
        end = pose.right if self.near == "right" else pose.left
        held += f", gripped near the {end} end" if self.near else ""
        return held + ", below the jaws' tops" * self.lowered

    def in_device(self, name: str) -> Way | None:
        """The same way by the vise of that name."""
        return replace(self, vise=name)

    def longest(self, shop: Workshop, thin: float) -> float:
        """The longest bar that the widest vise holds without too much standing past
        its jaws [mm].
        """
        jaw = max((v.jaw_width for v in shop.vises), default=USUAL_JAW)
        return jaw + 2 * min(jaw * OVERHANG, LIMBER * thin)

    def free(self, height: float) -> float:
        """All the height is free but what is gripped, and a little [mm]."""
        return height - least_grip(height) - ABOVE_JAWS

    def loose(self, pose: Pose, part: Part, shop: Workshop) -> bool:
        """Would jaws bow the work, so thin as it is for its width?"""
        whole = ((0.0, 0.0, 0.0), part.size)
        return pose.stage != "bar" and not pose.tilt and springs(lay(pose, whole, 0.0))

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held in the first of the vises that opens so far, is deep enough and can be
        packed.
        """
        if any(isinstance(t.job, Facing) and t.by_the_side(pose.up) for t in tasks):
            raise UnplannableError("a jaw of the vise would be where it is cut")
        flat = lay(pose, box, 0.0)
        low, high = flat.extent
        opening = high[1] - low[1]
        offered = [v for v in shop.vises if self.vise in ("", v.name)]
        vises = [v for v in offered if v.opening >= opening]
        if not vises:
            raise UnplannableError(
                f"no vise opens {Length(opening):.1f} for {tasks[0].part.name!r} ({pose.name}); "
                f"the widest opens {Length(max((v.opening for v in offered), default=0)):g}"
            )
        trouble: UnplannableError | None = None
        for vise in vises:
            try:
                return self._by(vise, flat, tasks, shop, wanted)
            except UnplannableError as reason:
                trouble = trouble or reason
        assert trouble is not None
        raise trouble

    def _by(
        self, vise: Vise, flat: Lie, tasks: Sequence[Task], shop: Workshop, wanted: Sequence[float]
    ) -> Grip:
        """Work between the jaws of that vise."""
        pose, (low, high) = flat.pose, flat.extent
        opening, height = high[1] - low[1], high[2] - low[2]
        choices = self._choices(vise, flat, tasks, shop.parallels)
        jaws = self._jaws(vise, flat, tasks)
        end_free = self.by_eye or jaws[0] >= low[0] or goes_between(opening, shop)
        if not end_free:
            least = vise.jaw_depth + PROUD - height
            # of tilted work another lean may have taken that end's top
            proud = [] if pose.tilt else [c for c in choices if sum(c) >= least]
            movable = not self.near and all(_beside_jaws(t, flat) is None for t in tasks)
            if not proud and movable:
                jaws, end_free = (low[0], low[0] + vise.jaw_width), True
            elif not proud:
                raise UnplannableError(
                    "no edge finder would have room between the jaws at its left-hand end"
                )
            choices = proud or choices
        near_enough(jaws, flat, tasks)
        if by_the_middle(tasks, pose.fixed_jaw.axis):
            enough = vise.jaw_depth - height + FINDER_SEES
            choices = [c for c in choices if sum(c) >= enough] or choices
        firm = most_firm(choices, vise.jaw_depth)
        could = {round(sum(c), 4): c for c in reversed(choices) if sum(c) <= firm}
        packing = next((could[w] for w in wanted if w in could), choices[0])
        grip = min(vise.jaw_depth - sum(packing), height)
        thickness = shop.parallel_thickness
        return Grip(
            vise.name,
            sum(packing),
            packing,
            bool(packing) and any(over_parallels(t, flat, thickness, opening) for t in tasks),
            vise,
            grip,
            height - grip,
            jaws,
            opening,
            frozenset(could),
            min(map(sum, choices)),
            max(map(sum, choices)),
            end_free=end_free,
        )

    def _choices(
        self, vise: Vise, flat: Lie, tasks: Sequence[Task], owned: Sequence[float]
    ) -> list[tuple[float, ...]]:
        """The packings that leave the cuts free and enough between the jaws, the best first."""
        height = flat.extent[1][2] - flat.extent[0][2]
        deep = [_exposed(t, flat) for t in tasks]
        exposed, least_deep = max(deep, default=0.0), min(deep, default=0.0)
        asked = FIRM if height - least_deep - ABOVE_JAWS >= FIRM else 0.0
        through = max((point_below(t) for t in tasks), default=0.0)
        trouble: UnplannableError | None = None
        for above in (ABOVE_JAWS, CLOSE) if exposed else (0.0,):
            most_grip = height - exposed - above
            lower = _room_between(tasks, flat) if self.lowered else 0.0
            least = max(vise.jaw_depth - most_grip - lower, through, 0.0)
            try:
                _enough(most_grip, height, f"under a cut {Length(exposed):.2f} deep it", asked)
                need = max(least_grip(height), min(asked, MARGIN * limits.GRIP_SHARE * height))
                most = vise.jaw_depth - min(need, most_grip)
                found = _packings(owned, least, most, flat.pose, tasks)
                return sorted(found, key=lambda c: (len(c), -sum(c))) if self.lowered else found
            except UnplannableError as reason:
                trouble = reason
        assert trouble is not None
        raise trouble

    def _jaws(self, vise: Vise, flat: Lie, tasks: Sequence[Task]) -> tuple[float, float]:
        """From where to where the jaws stand: about the work's middle, or short of an end."""
        low, high = flat.extent
        ends = [plane for t in tasks if (plane := _beside_jaws(t, flat)) is not None]
        if ends:
            right = min(ends) - PAST_JAW
            return (right - vise.jaw_width, right)
        if self.near == "left":
            return (low[0], low[0] + vise.jaw_width)
        if self.near == "right":
            return (high[0] - vise.jaw_width, high[0])
        return about((low[0] + high[0]) / 2, vise)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """It needs what the jaws grip and the work rests on."""
        return in_jaws(pose, box, likely_grip(part, pose))

    def pressed(self, pose: Pose, part: Part) -> Seat | None:
        """The jaws' points in pairs, and the parallels'."""
        return in_jaws(pose, ((0.0, 0.0, 0.0), part.size), likely_grip(part, pose))

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip with the height that both jaws still touch, and how far what is
        left stands out.
        """
        low = 0.0
        if lie.pose.tilt:
            stays, low = grip.grip, lowest(lie, done)
        else:
            stays, mean = touched(lie.pose, lie.box, grip.grip, done)
            _enough(min(stays, mean), lie.extent[1][2] - lie.extent[0][2], "what is left of it")
            if not (grip.end_free or end_there(lie, lie.packing + grip.grip, done)):
                raise UnplannableError(
                    "what is left of its left-hand end would be hidden between the jaws"
                )
        stands = grip.stick_up - self.sunk(lie, done) - low
        return replace(grip, grip=stays, stick_up=stands)

    def ends_in_sight(self, grip: Grip) -> bool:
        """Have both ends room beside them, or stand above the jaws?"""
        return grip.end_free or grip.stick_up >= FINDER_SEES

    def in_sight(self, lie: Lie, grip: Grip, done: Sequence[Task]) -> bool:
        """Are both sides still there near the top, and above the jaws?"""
        return grip.stick_up >= FINDER_SEES and _sides_clear(lie.pose, lie.box, done)

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """What to beware of: parallels, ends, little grip, tall work and work beside the vise's
        screw.
        """
        if holding.parallels_out:
            yield Caution(kind=CautionKind.PARALLELS_OUT)
        yield from self.past(tasks)
        low, high = lie.extent
        if not low[0] <= (holding.jaws_from + holding.jaws_to) / 2 <= high[0]:
            yield Caution(kind=CautionKind.TO_ONE_SIDE, lengths={"opening": holding.opening})
        yield from gripped(holding)

    def past(self, tasks: Sequence[Task]) -> Iterator[Caution]:
        """How far an end that is squared stands past the jaws."""
        if any(isinstance(t.job, End) for t in tasks):
            yield Caution(kind=CautionKind.PAST_JAWS, lengths={"past": STANDS_OUT})

    def squares(self, part: Part) -> bool:
        """Enough of it must be between the jaws when an end stands past them."""
        long = part.size[0]
        return long - PAST_JAW >= MARGIN * limits.least_length(long + CLEAN_UP)

    def for_an_end(self, part: Part, shop: Workshop) -> Way:
        """The same way held near that end, where the part is longer than any jaw is wide."""
        widest = max((v.jaw_width for v in shop.vises), default=0.0)
        return replace(self, near="right" if part.size[0] > widest else "")


WAY = InVise


def gripped(holding: Holding) -> Iterator[Caution]:
    """The cautions of little grip and of tall work. Common practice."""
    if holding.grip < LITTLE:
        yield Caution(kind=CautionKind.LITTLE_GRIP, lengths={"grip": holding.grip})
    if holding.stick_up > TALL * holding.grip:
        yield Caution(kind=CautionKind.TALL, lengths={"stick_up": holding.stick_up})


def about(middle: float, vise: Vise) -> tuple[float, float]:
    """The span from where to where a vise's jaws stand about a place along x [mm]."""
    return (middle - vise.jaw_width / 2, middle + vise.jaw_width / 2)


def least_grip(height: float) -> float:
    """The least height of work that must be between the jaws [mm]."""
    return limits.least_grip(height, MARGIN * limits.GRIP_SHARE)


def likely_grip(part: Part, pose: Pose) -> float:
    """Height of work that will be between the jaws in a pose, before packing is known [mm]."""
    height = part.size[pose.up.axis]
    return min(height, max(LIKELY * least_grip(height), min(height * 0.5, 12.0)))


def most_firm(choices: Sequence[tuple[float, ...]], jaw_depth: float) -> float:
    """The highest packing that holds the work firmly, or as firmly as can be [mm]."""
    return max(sum(choices[0]), jaw_depth - FIRM_GRIP)


def _enough(grip: float, height: float, what: str, asked: float = 0.0) -> None:
    """Raises UnplannableError where so little height of work is gripped. asked: by the cut [mm]."""
    need = max(limits.least_grip(height), min(asked, limits.GRIP_SHARE * height))
    if grip < need - 1e-6:
        raise UnplannableError(
            f"{what} would be gripped by {Length(max(grip, 0.0)):.2f} of height, and "
            f"{Length(need):.2f} is the least, with light cuts"
        )


def near_enough(jaws: tuple[float, float], lie: Lie, tasks: Sequence[Task]) -> None:
    """Raises UnplannableError where work is cut too far past the jaws' ends."""
    low, high = lie.extent
    thick = min(high[1] - low[1], high[2] - low[2])
    most = limits.OVERHANG * thick
    for task in tasks:
        for a, b in _along(task, lie):
            out = max(jaws[0] - max(a, low[0]), min(b, high[0]) - jaws[1])
            if out > most + 1e-6:
                raise UnplannableError(
                    f"it would be cut {Length(out):.1f} past the end of the jaws, and work "
                    f"{Length(thick):.2f} thick bears {Length(most):.1f}"
                )


def _along(task: Task, lie: Lie) -> Iterator[tuple[float, float]]:
    """From where to where along the jaws a task cuts."""
    job, (low, high) = task.job, lie.extent
    if isinstance(job, Sink):
        for p in job.at:
            x = lie.at(p)[0]
            yield (x - job.size / 2, x + job.size / 2)
    elif isinstance(job, Slit):
        view = slot_view(job.cut, lie)
        yield view.ends if view.axis == 1 else (view.floor, view.face)
    elif isinstance(job, Level):
        yield plan_view(job.cut, task.part.size, lie).x
    elif isinstance(job, End):
        yield (_plane(task, lie), high[0])
    elif isinstance(job, Bevel):
        ends = [f for f in job.cut.faces if f.axis == lie.pose.right.axis]
        at_right = bool(ends) and ends[0] is lie.pose.right
        yield (high[0] if at_right else low[0], low[0] if ends and not at_right else high[0])


def _plane(task: Task, lie: Lie) -> float:
    assert isinstance(task.job, End)
    return lie.at((task.part.size[0] if task.job.face is Face.RIGHT else 0.0, 0.0, 0.0))[0]


def _beside_jaws(task: Task, lie: Lie) -> float | None:
    """Where along x a cutter goes that comes down or across beside the jaws' right-hand end, for an
    end of the work; None of what is done elsewhere."""
    if isinstance(task.job, End):
        return _plane(task, lie)
    view = slot_view(task.job.cut, lie) if isinstance(task.job, Slit) else None
    return view.floor if view and view.axis == 0 else None


def _room_between(tasks: Sequence[Task], lie: Lie) -> float:
    """How far below the jaws' tops work may lie for all cutters to keep between the jaws [mm]."""
    low, high = lie.extent
    room = SUNK
    for task in tasks:
        job = task.job
        if isinstance(job, Sink):
            ys = [lie.at(p)[1] for p in job.at]
            gap = min(min(ys) - low[1], high[1] - max(ys))
            if gap < max(job.size, *(tool.diameter for tool in task.tools)) / 2:
                # a spotting drill's cone is as wide as it is high
                room = min(room, gap - job.depth) if job.step == "spot" else 0.0
        elif type(job) is not Level or _exposed(task, lie):
            room = 0.0
    return max(0.0, room)


def _exposed(task: Task, lie: Lie) -> float:
    """How far below the work's top the jaws must stay for a task [mm]."""
    if _beside_jaws(task, lie) is not None:
        return 0.0
    if isinstance(task.job, Bevel):
        up, size = lie.pose.up, task.part.size
        plane = lie.at(size if up.sign > 0 else (0.0, 0.0, 0.0))[2]
        return lie.extent[1][2] - plane + task.job.cut.size[0] + CONE_CLEAR
    if isinstance(task.job, Slit):
        return lie.extent[1][2] - slot_view(task.job.cut, lie).walls[0] + SCREW
    if isinstance(task.job, Sink):
        return below_cones(task, task.job, lie)
    if not isinstance(task.job, Level):
        return 0.0
    p = plan_view(task.job.cut, task.part.size, lie)
    if p.wall_front and p.wall_back:
        return 0.0
    return p.top - p.floor


def over_parallels(task: Task, lie: Lie, thickness: float, opening: float) -> bool:
    """Does a task come out of the work over a parallel at either jaw? opening: of them [mm]."""
    job = task.job
    back_jaw = lie.extent[1][1]
    inner = back_jaw - thickness, back_jaw - opening + thickness
    if isinstance(job, Level) and job.below(task.part.size) > 0:
        front, back = plan_view(job.cut, task.part.size, lie).y
        return back + 0.5 > inner[0] or front - 0.5 < inner[1]
    if not (isinstance(job, Sink) and job.through):
        return False
    for p in job.at:
        y = lie.at(p)[1]
        radius = job.size / 2 + 0.5
        if y + radius > inner[0] or y - radius < inner[1]:
            return True
    return False


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
            f"{Length(least, most, between=' and '):.1f} above the bed of the vise; add such a "
            "pair to workshop.yaml"
        )
    return sorted(good, key=lambda c: (len(c), sum(c)))


def in_jaws(pose: Pose, box: Box, grip: float, levels: int = LEVELS) -> Seat:
    """The metal that a pose in a vise needs. levels: at which the jaws are looked at."""
    return _seat(pose.up, pose.right.axis, pose.fixed_jaw, box, grip, levels)


@lru_cache(maxsize=256)
def _seat(up: Face, along: int, fixed_jaw: Face, box: Box, grip: float, levels: int) -> Seat:
    jaws = []
    for jaw in (fixed_jaw, fixed_jaw.opposite):
        points = []
        for i in range(9):
            for j in range(levels):
                p = [0.0, 0.0, 0.0]
                p[along] = between(box, along, (i + 0.5) / 9)
                p[up.axis] = side(box, up.opposite) + up.sign * grip * (j + 0.5) / levels
                p[jaw.axis] = side(box, jaw) - jaw.sign * 0.02
                points.append((p[0], p[1], p[2]))
        jaws.append(tuple(points))
    rest = []
    u, v = (i for i in range(3) if i != up.axis)
    for i in range(SPOTS):
        for j in range(SPOTS):
            p = [0.0, 0.0, 0.0]
            p[u], p[v] = between(box, u, (i + 0.5) / SPOTS), between(box, v, (j + 0.5) / SPOTS)
            p[up.axis] = side(box, up.opposite) + up.sign * 0.02
            rest.append((p[0], p[1], p[2]))
    least = limits.least_grip(box[1][up.axis] - box[0][up.axis]) / grip
    ends = [(min(p[i] for p in rest), max(p[i] for p in rest)) for i in (u, v)]
    corners = frozenset(p for p in rest if p[u] in ends[0] and p[v] in ends[1])
    return Seat((jaws[0], jaws[1]), tuple(rest), corners, JAW_GONE, levels, least)


def touched(pose: Pose, box: Box, grip: float, done: Sequence[Task]) -> tuple[float, float]:
    """Height over which both jaws touch work that is gripped so deep, after these cuts, and what of
    it a jaw touches on the average along them [mm]."""
    levels = ceil(grip / FINE_LEVEL)
    whole = in_jaws(pose, box, grip, levels).jaws
    low, high, mean = 0, levels, float(levels)
    for points in whole:
        away = frozenset[Vec]().union(*(gone(t, points) for t in done))
        left = [divmod(n, levels) for n, p in enumerate(points) if p not in away]
        heights = [level for _, level in left]
        low = max(low, min(heights, default=levels))
        high = min(high, max(heights, default=-1) + 1)
        mean = min(mean, len(left) / max(1, len({place for place, _ in left})))
    return max(0.0, grip * (high - low) / levels), grip * mean / levels


def lowest(lie: Lie, done: Sequence[Task]) -> float:
    """How far over its extremes' lowest corner tilted work really ends after these cuts [mm]."""
    points = _rested_on(lie.pose, lie.box)
    away = frozenset[Vec]().union(*(gone(t, points) for t in done))
    lows = [lie.at(p)[2] for p in points if p not in away]
    return max(0.0, min(lows, default=0.0) - lie.extent[0][2] - 0.05)


@lru_cache(maxsize=64)
def _rested_on(pose: Pose, box: Box) -> tuple[Vec, ...]:
    """Points just inside the face that tilted work rests on."""
    along, across = pose.right.axis, pose.fixed_jaw.axis
    points = []
    for n in range(REST_PLACES + 1):
        for share in (0.05, 0.5, 0.95):
            p = [0.0, 0.0, 0.0]
            p[along] = between(box, along, n / REST_PLACES)
            p[across] = between(box, across, share)
            p[pose.up.axis] = side(box, pose.bottom) + pose.up.sign * 0.02
            points.append((p[0], p[1], p[2]))
    return tuple(points)


def _sides_clear(pose: Pose, box: Box, done: Sequence[Task]) -> bool:
    """Are both sides at the jaws still there near the top, where an edge finder touches them?"""
    for jaw in (pose.fixed_jaw, pose.fixed_jaw.opposite):
        for share in (0.25, 0.5, 0.75):
            p = [0.0, 0.0, 0.0]
            p[pose.right.axis] = between(box, pose.right.axis, share)
            p[pose.up.axis] = side(box, pose.up) - pose.up.sign * FINDER_SEES / 2
            p[jaw.axis] = side(box, jaw) - jaw.sign * 0.02
            if any(removed_at(t, (p[0], p[1], p[2])) for t in done):
                return False
    return True
