"""Round work lying in a V-block, the block gripped by the vise and the work clamped down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import inf

from barstock.drawing.build import Face
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import (
    FINDER_ROOM,
    IN_SIGHT,
    LEAST_LENGTH,
    clamp_bears,
    least_length,
)
from barstock.planning.holding.cutter_runs import Run, TooShort, runs
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.round_in_jaws import RoundInJaws
from barstock.planning.holding.v_block import (
    GRIP,
    ON_FLANK,
    ROOT2,
    Heights,
    InV,
    Points,
    rounded,
    spread,
    vees_for,
)
from barstock.planning.holding.v_block_places import Place, fewest
from barstock.planning.holding.v_block_standing import StandsInV
from barstock.planning.holding.way import Found, hold
from barstock.planning.holding.work_box import box_of
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import End, FiledEnd, Level, Line, Sink, Task
from barstock.planning.values import Cutting, Zeros, cut
from barstock.planning.values.setup_givens import SetupGivens
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, Zero
from barstock.route.statements import Caution, CautionKind
from barstock.stocking.bar_choice import CLEAN_UP, Lengths, Stock
from barstock.workshop.holding_kits import VBlock
from barstock.workshop.shop import ShopTimes, Tool, Vise, Workshop

AIR = 0.5  # under a cutter that passes over the block [mm]; common practice
CLEAR = 1.5  # from cutter to block and clamp, the stop is set by eye [mm]; common practice
FINDER = 10.0  # tip of a usual edge finder [mm]; common practice
OUT = 2.0  # times its diameter that it is cut beyond the block at most; common practice
BEARS = 1.05  # times the least that the clamp bears on; common practice
TOUCHED = IN_SIGHT + 0.2  # of an end over the block, for the edge finder [mm]
CLAMPED = (0.5, 0.0, 1.0)  # along the block: in its middle or at an end
LYING = (CautionKind.V_BLOCK_CLAMP, CautionKind.V_BLOCK_SEAT)

ANYWHERE: Place = (0.0, 0.5)


@dataclass(frozen=True)
class LiesInV(InV):
    """Round work lying in a V that looks up. start: from the work's left end to the block's [mm];
    clamp: where along the block its clamp is, 0 to 1.
    """

    name = "V-block, lying"
    obstructs = True
    start: float = 0.0
    clamp: float = 0.5

    @classmethod
    def arranged(
        cls, tasks: Sequence[Task], givens: SetupGivens, stock: Stock, lengths: Lengths
    ) -> list[Task] | None:
        """All tasks of a round part are held in the V-block, lying or standing."""
        return in_vees(tasks, givens, stock, lengths) if givens.part.round else None

    def pose_words(self, pose: Pose) -> str:
        """The vise, where the block stands and its clamp, for the name of a pose."""
        held = f", in the {self.vise}" if self.vise else ""
        block = f"in the V-block {Length(self.block.long):g} long from {Length(self.start):g} on"
        return f"{held}, {block}, clamp at {self.clamp:.0%}"

    def at(self, place: Place) -> LiesInV:
        """The same way with block and clamp elsewhere."""
        return replace(self, start=place[0], clamp=place[1])

    def bodies(self, lie: Lie) -> tuple[Body, ...]:
        """The block, and the clamp over the work."""
        (low, high), block = lie.extent, self.block
        half, y = (high[1] - low[1]) / 2, (low[1] + high[1]) / 2
        top = low[2] + half - ROOT2 * half + self.mouth / 2
        there = Body(
            kind=BodyKind.V_BLOCK,
            low=rounded((self.start, y - block.wide / 2, top - block.high)),
            high=rounded((self.start + block.long, y + block.wide / 2, top)),
            bears="up",
            mouth=self.mouth,
        )
        tall = round(high[2] + block.tall, 4)
        middle = self.start + block.clamp / 2 + self.clamp * (block.long - block.clamp)
        over = Body(
            kind=BodyKind.CLAMP,
            low=(round(middle - block.clamp / 2, 4), there.low[1], there.middle[2]),
            high=(round(middle + block.clamp / 2, 4), there.high[1], tall),
            bears="down",
            at=round(high[2], 4),
        )
        return (there, over)

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held as in any V; no end is squared where X is read from it."""
        squares = any(isinstance(t.job, End) for t in tasks)
        if squares and not self.left_free(lay(pose, box, 0.0)):
            raise UnplannableError("the clamp of the V-block hides the end that X is read from")
        return super().hold(pose, box, tasks, shop, wanted)

    def wide(self, flat: Lie) -> float:
        """The jaws stand open by the block's width [mm]."""
        return self.bodies(flat)[0].size[1]

    def carried(self, flat: Lie) -> float:
        """The parallels carry the block."""
        return self.bodies(flat)[0].low[2]

    def heights(self, flat: Lie, tasks: Sequence[Task], vise: Vise) -> Heights:
        """The root of the V must be above the jaws, and enough of the block between them."""
        least = vise.jaw_depth - (self.block.high - self.mouth / 2 - ON_FLANK)
        return Heights(least, vise.jaw_depth - GRIP, least, "the V-block")

    def points(self, lie: Lie) -> tuple[Points, Points, Points]:
        """Points along the V and under the clamp, and on both sides, where any place will do."""
        (vee, clamp), (low, high) = self.bodies(lie), lie.extent
        _, y, z = ((a + b) / 2 for a, b in zip(low, high, strict=True))
        half = (high[1] - low[1]) / 2 - 0.02
        slant = half / ROOT2
        on = (max(low[0], vee.low[0]), min(high[0], vee.high[0]))
        pressed = [(x, y + way * slant, z - slant) for x in spread(on) for way in (-1, 1)]
        pressed += [(x, y, z + half) for x in spread((clamp.low[0], clamp.high[0]))]
        out = (high[0], vee.high[0]) if high[0] - vee.high[0] > vee.low[0] else (low[0], vee.low[0])
        bare = (low[0], high[0]) if z >= vee.high[2] + ON_FLANK else out
        sides = [(x, y + way * half, z) for x in spread(bare) for way in (-1, 1)]
        return pressed, (), sides if self.sides_bare(lie, FINDER) else ()

    @classmethod
    def anew(cls, times: ShopTimes, zeros: Sequence[Zero], copies: int) -> float:
        """No minutes: the axis lies where it lay, whatever copy it is of."""
        return 0.0

    def zeros(
        self, tasks: Sequence[Task], lie: Lie, grip: Grip, tip: float,
        more: tuple[float, float], done: Sequence[Task],
    ) -> Found:  # fmt: skip
        """The axes are zeroed at the left end, or the right where the clamp hides that, and on the
        axis by the work's own sides or by the block's.
        """
        low, high = lie.extent
        on = None if self.sides_bare(lie, tip) else BodyKind.V_BLOCK
        x, end = Zero(find="left", set_to=more[0] - tip / 2, finder=tip), low[0]
        if not self.left_free(lie):
            x, end = Zero(find="right", set_to=more[0] + tip / 2, finder=tip), high[0]
        y = Zero(find="centre", on=on, set_to=more[1], finder=tip)
        return x, y, (end - more[0], (low[1] + high[1]) / 2 - more[1])

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """The clamp stands above the work, which must lie in the V all along."""
        for kind in LYING:
            yield Caution(kind=kind)

    # -- where the block may be --------------------------------------------------------------------

    def sides_bare(self, lie: Lie, finder: float) -> bool:
        """Can an edge finder touch both sides, over the block or beyond its ends?"""
        (vee, clamp), (low, high) = self.bodies(lie), lie.extent
        room = finder + FINDER_ROOM
        beside = max(clamp.low[0] - low[0], high[0] - clamp.high[0]) >= room / 2
        past = max(vee.low[0] - low[0], high[0] - vee.high[0])
        over = (low[2] + high[2]) / 2 >= vee.high[2] + ON_FLANK
        return (over and beside) or past >= finder + CLEAR

    def support(self, length: float) -> float:
        """How much of work so long is on the block [mm]."""
        return min(length, self.start + self.block.long) - max(0.0, self.start)

    def places(
        self, lie: Lie, cuttings: Sequence[tuple[Tool, Cutting]], zeros: Zeros, shop: Workshop
    ) -> list[Place]:
        """All places of block and clamp that leave a cut free. cuttings: the ways of making it."""
        found = []
        for place in self.tried(lie):
            way = self.at(place)
            if way.seated(lie) and any(
                not way.in_the_way(values, tool, lie, zeros, shop) for tool, values in cuttings
            ):
                found.append(place)
        return found

    def tried(self, lie: Lie) -> list[Place]:
        """All places of block and clamp that are looked at."""
        long = lie.extent[1][0]
        steps = 2 if long < 2 * self.block.clamp else 1  # places to a millimetre
        low, high = -int(self.block.long) * steps, int(long - LEAST_LENGTH / 2) * steps
        return [(step / steps, clamp) for step, clamp in product(range(low, high + 1), CLAMPED)]

    def seated(self, lie: Lie) -> bool:
        """Is work long enough on the block, under its clamp, an end free to be touched?"""
        clamp, (low, high) = self.bodies(lie)[1], lie.extent
        long, wide = high[0], clamp.size[0]
        bears = min(clamp.high[0], long) - max(clamp.low[0], 0.0)
        least = clamp_bears(wide, long if long >= high[1] - low[1] else inf)
        return (
            self.support(long) >= least_length(long)
            and bears >= min(BEARS * least, wide)
            and (self.left_free(lie) or self.right_free(lie))
        )

    def left_free(self, lie: Lie) -> bool:
        """Can an edge finder touch the left end?"""
        (vee, clamp), high = self.bodies(lie), lie.extent[1]
        return clamp.low[0] >= CLEAR and (high[2] >= vee.high[2] + TOUCHED or vee.low[0] >= 0.0)

    def right_free(self, lie: Lie) -> bool:
        """Can it touch the right end?"""
        (vee, clamp), (long, _, top) = self.bodies(lie), lie.extent[1]
        over = top >= vee.high[2] + TOUCHED or vee.high[0] <= long
        return clamp.high[0] <= long - CLEAR and over

    def in_the_way(
        self, values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, shop: Workshop
    ) -> str:
        """What these moves would run into, or where the work would stand too far out."""
        (vee, clamp), (low, high) = self.bodies(lie), lie.extent
        far = OUT * (high[1] - low[1])
        for move in values.moves:
            for run in runs(move, tool.diameter, zeros, high[2]):
                if met := run.met(tool, clamp, "the clamp of the V-block", CLEAR):
                    return met
                left, right = sorted((run.start[0], run.end[0]))
                if max(left, 0.0) < vee.low[0] - far or min(right, high[0]) > vee.high[0] + far:
                    return "the work would stand too far out of the V-block there"
                if self._enters(run, tool, vee, (low[1] + high[1]) / 2):
                    return "the cutter would run into the V-block"
        return ""

    def _enters(self, run: Run, tool: Tool, vee: Body, middle: float) -> bool:
        """Does a run go into the block, but for the room in its V?"""
        left, right = sorted((run.start[0], run.end[0]))
        over = left - run.radius < vee.high[0] + CLEAR and right + run.radius > vee.low[0] - CLEAR
        if not over or run.tip >= vee.high[2] + AIR:
            return False
        nose = run.radius if tool.point < 179.9 else 0.0
        beside = abs(run.start[1] - middle) + run.radius - nose / 2
        return not (run.still and run.tip - (vee.high[2] - vee.mouth / 2) >= beside + AIR)


