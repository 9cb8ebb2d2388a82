"""Small work on end in a toolmaker's clamp block, its screw across the work's front."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import IN_SIGHT, PLATE_REACHES
from barstock.planning.holding.cutter_runs import point_below
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.table_held import OnTable
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Level, Task
from barstock.planning.values import Zeros, plan_view
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, Operation
from barstock.workshop.holding_kits import ClampBlock
from barstock.workshop.shop import ShopTimes, Workshop

PROUD = IN_SIGHT + 3.0  # of the block that what is cut stands at least [mm]; common practice
INSIDE = 2.0  # from the work's front and back to the parallels [mm]; common practice
OVER = 0.75 / PLATE_REACHES  # times the block's height that work may be tall; common practice
PRESSED_GONE = 0.2  # of where the screw presses and what is behind it; common practice


@dataclass(frozen=True)
class InClampBlock(OnTable):
    """Work stands between the block's walls, against its back and its left-hand wall."""

    name = "clamp block"
    seat = "block"
    kit: ClampBlock

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """Where an end is up."""
        kit = shop.kit(ClampBlock)
        if kit is None or pose.tilt or pose.stage == "bar" or pose.up.axis != 0:
            return ()
        return [cls(kit)]

    @classmethod
    def loading(cls, times: ShopTimes) -> float:
        """One screw is tightened as a vise is."""
        return times.load

    def pose_words(self, pose: Pose) -> str:
        """Where it stands."""
        return ", in the clamp block"

    def seat_top(self, lie: Lie) -> float:
        """The block stays as high as it is."""
        return self.kit.high

    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        """Its back, walls, yoke and screw, and parallels where the work is on any."""
        kit, (low, high) = self.kit, lie.extent
        x, y, z = low[0], -kit.reach, kit.high
        right = x + kit.inner
        middle, level = (low[0] + high[0]) / 2, (low[2] + min(kit.high, high[2])) / 2
        front, half = y - kit.wall, kit.screw / 2

        def part(a: Sequence[float], b: Sequence[float], bears: str, **more: object) -> Body:
            corners = {"low": [round(v, 4) for v in a], "high": [round(v, 4) for v in b]}
            kind = {"kind": BodyKind.PLAIN, "called": self.name, "bears": bears}
            return Body.model_validate({**kind, **corners, **more})

        there = [
            part((x - kit.wall, 0, 0), (right + kit.wall, kit.wall, z), "front"),
            part((x - kit.wall, y, 0), (x, 0, z), "right"),
            part((right, y, 0), (right + kit.wall, 0, z), "left"),
            part((x - kit.wall, front, 0), (right + kit.wall, y, z), "back"),
            part(
                (middle - half, front - kit.out, level - half),
                (middle + half, low[1], level + half),
                "back",
                kind=BodyKind.SCREW,
                called="",
                diameter=kit.screw,
            ),
        ]
        laid = (low[1] + INSIDE, high[1] - INSIDE - thickness) if lie.packing else ()
        for at in laid:
            a, b = (low[0], at, 0.0), (high[0], at + thickness, low[2])
            there.append(part(a, b, "up", kind=BodyKind.PARALLEL, called=""))
        return tuple(there)

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """On the table, or on the lowest parallels that bring what is cut above the block."""
        kit, flat = self.kit, lay(pose, box, 0.0)
        wide, deep, tall = (b - a for a, b in zip(*flat.extent, strict=True))
        exposed = max((_depth(t, flat) for t in tasks), default=0.0)
        through = max((point_below(t) for t in tasks), default=0.0)
        least = max(kit.high + PROUD + exposed - tall, through, 0.0)
        most = kit.high - tall / OVER
        fit = [p for p in (0.0, *shop.parallels) if least <= p <= most]
        if wide > kit.inner or deep > kit.reach:
            trouble = f"its room is {Length(kit.inner, kit.reach, between=' x '):g}"
        elif kit.reach - deep > kit.out:
            trouble = f"its screw comes out {Length(kit.out):g} only"
        elif not fit:
            trouble = (
                f"it would have to stand between {Length(least, most, between=' and '):.1f} "
                "above the table, on parallels"
            )
        else:
            return self.grip(lay(pose, box, fit[0]), fit, shop)
        size = f"{Length(wide, deep, between=' x '):.1f}, {Length(tall):.1f} tall"
        raise UnplannableError(f"the work, {size}, cannot stand in the clamp block: {trouble}")

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """Metal just inside its front under the screw and its back behind that."""
        lie = lay(pose, box, 0.0)
        low, high = lie.extent
        points = tuple(
            lie.of_part((low[0] + share * (high[0] - low[0]), y, level * self.kit.high))
            for share in (0.3, 0.5, 0.7)
            for y in (low[1] + 0.02, high[1] - 0.02)
            for level in (0.2, 0.4, 0.6)
        )
        return Seat((points, ()), (), frozenset(), PRESSED_GONE)

    def settled(
        self, holding: Holding, operations: Sequence[Operation], zeros: Zeros, top: float
    ) -> Holding:
        """The wall is the stop, and as high as the block."""
        return holding.model_copy(update={"stop_below": self.kit.high})


WAY = InClampBlock


def _depth(task: Task, lie: Lie) -> float:
    """How far below the work's top a level cut goes [mm]."""
    if not isinstance(task.job, Level):
        return 0.0
    plan = plan_view(task.job.cut, task.part.size, lie)
    return plan.top - plan.floor
