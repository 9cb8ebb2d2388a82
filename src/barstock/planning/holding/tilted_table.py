"""Work strapped down on a tilted table: where straps, fence and parallels stand on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.planning.holding.cutter_runs import Run, highest
from barstock.planning.holding.finder_room import beside_bodies
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.straps import (
    OnStraps,
    leaves_room,
    lies_flat,
    on_parallels,
    strapped,
)
from barstock.planning.holding.table_held import CLEAR, UNDER_CUT, named
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Level, Task
from barstock.planning.values import plan_view
from barstock.planning.values.cutting import OVERRUN
from barstock.quantities import Length
from barstock.route import Body, BodyKind
from barstock.workshop.holding_kits import Clamps
from barstock.workshop.shop import Tool, Workshop

THICK = 20.0  # of a tilting table's top that is looked at [mm]; common practice
BEYOND = 10.0  # past all that stands on it that it reaches [mm]; common practice


@dataclass(frozen=True)
class OnTiltedTable(OnStraps):
    """Work under straps on a table that is tilted on the mill's."""

    name = "tilted table"

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The way is offered in every form there is, where the table tilts so far."""
        kit = shop.kit(Clamps)
        if kit is None or pose.stage == "bar" or not 0 < abs(pose.tilt) <= shop.tilting_table:
            return ()
        return cls.wherever(pose, part, kit) if lies_flat(pose, part) else ()

    @classmethod
    def lacking(cls, pose: Pose, shop: Workshop) -> str:
        """The tilting table, where the shop owns none that tilts so far, or the clamps."""
        if not pose.tilt:
            return ""
        if abs(pose.tilt) > shop.tilting_table:
            return (
                "workshop.yaml lists no tilting table that tilts "
                f"{abs(pose.tilt):g}°, to strap it on"
            )
        return "" if shop.kit(Clamps) else "workshop.yaml lists no clamps, to strap it on with"

    def pose_words(self, pose: Pose) -> str:
        """Where the straps come in, for the name of a pose."""
        return f", strapped to the tilted table {self.where}"

    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        """The table, and all that stands on it, as if it were level; they lean with it."""
        level = lie.level
        table = level.extent[0][2] - lie.packing
        there = strapped(self.where, self.kit, level, table)
        if lie.packing > 0:
            there += on_parallels(self.where, self.kit, level, thickness, table)
        low, high = (
            [pick(b[i] for b in (*ends, extreme)) for i in (0, 1)]
            for pick, ends, extreme in (
                (min, [b.low for b in there], level.extent[0]),
                (max, [b.high for b in there], level.extent[1]),
            )
        )
        top = Body(
            kind=BodyKind.TILTING_TABLE,
            low=(round(low[0] - BEYOND, 4), round(low[1] - BEYOND, 4), round(table - THICK, 4)),
            high=(round(high[0] + BEYOND, 4), round(high[1] + BEYOND, 4), round(table, 4)),
            bears="up",
            at=round(level.extent[0][0], 4),
        )
        return tuple(b.model_copy(update={"lean": lie.pose.tilt}) for b in (*there, top))

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work lies on the table, or on the lowest parallels that keep the cutters off it."""
        flat = lay(pose, box, 0.0)
        low, high = flat.level.extent
        leaves_room(self.where, self.kit, flat.level)
        tall = high[2] - low[2]
        for packing in (0.0, *sorted(shop.parallels)):
            lie = lay(pose, box, packing)
            bodies = self.bodies(lie, shop.parallel_thickness)
            if tall + packing <= self.kit.highest and all(_off(t, lie, bodies[-1]) for t in tasks):
                break
        else:
            raise UnplannableError(
                f"the straps reach over work {Length(self.kit.highest):g} above the tilted table, "
                "and no parallels owned lift it so that the cutter stays off the table's raised "
                "side"
            )
        beside_bodies(lie, bodies[:-1], shop)
        grip = self.grip(lie, (packing,), shop)
        return replace(grip, stick_up=lie.extent[1][2])

    def after(self, grip: Grip, lie: Lie, done: Sequence[Task]) -> Grip:
        """The grip with its straps set down; the corner each cutter is touched on must be there."""
        if self.sunk(lie, done) > 0:
            raise UnplannableError("the corner that it would be measured from is cut away")
        return super().after(grip, lie, done)

    def met(self, run: Run, tool: Tool, body: Body, lie: Lie) -> str:
        """What of a body a run would meet, "" where nothing is; the fence may be set down."""
        if body.kind is BodyKind.FENCE:
            least = body.model_copy(update={"high": (*body.high[:2], self.seat_top(lie))})
            into = run.tip < run.top(least, run.radius + CLEAR) + UNDER_CUT
            return f"the cutter would run into the {body.name}" if into else ""
        return run.met(tool, body, named(body), CLEAR)


WAY = OnTiltedTable


def _off(task: Task, lie: Lie, table: Body) -> bool:
    """Does every cutter of a task stay off the table, also where it runs out beyond the work?"""
    if not isinstance(task.job, Level):
        return True
    plan = plan_view(task.job.cut, task.part.size, lie)
    out = max((tool.diameter for tool in task.tools), default=0.0) + OVERRUN + CLEAR
    return plan.floor - CLEAR >= highest(table, plan.x[0] - out, plan.x[1] + out)
