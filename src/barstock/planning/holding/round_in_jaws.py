"""Round work lying between the flat jaws of a vise, on one parallel under its middle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barstock.drawing.build import Face, Part
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import jaws_over_round
from barstock.planning.holding.cutter_runs import point_below
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.round_turning import turned_to
from barstock.planning.holding.v_block import Heights, parallels_between, spread
from barstock.planning.holding.vise import ABOVE_JAWS, InVise, about, near_enough
from barstock.planning.holding.way import Need, Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Level, Sink, Task
from barstock.planning.values import plan_view
from barstock.route import Turned
from barstock.workshop.shop import Vise, Workshop

INSIDE = 0.02  # under the skin, where metal is looked for [mm]


@dataclass(frozen=True)
class RoundInJaws(InVise):
    """Round work that both jaws touch along its sides, and which nothing stands over: for what no
    clamp of a V-block leaves room for.
    """

    name = "vise, round work"
    slides = False

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is never thought of first: a V-block holds better."""
        return None

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The V-block is what this stands in for."""
        return ()

    def loose(self, pose: Pose, part: Part, shop: Workshop) -> bool:
        """No other way would be offered."""
        return False

    def pose_words(self, pose: Pose) -> str:
        """The vise, and how the work lies, for the name of a pose."""
        return super().pose_words(pose) + ", round between the jaws"

    def _by(
        self, vise: Vise, flat: Lie, tasks: Sequence[Task], shop: Workshop, wanted: Sequence[float]
    ) -> Grip:
        """The jaws reach past the work's middle, and no higher than the cuts leave free."""
        low, high = flat.extent
        across, tall = high[1] - low[1], high[2] - low[2]
        exposed = max((_depth(t, flat) for t in tasks), default=0.0)
        free = exposed + ABOVE_JAWS if exposed else 0.0
        below = max((point_below(t) for t in tasks), default=0.0)
        least = max(vise.jaw_depth - tall + free, below)
        most = vise.jaw_depth - across / 2 - jaws_over_round(across)
        what = "round work between the jaws"
        heights = Heights(least, most, (least + most) / 2, what)
        parallels = parallels_between(heights, shop.parallels)
        rest = sum(parallels)
        grip = vise.jaw_depth - rest
        return Grip(
            vise.name,
            rest,
            parallels,
            bool(parallels) and any(_comes_out(t) for t in tasks),
            vise,
            grip,
            tall - grip,
            self._jaws(vise, flat, tasks),
            across,
            frozenset({round(rest, 4)}),
            rest,
            rest,
            end_free=False,
        )

    def _jaws(self, vise: Vise, flat: Lie, tasks: Sequence[Task]) -> tuple[float, float]:
        """The jaws stand level with the left-hand end, which X is read from, if they reach."""
        (left, *_), (right, *_) = flat.extent
        wide = vise.jaw_width
        places = [(left, left + wide), about((left + right) / 2, vise), (right - wide, right)]
        trouble: UnplannableError | None = None
        for jaws in places:
            try:
                near_enough(jaws, flat, tasks)
                return jaws
            except UnplannableError as reason:
                trouble = reason
        assert trouble is not None
        raise trouble

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """Metal along both sides, and along the lowest line, which the parallel carries."""
        lie = lay(pose, box, 0.0)
        low, high = lie.extent
        y, z = ((low[i] + high[i]) / 2 for i in (1, 2))
        along = spread((low[0], high[0]))
        front, back, under = (
            tuple(lie.of_part((x, *at)) for x in along)
            for at in ((low[1] + INSIDE, z), (high[1] - INSIDE, z), (y, low[2] + INSIDE))
        )
        return Seat((front, back), under, frozenset())

    def pressed(self, pose: Pose, part: Part) -> Seat | None:
        """It is not held at points."""
        return None

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip with how far what is left stands out."""
        return replace(grip, stick_up=grip.stick_up - self.sunk(lie, done))

    def turned(self, pose: Pose, tasks: Sequence[Task], done: Sequence[Task]) -> Turned | None:
        """The work is turned until a cut made before looks where it must."""
        return turned_to(pose, tasks, done)

    def ends_in_sight(self, grip: Grip) -> bool:
        """The right-hand end may be between the jaws."""
        return False

    def in_sight(self, lie: Lie, grip: Grip, done: Sequence[Task]) -> bool:
        """Its sides are at the jaws."""
        return False


WAY = RoundInJaws


def _depth(task: Task, lie: Lie) -> float:
    """How far below the top of lying work a level cut goes [mm]."""
    if not isinstance(task.job, Level):
        return 0.0
    plan = plan_view(task.job.cut, task.part.size, lie)
    return plan.top - plan.floor


def _comes_out(task: Task) -> bool:
    """Does a task come out below, where the parallel is?"""
    job = task.job
    return (isinstance(job, Sink) and job.through) or (
        isinstance(job, Level) and job.below(task.part.size) > 0
    )
