"""The moves of a slitting saw that lies level and goes into the side of the work."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, sqrt

from barstock.drawing.build import Vec
from barstock.handbook.slitting_saws import PASS
from barstock.machines.dial import Dial
from barstock.methods.cuts import LevelCut
from barstock.planning.tasks.pose import Lie, plus
from barstock.planning.tasks.task import Slit, Task
from barstock.planning.values.cutting import OVERRUN, Cutting, Zeros, against
from barstock.route import Does
from barstock.workshop.shop import Tool

SAME = 1e-6
AS_WIDE = 0.005  # a saw no thinner than that is as thick as the slot is wide [mm]


@dataclass(frozen=True)
class SlotView:
    """A narrow slot on the table that opens to a side of the work.

    axis: of the table that the side is square to; out: 1 where it looks to greater readings.
    face, floor: their places along it; ends: of the run along the other; walls: the heights of its
    lower and its upper wall [mm].
    """

    axis: int
    out: int
    face: float
    floor: float
    ends: tuple[float, float]
    walls: tuple[float, float]

    @property
    def deep(self) -> float:
        """Its depth under the side as the work now is [mm]."""
        return abs(self.face - self.floor)


def slot_view(cut: LevelCut, lie: Lie) -> SlotView:
    """The place where a slot that opens to a side of the work lies on the table."""
    looks = lie.pose.turn(cut.normal)
    axis = 0 if abs(looks[0]) > abs(looks[1]) else 1
    out = 1 if looks[axis] > 0 else -1
    low, high = lie.extent
    far: Vec = plus(cut.origin, cut.across, cut.across_length)
    walls = sorted((lie.at(cut.origin)[2], lie.at(far)[2]))
    return SlotView(
        axis,
        out,
        (high if out > 0 else low)[axis],
        lie.at(cut.origin)[axis],
        (low[1 - axis], high[1 - axis]),
        (walls[0], walls[1]),
    )


def slit(task: Task, job: Slit, saw: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves that saw a slot, a little deeper at each pass, then beside it where it is wider.

    The saw turns clockwise from above and is fed against that, the work at its left hand.
    """
    view, radius = slot_view(job.cut, lie), saw.diameter / 2
    out = Cutting(dial)
    count = max(1, ceil(view.deep / (PASS * saw.flute) - SAME))
    for height in _heights(view, saw):
        for n in range(1, count + 1):
            deep = view.deep * n / count
            # over so much of the run, on either side of the axis, the saw is in the work
            chord = sqrt(radius**2 - (radius - deep) ** 2)
            ends = (view.ends[0] - chord - OVERRUN, view.ends[1] + chord + OVERRUN)
            across = view.face + view.out * (radius - deep)
            points = []
            for along in against(ends, view.axis, int(view.out < 0)):
                x, y = (across, along) if view.axis == 0 else (along, across)
                points.append((x - zeros.x, y - zeros.y))
            out.traverse(Does.SLIT, points, height - zeros.z)
    return out


def _heights(view: SlotView, saw: Tool) -> list[float]:
    """The heights of the saw's underside: one where it is as thick as the slot is wide, else from
    wall to wall."""
    low, high = view.walls
    if saw.flute >= high - low - AS_WIDE:
        return [(low + high - saw.flute) / 2]
    count = ceil((high - low) / saw.flute - SAME)
    return [low + (high - low - saw.flute) * n / (count - 1) for n in range(count)]
