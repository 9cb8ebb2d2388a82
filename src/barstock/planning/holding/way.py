"""Every way of holding work answers what `Way` asks. A way is one file in this folder, with a
`WAY`.

Nothing outside this folder knows a way by its name: poses carry one, and what they carry is asked.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from enum import Enum, auto
from math import inf
from typing import ClassVar

from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import End as DimensionEnd
from barstock.drawing.dimension_runs import EndKind
from barstock.planning.holding.cutter_runs import runs
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import End, Sink, Task
from barstock.planning.values import Cutting, Zeros
from barstock.planning.values.height_left import sunk
from barstock.planning.values.setup_givens import SetupGivens
from barstock.route import Body, Holding, Operation, Plunge, Setup, Turned, Zero
from barstock.route.statements import Caution, Reason
from barstock.stocking.bar_choice import Lengths, Stock
from barstock.workshop.shop import MachineKind, ShopTimes, Tool, Workshop

SAME = 1e-6  # a side is where the drawing has it [mm]
STOP_CLEAR = 0.5  # of a cutter's tip above the stop, which is set by eye [mm]; common practice
RESEAT = 2.0  # minutes to wipe down and set the stop for another part; common practice

Found = tuple[Zero, Zero, tuple[float, float]]
"""How X and Y are zeroed, and where on the table their zeros lie [mm]."""


class Need(Enum):
    """What a task asks of the way its work is held."""

    CUT = auto()
    FREE_ROUND = auto()
    BY_HAND = auto()
    SAWN = auto()


class Way(ABC):
    """A way of holding work, with where and by what it does so.

    name: as the route calls it. machine: at which work is held so. seat: what the work's back is
    against. stop: is the work pushed against one at its left? by_eye: it is brought under the
    cutter by eye. by_hand: what is done so is done by hand. obstructs: something stands beside the
    work, higher than what is cut. trued_by: instruments that something is set true by.
    """

    name: ClassVar[str]
    machine: ClassVar[MachineKind] = MachineKind.MILL
    seat: ClassVar[str] = "fixed jaw"
    stop: ClassVar[bool] = True
    by_eye: ClassVar[bool] = False
    by_hand: ClassVar[bool] = False
    obstructs: ClassVar[bool] = False
    trued_by: ClassVar[tuple[str, ...]] = ()

    # -- which poses it offers ---------------------------------------------------------------------

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way as it is first thought of for work that lies so, if it is."""
        return None

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The ways to hold work lying as in a pose, where what is first thought of will not do."""
        return ()

    @classmethod
    def besides(cls, task: Task, shop: Workshop) -> Sequence[Pose]:
        """Poses for a task besides those it has, for what is done better so."""
        return ()

    @classmethod
    def arranged(
        cls, tasks: Sequence[Task], givens: SetupGivens, stock: Stock, lengths: Lengths
    ) -> list[Task] | None:
        """All tasks of a part that is held so and in no other way; None of others.

        Raises UnplannableError where it cannot be.
        """
        return None

    @classmethod
    def lacking(cls, pose: Pose, shop: Workshop) -> str:
        """What the shop would have to own to hold work so that lies as in a pose, "" where it owns
        all or it would not do."""
        return ""

    # -- minutes, and what must be alike -----------------------------------------------------------

    @classmethod
    def ready(cls, times: ShopTimes, tilted: bool) -> float:
        """Minutes of setting up, before any work is loaded."""
        return times.set_up + times.find_zero + (times.tilt if tilted else 0.0)

    @classmethod
    def loading(cls, times: ShopTimes) -> float:
        """Minutes to load one work."""
        return times.load

    @classmethod
    def kept(cls, times: ShopTimes, tilted: bool) -> float:
        """Minutes saved where the setup before was held alike."""
        return max(0.0, times.set_up - RESEAT) + (times.tilt if tilted else 0.0)

    @classmethod
    def alike(cls, setup: Setup) -> str:
        """What must be the same for the next work to go straight in."""
        h = setup.holding
        tilt = f" tilted {h.tilt:.3f}" if h.tilt else ""
        by = f", by {placed}" if (placed := cls.placed(h)) else ""
        return f"{setup.machine}, {h.device}, packed {h.packing:.3f}{tilt}{by}, stop {h.stop}"

    @classmethod
    def placed(cls, holding: Holding) -> Sequence[Body]:
        """The bodies that must stand in the same place to hold the next work alike."""
        return ()

    @classmethod
    def anew(cls, times: ShopTimes, zeros: Sequence[Zero], copies: int) -> float:
        """Minutes of finding zero again, for all copies."""
        return times.find_zero / 2 * copies * sum(zero.find == "centre" for zero in zeros)

    # -- how it holds ------------------------------------------------------------------------------

    @abstractmethod
    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The grip on work of these extremes for these tasks.

        wanted: packings that other setups stand on, the most useful first [mm].
        Raises UnplannableError with the cure.
        """

    @abstractmethod
    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """The metal it needs of work of these extremes."""

    def pose_words(self, pose: Pose) -> str:
        """The words about the way that stand in the name of a pose."""
        return f", in the {self.name}"

    def in_device(self, name: str) -> Way | None:
        """The same way by the vise of that name; None where none is used."""
        return None

    def for_an_end(self, part: Part, shop: Workshop) -> Way:
        """The same way where nothing but an end of the part is cut."""
        return self

    def squares(self, part: Part) -> bool:
        """Is a part long enough for its ends to be squared by a cutter's side, lying so?"""
        return True

    def longest(self, shop: Workshop, thin: float) -> float:
        """The longest bar that is held so, of which the thinner way is `thin` [mm]."""
        return inf

    def free(self, height: float) -> float:
        """How much of the height of work it leaves free at least [mm]."""
        return height

    def above(self, hole: float) -> float:
        """How far it stands above the work where it holds it by a hole so wide [mm]."""
        return 0.0

    def loose(self, pose: Pose, part: Part, shop: Workshop) -> bool:
        """Does it hold the work less firmly than another way would?"""
        return False

    def pressed(self, pose: Pose, part: Part) -> Seat | None:
        """Between which points it presses, and on which the work rests; None if not at points."""
        return None

    def lie(self, pose: Pose, box: Box, grip: Grip) -> Lie:
        """The work as its cuts are tried; its height is none of them but on the table."""
        return lay(pose, box, 0.0)

    def in_the_way(
        self, values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, shop: Workshop
    ) -> str:
        """What these moves would run into, "" where nothing is."""
        return ""

    # -- a setup -----------------------------------------------------------------------------------

    def sunk(self, lie: Lie, done: Sequence[Task]) -> float:
        """How far under the work's extremes its highest metal lies after these cuts [mm]."""
        return sunk(lie.pose, lie.box, done)

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip on work on which these tasks are done."""
        return grip

    def turned(self, pose: Pose, tasks: Sequence[Task], done: Sequence[Task]) -> Turned | None:
        """How round work is turned before it is gripped, for these tasks to lie true to others."""
        return None

    def zeros(
        self, tasks: Sequence[Task], lie: Lie, grip: Grip, tip: float,
        more: tuple[float, float], done: Sequence[Task],
    ) -> Found:  # fmt: skip
        """How X and Y are zeroed: from the left and the seat, or half way between the sides.

        tip: diameter of the edge finder's; more: what the readings are to grow by [mm].
        """
        (low, high), half = lie.extent, tip / 2
        x = Zero(find="left", set_to=more[0] - half, finder=tip)
        y = Zero(find="fixed jaw", set_to=more[1] - half, finder=tip)
        at = [-more[0], -more[1]]
        if self.ends_in_sight(grip) and _from_the_middle(tasks, lie, lie.pose.right.axis):
            x = Zero(find="centre", set_to=more[0], finder=tip)
            at[0] += (low[0] + high[0]) / 2
        if self.in_sight(lie, grip, done) and _from_the_middle(tasks, lie, lie.pose.fixed_jaw.axis):
            y = Zero(find="centre", set_to=more[1], finder=tip)
            at[1] += (low[1] + high[1]) / 2
        return x, y, (at[0], at[1])

    def ends_in_sight(self, grip: Grip) -> bool:
        """Can an edge finder touch both of the work's ends?"""
        return True

    def in_sight(self, lie: Lie, grip: Grip, done: Sequence[Task]) -> bool:
        """Can an edge finder touch the work's front and back?"""
        return False

    def settled(
        self, holding: Holding, operations: Sequence[Operation], zeros: Zeros, top: float
    ) -> Holding:
        """The holding with all that must keep clear of the cuts set so; top: of the work [mm]."""
        if not self.stop:
            return holding
        return holding.model_copy(update={"stop_below": _stop_below(operations, zeros, top)})

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """The cautions that come of its being held so."""
        yield from ()

    def reasons(self) -> Iterator[Reason]:
        """The reasons why it is held so."""
        yield from ()