WAY = LiesInV


# -- every task of a round part --------------------------------------------------------------------

Ways = dict[Pose, list[Place]]
"""The poses in which a task can be done, each with the places of the block that leave it free."""


def in_vees(
    tasks: Sequence[Task], givens: SetupGivens, stock: Stock, lengths: Lengths
) -> list[Task]:
    """The tasks of a round part with every pose in the V-block, on as few places of it as will do.

    Raises UnplannableError where there is none, or no place of it leaves a task free.
    """
    part, blocks = givens.part, givens.workshop.all_of(VBlock)
    if not blocks:
        raise UnplannableError(
            "it is round, and workshop.yaml lists no V-block to hold it in: add 'V-block: true', "
            "or its sizes, under 'holding'",
            part.name,
        )
    try:
        fitting = vees_for(blocks, part.size[1])
    except UnplannableError as reason:
        raise UnplannableError(reason.why, part.name) from reason
    tasks = list(tasks)
    milled = [t for t in tasks if not isinstance(t.job, Line | FiledEnd)]
    ways: dict[str, Ways] = {}
    refused: dict[str, UnplannableError] = {}
    for task in milled:
        offered = [
            replace(p, way=StandsInV(*one) if p.up.axis == 0 else LiesInV(*one))
            for p in _offered(task, milled)
            for one in fitting
        ]
        try:
            ways[task.id] = _free(task, offered, givens, stock, lengths)
        except UnplannableError as reason:
            refused[task.id] = reason
    for task in milled:
        steps = [t for t in milled if t.feature == task.feature]
        if any(t.id in refused for t in steps):
            between = [_between_jaws(t, milled, givens, stock, lengths) for t in steps]
            if all(found for found, _ in between):
                ways[task.id] = between[steps.index(task)][0]
            elif task.by_hand is not None:
                tasks[tasks.index(task)] = task.by_hand
            elif task.id in refused:
                first = refused[task.id]
                nor = "; ".join(dict.fromkeys(told for _, told in between if told))
                why = f"{first.why}; nor between flat jaws: {nor}" if nor else first.why
                raise UnplannableError(why, part.name, task.named) from first
    ways = {t.id: _with_its_steps(t, milled, ways) for t in milled if t.id in ways}
    whole = ((0.0, 0.0, 0.0), part.size)

    def rank(pose: Pose, place: Place) -> tuple[bool, bool, float, float, float]:
        """How good a place is beside others where as much can be done."""
        if not isinstance(pose.way, LiesInV):
            return (True, True, 0.0, 0.0, 0.0)
        way = pose.way.at(place)
        return (
            way.left_free(lay(pose, whole, 0.0)),
            way.sides_bare(lay(pose, whole, 0.0), givens.finder),
            way.support(part.size[0]),
            -abs(place[0] + way.block.long / 2 - part.size[0] / 2),
            -abs(place[1] - 0.5),
        )

    chosen = fewest(ways, rank)
    return [
        replace(t, poses=tuple(_placed(*one) for one in chosen[t.id])) if t.id in chosen else t
        for t in tasks
    ]


