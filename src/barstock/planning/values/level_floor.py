"""The moves of a level floor, and the walls about it, by the end of an end mill."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from barstock.drawing.build import Vec
from barstock.handbook.speeds import roughing_depth
from barstock.machines.dial import Dial
from barstock.methods.cuts import LevelCut
from barstock.planning.tasks.pose import Lie, plus
from barstock.planning.tasks.task import Task
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.planning.values.cutting import (
    OVERRUN,
    Cutting,
    Zeros,
    against,
    rising,
    roughing,
    swap,
)
from barstock.route import Does, Side
from barstock.workshop.shop import Tool

FINE = 0.01  # steps of a readout under which a hair more depth is no harm [mm]; common practice
# A ridge's flat meets other floors at a knife's edge; a hair too high it leaves a burr there. So it
# goes to the step below rather than the nearest: by so much of a step deeper, then rounded.
DEEPER = 0.49


@dataclass(frozen=True)
class Plan:
    """A level cut on the table: the rectangle, its walls, floor and the top it starts from."""

    x: tuple[float, float]
    y: tuple[float, float]
    floor: float
    top: float
    wall_left: bool
    wall_right: bool
    wall_front: bool
    wall_back: bool


def plan_view(cut: LevelCut, size: Vec, lie: Lie) -> Plan:
    """The place where a level cut lies on the table; sides open to the air are carried on past the
    work.

    size: of the part [mm].
    """
    low, high = lie.extent
    x, y = [0.0, 0.0], [0.0, 0.0]
    walls: set[tuple[int, int]] = set()
    half = plus(plus(cut.origin, cut.run, cut.run_length / 2), cut.across, cut.across_length / 2)
    for name, way, length in (
        ("run", cut.run, cut.run_length),
        ("across", cut.across, cut.across_length),
    ):
        for sign in (-1, 1):
            middle = plus(half, way, sign * length / 2)
            outward = lie.pose.turn(way)
            axis = 0 if abs(outward[0]) > abs(outward[1]) else 1
            side = 1 if outward[axis] * sign > 0 else 0
            here = lie.at(middle)[axis]
            if name + ("+" if sign > 0 else "-") in cut.walls:
                walls.add((axis, side))
            elif _reaches_air(middle, plus((0.0, 0.0, 0.0), way, sign), size):
                here = (low, high)[side][axis]
            (x, y)[axis][side] = here
    return Plan(
        (x[0], x[1]),
        (y[0], y[1]),
        lie.at(cut.origin)[2],
        high[2],
        (0, 0) in walls,
        (0, 1) in walls,
        (1, 0) in walls,
        (1, 1) in walls,
    )


def _reaches_air(middle: Vec, outward: Vec, size: Vec) -> bool:
    """Does a side of the rectangle lie at the part's own side? (A ridge's peak does not.)"""
    axis = max(range(3), key=lambda i: abs(outward[i]))
    return middle[axis] > size[axis] - 0.01 if outward[axis] > 0 else middle[axis] < 0.01


def level(task: Task, c: LevelCut, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves that cut a level floor, layer by layer, then its walls."""
    p = plan_view(c, task.part.size, lie)
    if c.lean and not c.walls and dial.step("Z") <= FINE:
        p = replace(p, floor=p.floor - DEEPER * dial.step("Z"))
    out = Cutting(dial)
    radius = tool.diameter / 2
    runs_x = (p.x[1] - p.x[0]) >= (p.y[1] - p.y[0])
    sideways, endways = p.wall_front or p.wall_back, p.wall_left or p.wall_right
    if sideways != endways:
        runs_x = sideways  # along the wall, never towards it
    elif sideways and (p.wall_front and p.wall_back) != (p.wall_left and p.wall_right):
        runs_x = p.wall_front and p.wall_back
    along, walls_along = (
        (p.x, (p.wall_left, p.wall_right)) if runs_x else (p.y, (p.wall_front, p.wall_back))
    )
    across, walls_across = (
        (p.y, (p.wall_front, p.wall_back)) if runs_x else (p.x, (p.wall_left, p.wall_right))
    )
    exact = all(walls_across) and across[1] - across[0] - tool.diameter < 0.01
    leave = 0.0 if exact else WALL_CUT
    zero_along, zero_across = (zeros.x, zeros.y) if runs_x else (zeros.y, zeros.x)

    def lane(margin: float) -> list[float]:
        """Cutter-centre positions across, `margin` left on the walls."""
        low = across[0] + (radius + margin if walls_across[0] else 0.0)
        high = across[1] - (radius + margin if walls_across[1] else 0.0)
        covers = 0.98 * tool.diameter >= across[1] - across[0]
        if not any(walls_across):
            middle = (across[0] + across[1]) / 2
            if covers:
                return [middle]
            low, high = across[0] + radius * 0.6, across[1] - radius * 0.6
        elif not walls_across[0]:
            low = high if covers else min(across[0] + radius * 0.4, high)
        elif not walls_across[1]:
            high = low if covers else max(across[1] - radius * 0.4, low)
        if high - low < 0.001:
            return [(low + high) / 2]
        count = max(2, ceil((high - low) / (tool.diameter * 0.7)) + 1)
        return [low + (high - low) * i / (count - 1) for i in range(count)]

    def reach(margin: float) -> tuple[float, float]:
        """Cutter-centre positions along."""
        low = along[0] + (radius + margin if walls_along[0] else -radius - OVERRUN)
        high = along[1] - (radius + margin if walls_along[1] else -radius - OVERRUN)
        return (low, high) if low < high else ((low + high) / 2, (low + high) / 2)

    ends_open = [
        abs(end - extreme[0 if runs_x else 1]) < 0.01
        for end, extreme in zip(along, lie.extent, strict=True)
    ]
    lone = walls_across[0] != walls_across[1]

    def serpentine(does: Does, margin: float, z: float) -> None:
        low, high = reach(margin)
        if ends_open[0] != ends_open[1]:
            backwards = ends_open[1]  # in from the open end: the cutter may not plunge
        else:
            backwards = lone and not rising(int(runs_x), int(walls_across[1]))
        if backwards:
            low, high = high, low
        points: list[tuple[float, float]] = []
        for i, b in enumerate(lane(margin)):
            a0, a1 = (low, high) if i % 2 == 0 else (high, low)
            for a in (a0, a1):
                points.append(swap(a - zero_along, b - zero_across, runs_x))
        out.traverse(does, points, z - zeros.z)

    for z in roughing(p.top, p.floor, roughing_depth(task.part.material, tool.diameter)):
        serpentine(Does.ROUGH, leave, z)
    serpentine(Does.FLOOR, leave, p.floor)

    def finish(axis: int, index: int, at: float, run: tuple[float, float]) -> None:
        """The last cut along a wall at `at`, on the lesser (0) or greater (1) side of an axis."""
        points = [
            (x - zeros.x, y - zeros.y)
            for x, y in (swap(end, at, axis == 1) for end in against(run, axis, index))
        ]
        out.traverse(Does.WALL, points, p.floor - zeros.z, _SIDES[axis][index])

    for index, inward in ((0, radius), (1, -radius)) if leave else ():
        if walls_across[index]:
            finish(int(runs_x), index, across[index] + inward, reach(0.0))
        if walls_along[index]:
            ends = lane(0.0)
            finish(int(not runs_x), index, along[index] + inward, (ends[0], ends[-1]))
    return out


_SIDES: tuple[tuple[Side, Side], ...] = (("left", "right"), ("front", "back"))
"""The sides that a wall square to X or Y can be on, the lesser first."""