def way_of(pose: Pose) -> Way:
    """The way the work of a pose is held."""
    assert isinstance(pose.way, Way)
    return pose.way


def hold(
    pose: Pose, box: Box, tasks: Sequence[Task], shop: Workshop, wanted: Sequence[float] = ()
) -> Grip:
    """The grip on work of these extremes in a pose, see `Way.hold`."""
    return way_of(pose).hold(pose, box, tasks, shop, wanted)


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


def _from_the_middle(tasks: Sequence[Task], lie: Lie, axis: int) -> bool:
    """Must zero be half way between the work's finished sides, and can it?"""
    part, jobs = tasks[0].part, [t.job for t in tasks]
    beside = (isinstance(j, Sink) or (isinstance(j, End) and j.face.axis != axis) for j in jobs)
    if lie.pose.tilt or not all(beside):
        return False
    low, high = lie.box[0][axis], lie.box[1][axis]
    if abs(low) > SAME or abs(high - part.size[axis]) > SAME:
        return False
    return by_the_middle(tasks, axis)


def _stop_below(operations: Sequence[Operation], zeros: Zeros, top: float) -> float | None:
    """Height on the table under which the stop at x = 0 must stay for the cutters to pass over it;
    None where none comes there."""
    over = [
        run.tip
        for o in operations
        for move in o.moves
        if not (isinstance(move, Plunge) and move.touch)
        for run in runs(move, o.cutter.diameter, zeros, top)
        if min(run.start[0], run.end[0]) - run.radius < -SAME
    ]
    return round(min(over) - STOP_CLEAR, 3) if over else None
