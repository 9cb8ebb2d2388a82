"""Screwing work down on a fixture block through its own holes: its whole outline is free."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil, dist

from barstock.drawing.build import Face, Part
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import BLOCK_IN_JAWS, SCREWS_APART
from barstock.handbook.screw_lengths import WIDEST_HEAD
from barstock.handbook.thread_form import Thread
from barstock.handbook.thread_series import threads
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.vise import InVise, about, gripped
from barstock.planning.holding.way import Found, Need, Way
from barstock.planning.tasks.outline_path import edges_left, traced
from barstock.planning.tasks.pose import Lie, Pose
from barstock.planning.tasks.task import Bore, Contour, Task
from barstock.planning.tasks.tooling import taps
from barstock.planning.values.cutting import BELOW
from barstock.quantities import Length, Unit, show
from barstock.route import Body, BodyKind, Holding, Zero
from barstock.route.statements import Caution, CautionKind
from barstock.workshop.shop import ShopTimes, Tool, Vise, Workshop

NARROWEST = 1.5  # no cap screw's head is narrower than so many times its thread, and none is taller
# than its thread is thick (ISO 4762; from memory)
WITH_WASHER = 1.25  # times its thread that a head and its washer are tall; common practice
LAP = 0.8  # of a head over the hole it bears on, else it has a washer [mm]; common practice
WASHER = 4.0  # a washer is this much wider than the hole it bridges [mm]; common practice
PLAY = 0.1  # a screw is at least this much thinner than its hole [mm]; common practice
FREE = 0.3  # from a head's edge to the outline [mm]; common practice
APART = SCREWS_APART + 1.0  # two screws nearer are not taken [mm]; common practice
AROUND = 8.0  # of the block round the work [mm]; common practice
ABOVE_JAWS = 2.0  # that the block's top stands above the jaws [mm]; common practice
FIRM = 2 * BLOCK_IN_JAWS  # of the block between the jaws [mm]; common practice
LEAST_THICK = 12.0  # of a block made for the purpose [mm]; common practice
SIZES = {
    Unit.MM: ("M8", "M6", "M5", "M4", "M3", "M2.5"),
    Unit.INCH: (
        "5/16-18 UNC",
        "1/4-20 UNC",
        "10-24 UNC",
        "8-32 UNC",
        "6-32 UNC",
        "4-40 UNC",
    ),
}


@dataclass(frozen=True)
class OnBlock(InVise):
    """Work on a block that the jaws grip; screws through the work's own holes hold it down."""

    name = "fixture block"
    stop = False
    slides = False
    trued_by = ("dial indicator",)

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is thought of first for whatever must be free all round."""
        return cls() if need is Need.FREE_ROUND else None

    def pose_words(self, pose: Pose) -> str:
        """The vise, and what the work is on, for the name of a pose."""
        return f"{super().pose_words(pose)}, screwed down on a fixture block"

    def above(self, hole: float) -> float:
        """Half the head of a screw as thick as the hole, and more than its height."""
        return 0.5 * WIDEST_HEAD * hole

    def loose(self, pose: Pose, part: Part, shop: Workshop) -> bool:
        """Work on it is never loose: the block lies under all of it."""
        return False

    def _by(
        self, vise: Vise, flat: Lie, tasks: Sequence[Task], shop: Workshop, wanted: Sequence[float]
    ) -> Grip:
        bodies, under = block_for(screws(tasks[0], flat, shop), flat, vise, shop)
        block = bodies[0]
        top, height = block.high[2], flat.extent[1][2]
        return Grip(
            vise.name,
            top,
            under,
            False,
            vise,
            vise.jaw_depth - block.low[2],
            top + height - vise.jaw_depth,
            about(block.middle[0], vise),
            block.size[1],
            frozenset({round(top, 4)}),
            top,
            top,
            bodies,
        )

    @classmethod
    def placed(cls, holding: Holding) -> Sequence[Body]:
        """The screws must stand in the same place."""
        return holding.of(BodyKind.SCREW)

    @classmethod
    def anew(cls, times: ShopTimes, zeros: Sequence[Zero], copies: int) -> float:
        """Minutes of finding zero again: the screws do not bring the next piece to
        the same place.
        """
        return super().anew(times, zeros, copies) + times.find_zero * (copies - 1)

    def sunk(self, lie: Lie, done: Sequence[Task]) -> float:
        """The top is touched where it is highest, whatever was cut."""
        return 0.0

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip stays: the jaws grip the block, which nothing is cut from."""
        return grip

    def zeros(
        self, tasks: Sequence[Task], lie: Lie, grip: Grip, tip: float,
        more: tuple[float, float], done: Sequence[Task],
    ) -> Found:  # fmt: skip
        """The axes are zeroed on those of the part's own sides that the outline leaves."""
        job, half, (low, high) = tasks[0].job, tip / 2, lie.extent
        assert isinstance(job, Contour)
        sides = edges_left(job.cut, tasks[0].part.size)
        pose = lie.pose
        left, back = ((face.axis, face.sign) in sides for face in (pose.left, pose.fixed_jaw))
        x = Zero(find="left" if left else "right", set_to=-half if left else half, finder=tip)
        y = Zero(find="back" if back else "front", set_to=half if back else -half, finder=tip)
        return x, y, ((low if left else high)[0], (high if back else low)[1])

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """The cutter goes into the block."""
        yield Caution(kind=CautionKind.INTO_BLOCK, lengths={"deep": BELOW})
        yield from gripped(holding)