def _placed(pose: Pose, place: Place) -> Pose:
    return replace(pose, way=pose.way.at(place)) if isinstance(pose.way, LiesInV) else pose


def _offered(task: Task, all_: Sequence[Task]) -> list[Pose]:
    """The poses of a task that a V-block may be tried for: of an end, on the sides cut anyway."""
    sides = {p.up for t in all_ if not isinstance(t.job, End) for p in t.poses if p.up.axis}
    sides = sides or {Face.TOP}
    return [
        p
        for p in task.poses
        if p.stage == "piece" and not p.tilt
        and not (isinstance(task.job, End) and p.up.axis and p.up not in sides)
    ]  # fmt: skip


def _free(
    task: Task, offered: Sequence[Pose], givens: SetupGivens, stock: Stock, lengths: Lengths
) -> Ways:
    """The poses of those offered in which a task can be done. Raises UnplannableError where there
    is none."""
    found: Ways = {}
    troubles: list[str] = []
    for pose in offered:
        box = box_of(pose, task, givens.part, stock, lengths)
        if isinstance(task.job, End) and pose.up.axis == 0:
            box = _as_sawn(task.job, box)
        lie = lay(pose, box, 0.0)
        zeros = Zeros(0.0, 0.0, lie.extent[1][2])
        try:
            hold(pose, box, [task], givens.workshop)
        except UnplannableError as reason:
            troubles.append(str(reason))
            continue
        if not isinstance(pose.way, LiesInV):
            found[pose] = [ANYWHERE]
            continue
        dial = givens.at(pose.way.machine).dial
        cuttings = [(tool, cut(task, tool, lie, zeros, dial)) for tool in task.tools]
        free = pose.way.places(lie, cuttings, zeros, givens.workshop)
        if isinstance(task.job, End):
            free = [place for place in free if pose.way.at(place).left_free(lie)]
        found[pose] = free
        if not found[pose]:
            troubles.append(_why_not(pose.way, lie, cuttings, zeros, givens.workshop))
    if not any(found.values()):
        told = "; ".join(dict.fromkeys(troubles)) or "it would have to be tilted in the V-block"
        raise UnplannableError(told, givens.part.name, task.named)
    return {pose: free for pose, free in found.items() if free}


