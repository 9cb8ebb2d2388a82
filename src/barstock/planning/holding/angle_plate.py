"""Work stood on the table against an angle plate, straps across its front: its end is free."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import PLATE_REACHES
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.metal import Needed, Seat
from barstock.planning.holding.table_held import BESIDE, NUT, OnTable
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Task
from barstock.planning.values import Cutting, Zeros
from barstock.quantities import Length
from barstock.route import Body, BodyKind, Holding, Operation
from barstock.route.statements import Caution, CautionKind
from barstock.workshop.holding_kits import AnglePlate, Clamps
from barstock.workshop.shop import Tool, Workshop

UPRIGHT = (CautionKind.PLATE, CautionKind.HIGH_ON_PLATE)
PRESSED_GONE = 0.3  # of where straps press work against the plate; common practice
FOOT = 8.0  # from the table to the lower strap [mm]; common practice
LOW_STOP = 6.0  # of the stop, lower than the straps [mm]; common practice
BELOW_END = 20.0  # from the upper strap to the end that is cut [mm]; common practice
APART = 5.0  # between two straps at least [mm]; common practice
PROUD = 5.0  # of the plate that work stands at least, raised on parallels; common practice
INSIDE = 2.0  # from the work's front and back to the parallels [mm]; common practice
OVER = 0.75 / PLATE_REACHES  # times the plate's height that work may be tall; common practice
HEAD = 10.0  # from the longest tool to the work's top, to get it out [mm]; common practice


@dataclass(frozen=True)
class AgainstPlate(OnTable):
    """Work that stands on end, its back against an angle plate."""

    name = "angle plate"
    seat = "plate"
    kit: Clamps
    plate: AnglePlate

    @classmethod
    def instead(cls, pose: Pose, part: Part, shop: Workshop) -> Sequence[Way]:
        """The way is offered where an end is up."""
        kit, plate = shop.kit(Clamps), shop.kit(AnglePlate)
        if kit is None or plate is None or pose.tilt or pose.stage == "bar" or pose.up.axis != 0:
            return ()
        return [cls(kit, plate)]

    @property
    def device(self) -> str:
        """The plate, in the trade's words."""
        return "angle plate on the table"

    def pose_words(self, pose: Pose) -> str:
        """Where the work stands, for the name of a pose."""
        return ", strapped to the table against the angle plate"

    def seat_top(self, lie: Lie) -> float:
        """The height of the plate, which stays as it is [mm]."""
        return self.plate.high

    def hold(
        self,
        pose: Pose,
        box: Box,
        tasks: Sequence[Task],
        shop: Workshop,
        wanted: Sequence[float] = (),
    ) -> Grip:
        """The work is held on the table, or on parallels that bring its end above the plate."""
        flat = lay(pose, box, 0.0)
        rest = self._raised(flat, shop)
        self._fits(flat, rest, shop)
        return self.grip(lay(pose, box, rest), [rest], shop)

    def needs(self, pose: Pose, box: Box, part: Part) -> Needed:
        """It needs metal just inside its front under the straps, and its back behind them."""
        lie = lay(pose, box, 0.0)
        low, high = lie.extent
        heights = [
            strap.low[2] + share * strap.size[2]
            for strap in self.bodies(lie, 1.0)
            if strap.kind is BodyKind.STRAP
            for share in (0.1, 0.5, 0.9)
        ]
        points = tuple(
            lie.of_part((low[0] + share * (high[0] - low[0]), y, z))
            for share in (0.1, 0.3, 0.5, 0.7, 0.9)
            for y in (low[1] + 0.02, high[1] - 0.02)
            for z in heights
        )
        return Seat((points, ()), (), frozenset(), PRESSED_GONE)

    def in_the_way(
        self, values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, shop: Workshop
    ) -> str:
        """What these moves would run into, as of all work on the table; and the tool must go over
        the plate.
        """
        mill = shop.machine(self.machine)
        if mill and mill.daylight and lie.extent[1][2] + tool.reach > mill.daylight:
            return f"the spindle does not rise so high that {tool.name} goes over the work"
        return super().in_the_way(values, tool, lie, zeros, shop)

    def settled(
        self, holding: Holding, operations: Sequence[Operation], zeros: Zeros, top: float
    ) -> Holding:
        """The holding with its stop set lower than the straps."""
        return holding.model_copy(update={"stop_below": holding.packing + LOW_STOP})

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """Work on end stands high."""
        for kind in UPRIGHT:
            yield Caution(kind=kind)

    def _raised(self, flat: Lie, shop: Workshop) -> float:
        """Height of the parallels that bring the work's end above the plate, or as near as can
        be."""
        low, high = flat.extent
        lacking = self.plate.high + PROUD - (high[2] - low[2])
        fit = [p for p in shop.parallels if p >= lacking]
        return 0.0 if lacking <= 0 else min(fit, default=max(shop.parallels, default=0.0))

    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        """The plate, the straps across the work's front, and parallels under it where it has any.

        thickness: of a parallel [mm].
        """
        kit, plate, (low, high) = self.kit, self.plate, lie.extent
        middle = (low[0] + high[0]) / 2
        limb = Body(
            kind=BodyKind.ANGLE_PLATE,
            low=(round(middle - plate.wide / 2, 4), 0.0, 0.0),
            high=(round(middle + plate.wide / 2, 4), plate.thick, plate.high),
            bears="front",
        )
        foot = low[2] + FOOT
        head = min(high[2] - BELOW_END, plate.high) - kit.wide
        heights = (
            [foot, head] if head >= foot + kit.wide + APART else [(foot + max(foot, head)) / 2]
        )
        across = []
        for height in heights:
            bottom, top = round(height, 4), round(height + kit.wide, 4)
            nuts = [
                Body(
                    kind=BodyKind.NUT,
                    low=(round(x, 4), round(low[1] - kit.tall, 4), bottom),
                    high=(round(x + NUT, 4), 0.0, top),
                    bears="back",
                    at=round(low[1] - kit.thick, 4),
                )
                for x in (low[0] - BESIDE - NUT, high[0] + BESIDE)
            ]
            strap = Body(
                kind=BodyKind.STRAP,
                low=(nuts[0].low[0], round(low[1] - kit.thick, 4), bottom),
                high=(nuts[1].high[0], round(low[1], 4), top),
                bears="back",
            )
            across += [strap, *nuts]
        laid = [
            Body(
                kind=BodyKind.PARALLEL,
                low=(round(low[0], 4), round(y, 4), 0.0),
                high=(round(high[0], 4), round(y + thickness, 4), round(low[2], 4)),
                bears="up",
            )
            for y in (low[1] + INSIDE, high[1] - INSIDE - thickness)
        ]
        return (*across, limb, *(laid if lie.packing else ()))

    def _fits(self, flat: Lie, rest: float, workshop: Workshop) -> None:
        """Raises UnplannableError where work of these extremes cannot stand so, saying why."""
        kit, plate, (low, high) = self.kit, self.plate, flat.extent
        wide, deep, tall = (high[i] - low[i] for i in range(3))
        least = FOOT + kit.wide + BELOW_END
        mill = workshop.machine(self.machine)
        if wide + 2 * (BESIDE + NUT) > plate.wide:
            trouble = (
                f"it is {Length(plate.wide):g} wide, and studs stand on both sides of the work"
            )
        elif deep + kit.tall > kit.highest + kit.thick:
            trouble = f"no stud reaches over work {Length(deep):.1f} deep"
        elif tall < least:
            trouble = f"there is no room for a strap below the end; {Length(least):g} is the least"
        elif tall > OVER * plate.high:
            trouble = f"it is {Length(plate.high):g} high only"
        elif mill and mill.daylight and rest + tall + HEAD > mill.daylight:
            trouble = f"the {mill.kind} has room for {Length(mill.daylight):g} under its spindle"
        else:
            return
        size = f"{Length(wide, deep, between=' x '):.1f}, {Length(tall):.1f} tall"
        raise UnplannableError(f"the work, {size}, cannot stand against the angle plate: {trouble}")


WAY = AgainstPlate