WAY = OnBlock


def screws(task: Task, lie: Lie, workshop: Workshop) -> tuple[Body, Body]:
    """The two screws that hold a contour's work, the farthest apart that there are.

    Raises UnplannableError where the work's own holes do not offer two.
    """
    job, unit = task.job, task.part.unit
    assert isinstance(job, Contour)
    offered = _offered(unit, workshop)
    held = {bore: _through(bore, task, lie, offered) for bore in job.bores}
    found = [screw for screw in held.values() if screw]
    pairs = [(a, b) for a, b in combinations(found, 2) if _apart(a, b) >= APART]
    if not pairs:
        none = [_too_tight(bore, task, lie, offered, unit) for bore, s in held.items() if not s]
        raise UnplannableError(
            "an outline is milled with the work screwed down through its own holes, so that every "
            "side is free, and this part has no two holes right through, "
            f"{show(APART, unit)} or more apart and square to that face, with room for the screws' "
            "heads inside the line"
            + "".join(f"; {words}" for words in dict.fromkeys(none))
            + "; add two, or write 'finish: filed'",
            task.part.name,
            task.feature,
        )
    return max(pairs, key=lambda pair: _apart(*pair))


def _apart(a: Body, b: Body) -> float:
    return dist(a.middle[:2], b.middle[:2])


def _through(bore: Bore, task: Task, lie: Lie, offered: Sequence[Thread]) -> Body | None:
    """The first of the screws that goes through a bore with its head inside the outline.

    The block's top is at 0.
    """
    x, y, _ = lie.at(bore.at)
    mouth = bore.mouth(lie.pose.up)
    for thread in offered:
        head, washer = _head(thread, mouth)
        tall = thread.major * (WITH_WASHER if washer else 1.0)
        if thread.major <= bore.size - PLAY and head / 2 <= _room(bore, task, lie, tall):
            x, y, half = round(x, 3), round(y, 3), round(head, 2) / 2
            top = lie.extent[1][2]
            return Body(
                kind=BodyKind.SCREW,
                low=(x - half, y - half, 0.0),
                high=(x + half, y + half, top + round(tall, 2)),
                bears="down",
                at=top,
                diameter=thread.major,
                thread=thread.name,
            )
    return None


def _room(bore: Bore, task: Task, lie: Lie, tall: float) -> float:
    """From a bore's axis to the outline, less what must stay free round a head so tall [mm]."""
    assert isinstance(task.job, Contour)
    x, y, _ = lie.at(bore.at)
    return -traced(task.job.cut, lie).away((x, y)) - FREE - _shank(task.tools[0], lie, tall)


def _shank(tool: Tool, lie: Lie, tall: float) -> float:
    """How far a cutter's shank stands out over its edges where it is beside a head so tall [mm]."""
    if tool.flute >= BELOW + lie.extent[1][2] + tall:
        return 0.0
    return max(0.0, tool.shank - tool.diameter) / 2


def _head(thread: Thread, mouth: float) -> tuple[float, bool]:
    """Diameter of a screw's head, or of the washer it needs over such a mouth [mm]; is it one?"""
    washer = mouth + LAP > NARROWEST * thread.major
    return (mouth + WASHER if washer else WIDEST_HEAD * thread.major), washer