def _between_jaws(
    task: Task, milled: Sequence[Task], givens: SetupGivens, stock: Stock, lengths: Lengths
) -> tuple[Ways, str]:
    """The poses in which the work can lie between flat jaws for a task, for which no V-block has
    room; why it cannot, where there is none."""
    found: Ways = {}
    trouble = ""
    for pose in _offered(task, milled) if isinstance(task.job, Sink | Level) else ():
        there = replace(pose, way=RoundInJaws())
        if pose.up.axis == 0:
            continue
        try:
            hold(there, box_of(there, task, givens.part, stock, lengths), [task], givens.workshop)
        except UnplannableError as reason:
            trouble = trouble or reason.why
            continue
        found[there] = [ANYWHERE]
    return found, "" if found else trouble


def _as_sawn(job: End, box: Box) -> Box:
    """The extremes of work an end of which is to be squared, the other squared before or not."""
    (left, *low), (right, *high) = box
    ends = (left if job.second else left - CLEAN_UP, right + CLEAN_UP)
    return ((ends[0], low[0], low[1]), (ends[1], high[0], high[1]))


def _with_its_steps(task: Task, milled: Sequence[Task], ways: Mapping[str, Ways]) -> Ways:
    """What is left of a task's ways so that a hole is spotted and finished where it is drilled."""
    found = ways[task.id]
    for other in milled if isinstance(task.job, Sink) else ():
        if other.id in ways and other.feature == task.feature and isinstance(other.job, Sink):
            both = ways[other.id]
            found = {p: [s for s in free if s in both.get(p, ())] for p, free in found.items()}
    return found if any(found.values()) else ways[task.id]


def _why_not(
    way: LiesInV,
    lie: Lie,
    cuttings: Sequence[tuple[Tool, Cutting]],
    zeros: Zeros,
    shop: Workshop,
) -> str:
    """Why no place of the block will do for a task."""
    tried = [one for place in way.tried(lie) if (one := way.at(place)).seated(lie)]
    met = [
        told
        for tool, values in cuttings
        for one in tried
        if (told := one.in_the_way(values, tool, lie, zeros, shop))
    ]
    short = next((told for told in met if isinstance(told, TooShort)), "")
    told = short or next(iter(met), "the work is too short for block and clamp")
    cure = "a cutter that sticks out further" if short else "a narrower clamp"
    return f"{told}, wherever the block stands along the work; {cure} might do"
