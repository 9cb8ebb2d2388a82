"""Work stood on the table against an angle plate, straps across its front: its end is free."""

from __future__ import annotations

from dataclasses import replace

from barstock.drawing.build import Vec
from barstock.errors import UnplannableError
from barstock.planning.tasks.pose import Box, Lie, Pose, Straps, lay
from barstock.route import Body, BodyKind
from barstock.workshop.shop import MachineKind, Workshop

WHERE = "against the angle plate"
BESIDE = 2.0  # from work or fence to a stud's washer [mm]; common practice
NUT = 22.0  # a washer's diameter [mm]; common practice
FOOT = 8.0  # from the table to the lower strap [mm]; common practice
LOW_STOP = 6.0  # of the stop, lower than the straps [mm]; common practice
BELOW_END = 20.0  # from the upper strap to the end that is cut [mm]; common practice
APART = 5.0  # between two straps at least [mm]; common practice
PROUD = 5.0  # of the plate that work stands at least, raised on parallels; common practice
INSIDE = 2.0  # from the work's front and back to the parallels [mm]; common practice
OVER = 1.5  # times the plate's height that work may be tall; common practice
HEAD = 10.0  # from the longest tool to the work's top, to get it out [mm]; common practice


def stood(pose: Pose, workshop: Workshop) -> list[Pose]:
    """The same way up, against the angle plate."""
    kit, plate = workshop.clamps, workshop.angle_plate
    if kit is None or plate is None or pose.tilt or pose.block or pose.stage == "bar":
        return []
    free = replace(pose, vise="", end_only=False)
    return [replace(free, straps=Straps(WHERE, kit, plate))]


def raised(pose: Pose, box: Box, workshop: Workshop) -> float:
    """Height of the parallels that bring the work's end above the plate, or as near as can be."""
    assert pose.straps is not None
    assert pose.straps.plate is not None
    low, high = lay(pose, box, 0.0).extent
    lacking = pose.straps.plate.high + PROUD - (high[2] - low[2])
    fit = [p for p in workshop.parallels if p >= lacking]
    return 0.0 if lacking <= 0 else min(fit, default=max(workshop.parallels, default=0.0))


def against(straps: Straps, lie: Lie, thickness: float) -> tuple[Body, ...]:
    """The plate, the straps across the work's front and the parallels under it, where it has any.

    thickness: of a parallel [mm].
    """
    kit, plate = straps.kit, straps.plate
    assert plate is not None
    low, high = lie.extent
    middle = (low[0] + high[0]) / 2
    limb = Body(
        kind=BodyKind.ANGLE_PLATE,
        low=(round(middle - plate.wide / 2, 4), 0.0, 0.0),
        high=(round(middle + plate.wide / 2, 4), plate.thick, plate.high),
        bears="front",
    )
    foot = low[2] + FOOT
    head = min(high[2] - BELOW_END, plate.high) - kit.wide
    heights = [foot, head] if head >= foot + kit.wide + APART else [(foot + max(foot, head)) / 2]
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


def fits(pose: Pose, box: Box, workshop: Workshop) -> None:
    """Raises UnplannableError where work of these extremes cannot stand so, saying why."""
    assert pose.straps is not None
    kit, plate = pose.straps.kit, pose.straps.plate
    assert plate is not None
    low, high = lay(pose, box, 0.0).extent
    wide, deep, tall = (high[i] - low[i] for i in range(3))
    least = FOOT + kit.wide + BELOW_END
    mill = workshop.machine(MachineKind.MILL)
    if wide + 2 * (BESIDE + NUT) > plate.wide:
        trouble = f"it is {plate.wide:g} mm wide, and studs stand on both sides of the work"
    elif deep + kit.tall > kit.highest + kit.thick:
        trouble = f"no stud reaches over work {deep:.1f} mm deep"
    elif tall < least:
        trouble = f"there is no room for a strap below the end; {least:g} mm is the least"
    elif tall > OVER * plate.high:
        trouble = f"it is {plate.high:g} mm high only"
    elif mill and mill.daylight and raised(pose, box, workshop) + tall + HEAD > mill.daylight:
        trouble = f"the mill has room for {mill.daylight:g} mm under its spindle"
    else:
        return
    size = f"{wide:.1f} x {deep:.1f} mm, {tall:.1f} mm tall"
    raise UnplannableError(f"the work, {size}, cannot stand against the angle plate: {trouble}")


def under_straps(pose: Pose, box: Box) -> tuple[Vec, ...]:
    """Points of the part, just inside its front under the straps and its back behind them."""
    assert pose.straps is not None
    lie = lay(pose, box, 0.0)
    low, high = lie.extent
    heights = [
        strap.low[2] + share * strap.size[2]
        for strap in against(pose.straps, lie, 1.0)
        if strap.kind is BodyKind.STRAP
        for share in (0.1, 0.5, 0.9)
    ]
    return tuple(
        lie.of_part((low[0] + share * (high[0] - low[0]), y, z))
        for share in (0.1, 0.3, 0.5, 0.7, 0.9)
        for y in (low[1] + 0.02, high[1] - 0.02)
        for z in heights
    )