def _too_tight(bore: Bore, task: Task, lie: Lie, offered: Sequence[Thread], unit: Unit) -> str:
    """Why none of the screws goes through a bore."""
    hole = f"the hole {show(bore.size, unit)} across"
    thin = [t for t in offered if t.major <= bore.size - PLAY]
    if not thin:
        least = min(offered, key=lambda t: t.major)
        return f"{hole} is too small for {least.name}, the thinnest screw used"
    mouth = bore.mouth(lie.pose.up)
    if mouth > lie.extent[1][0] - lie.extent[0][0]:
        return f"the metal round {hole} is cut away where a head would bear"
    heads = {t.name: _head(t, mouth) for t in thin}
    name, (head, washer) = min(heads.items(), key=lambda named: named[1][0])
    tool, tall = task.tools[0], next(t.major for t in thin if t.name == name)
    around = 2 * _room(bore, task, lie, tall)
    beside = ""
    if _shank(tool, lie, tall):
        beside = f" beside the shank of {tool.name}, which has {Length(tool.flute):g} of flute only"
    return (
        f"{hole} has room for {show(max(around, 0.0), unit)} across, and the "
        f"{'washer' if washer else 'head'} of {name} is {show(head, unit)}{beside}"
    )


def _offered(unit: Unit, workshop: Workshop) -> list[Thread]:
    """The threads a block may have: those the shop has taps for, then those of the part's unit,
    then the rest, the thickest of each first."""
    known = {thread.name: thread for thread in threads()}
    names = [*SIZES[unit], *(name for of, more in SIZES.items() if of is not unit for name in more)]
    own = [known[name] for name in names if taps(workshop, name)]
    rest = [known[name] for name in names if known[name] not in own]
    return [*sorted(own, key=lambda t: -t.major), *rest]


def block_for(
    pair: tuple[Body, Body], lie: Lie, vise: Vise, workshop: Workshop
) -> tuple[tuple[Body, ...], tuple[float, ...]]:
    """The block the work is screwed down on, with the screws, and the parallels under it: the
    shop's own where it has one of known size, else one to make. Raises UnplannableError.
    """
    low, high = lie.extent
    owned = workshop.fixture_block if isinstance(workshop.fixture_block, tuple) else None
    long, wide = high[0] - low[0] + 2 * AROUND, high[1] - low[1] + 2 * AROUND
    if owned:
        long, wide = owned[0], owned[1]
    long, wide = ceil(long), min(ceil(wide), int(vise.opening))
    offered: list[tuple[float, ...]] = [(), *((p,) for p in sorted(workshop.parallels))]
    thick = owned[2] if owned else 0.0
    deep = [
        p
        for p in offered
        if sum(p) <= vise.jaw_depth - FIRM
        and (not thick or sum(p) + thick >= vise.jaw_depth + ABOVE_JAWS)
    ]
    if not deep or wide > vise.opening:
        raise UnplannableError(
            f"the fixture block, {Length(long, wide, thick, between=' x '):g}, cannot stand in the "
            f"{vise.name} with its top {Length(ABOVE_JAWS):g} above the jaws and "
            f"{Length(FIRM):g} between them; use a thicker one, or add parallels to workshop.yaml"
        )
    under = deep[0] if thick else deep[-1]
    top = sum(under) + (thick or max(LEAST_THICK, ceil(vise.jaw_depth + ABOVE_JAWS - sum(under))))
    x, y = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    block = Body(
        kind=BodyKind.BLOCK,
        low=(x - long / 2, y - wide / 2, sum(under)),
        high=(x + long / 2, y + wide / 2, top),
        bears="up",
        made=not owned,
    )
    for screw in pair:
        edge, spot = 1.5 * screw.diameter, screw.middle
        if not all(block.low[i] + edge <= spot[i] <= block.high[i] - edge for i in (0, 1)):
            raise UnplannableError(
                f"the fixture block, {Length(long, wide, between=' x '):g}, does not reach under "
                "the holes the work is screwed down by; a larger one, or a vise that opens "
                "further, would do"
            )
    return (block, *(_raised(screw, top) for screw in pair)), under


def _raised(screw: Body, by: float) -> Body:
    """A screw on a block whose top is so high [mm]."""
    low, high = ((x, y, round(z + by, 4)) for x, y, z in (screw.low, screw.high))
    return screw.model_copy(update={"low": low, "high": high, "at": round(screw.at + by, 4)})
