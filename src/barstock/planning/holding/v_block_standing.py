"""Round work standing in a V-block, pressed by it against the fixed jaw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Face
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import stands_in_v
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.v_block import (
    GRIP,
    ON_FLANK,
    ROOT2,
    SEES,
    Heights,
    InV,
    Points,
    rounded,
    spread,
)
from barstock.planning.holding.vise import gripped
from barstock.planning.holding.way import Found
from barstock.planning.tasks.pose import Lie, Pose
from barstock.planning.tasks.task import End, Level, Sink, Task
from barstock.planning.values import plan_view
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, Zero
from barstock.route.statements import Caution, CautionKind
from barstock.workshop.shop import Vise

MARGIN = 1.2  # times the least that it is held over; common practice
AIR = 0.5  # under a cutter that passes over the block [mm]; common practice


@dataclass(frozen=True)
class StandsInV(InV):
    """Round work in a V that stands upright, between the work and the moving jaw."""

    name = "V-block, standing"
    stop = False

    def pose_words(self, pose: Pose) -> str:
        """The vise, and how the work stands, for the name of a pose."""
        held = f", in the {self.vise}" if self.vise else ""
        return f"{held}, standing in the V-block {Length(self.block.long):g} long"

    def bodies(self, lie: Lie) -> tuple[Body, ...]:
        """The block, which stands on the bed."""
        (low, high), block = lie.extent, self.block
        half, x = (high[1] - low[1]) / 2, (low[0] + high[0]) / 2
        face = (low[1] + high[1]) / 2 - ROOT2 * half + self.mouth / 2
        there = Body(
            kind=BodyKind.V_BLOCK,
            low=rounded((x - block.wide / 2, face - block.high, 0.0)),
            high=rounded((x + block.wide / 2, face, block.long)),
            bears="back",
            mouth=self.mouth,
        )
        return (there,)

    def wide(self, flat: Lie) -> float:
        """The jaws stand open from the work's back to the block's [mm]."""
        return -self.bodies(flat)[0].low[1]

    def gripped(self, vise: Vise, lie: Lie, rest: float) -> float:
        """The height of the work between block and jaw [mm]."""
        return min(vise.jaw_depth, self.block.long, lie.extent[1][2]) - rest

    def carried(self, flat: Lie) -> float:
        """The parallels carry the work itself."""
        return 0.0

    def heights(self, flat: Lie, tasks: Sequence[Task], vise: Vise) -> Heights:
        """The work must be high enough for the cutter, if it can for the edge finder too, and low
        enough to be held."""
        if self.bodies(flat)[0].high[1] > -ON_FLANK:
            raise UnplannableError(
                f"the V of the block, {Length(self.mouth):g}, is too wide: standing in it the work "
                "would not reach the fixed jaw; add a block with a smaller V to workshop.yaml"
            )
        (across, _, tall), long = flat.extent[1], self.block.long
        exposed = max((_depth(t, flat) for t in tasks), default=0.0)
        below = max((_below(t) for t in tasks), default=0.0)
        top, low = max(vise.jaw_depth, long), min(vise.jaw_depth, long)
        least = max((top + exposed + AIR if exposed else low) - tall, below)
        most = low - MARGIN * stands_in_v(across, tall)
        if most < least and exposed and top > low:
            cure = f"; a V-block {Length(vise.jaw_depth):g} long, as deep as the jaws, would do"
            would = vise.jaw_depth - tall + exposed + AIR <= most + vise.jaw_depth - low
            raise UnplannableError(
                f"the work, {Length(tall):.1f} tall, cannot stand in the V-block for a cut over "
                f"its top: the block, {Length(long):g} long, and the jaws, "
                f"{Length(vise.jaw_depth):g} deep, leave it "
                f"{Length(max(0.0, tall - exposed - AIR - top + low)):.1f} to be held by"
                + (cure if would else "")
            )
        wished = max(least, top + SEES - tall)
        return Heights(least, most, wished, "the work, standing in the V-block,")

    def points(self, lie: Lie) -> tuple[Points, Points, Points]:
        """Points up the V and the jaw, and on all four sides near the top."""
        low, high = lie.extent
        (x, y), half = ((low[i] + high[i]) / 2 for i in (0, 1)), (high[1] - low[1]) / 2 - 0.02
        tall = high[2] - low[2]
        held = min(GRIP, MARGIN * stands_in_v(high[0] - low[0], tall))
        slant, heights = half / ROOT2, spread((low[2], low[2] + held))
        pressed = [(x + way * slant, y - slant, h) for h in heights for way in (-1, 1)]
        pressed += [(x, y + half, h) for h in heights]
        sides = [(x - half, y), (x + half, y), (x, y - half), (x, y + half)]
        seen = [(*side, h) for h in spread((high[2] - SEES, high[2])) for side in sides]
        return pressed, seen if tall > held + 2 * SEES else (), ()

    def zeros(
        self, tasks: Sequence[Task], lie: Lie, grip: Grip, tip: float,
        more: tuple[float, float], done: Sequence[Task],
    ) -> Found:  # fmt: skip
        """The axes are zeroed on the work's axis, half way between its sides; where these are not
        in sight, half way between the block's, and from the fixed jaw.
        """
        low, high = lie.extent
        x, y = (Zero(find="centre", set_to=by, finder=tip) for by in more)
        middle = ((low[0] + high[0]) / 2 - more[0], (low[1] + high[1]) / 2 - more[1])
        if high[2] - max(self.block.long, grip.vise.jaw_depth if grip.vise else 0.0) >= SEES:
            return x, y, middle
        x = x.model_copy(update={"on": BodyKind.V_BLOCK})
        y = Zero(find="fixed jaw", set_to=more[1] - tip / 2, finder=tip)
        return x, y, (middle[0], -more[1])

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """What to beware of, as of all work between jaws."""
        if holding.parallels_out:
            yield Caution(kind=CautionKind.PARALLELS_OUT)
        yield from gripped(holding)


WAY = StandsInV


def _depth(task: Task, lie: Lie) -> float:
    """How far below the top of standing work a level cut goes, or squaring its end [mm]."""
    if isinstance(task.job, End):
        plane = task.part.size[0] if task.job.face is Face.RIGHT else 0.0
        return lie.extent[1][2] - lie.at((plane, 0.0, 0.0))[2]
    if not isinstance(task.job, Level):
        return 0.0
    plan = plan_view(task.job.cut, task.part.size, lie)
    return plan.top - plan.floor


def _below(task: Task) -> float:
    """How far a drill comes out under standing work [mm]."""
    through = isinstance(task.job, Sink) and task.job.through
    return task.tools[0].diameter / 2 + 1.0 if through else 0.0
