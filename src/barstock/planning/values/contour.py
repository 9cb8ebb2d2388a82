"""The moves of an outline by the side of an end mill: straights fed along, the rest
place by place.
"""

from __future__ import annotations

from math import ceil

from barstock.machines.dial import Dial
from barstock.planning.tasks.outline_path import Lane, Stepped, go_round, traced
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Contour, Task
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.planning.values.cutting import BELOW, Cutting, Zeros
from barstock.route import Does, Plunge
from barstock.workshop.shop import Tool

DEEP = (
    1.0  # of one cut by the side, in cutter diameters, where a millimetre is left; common practice
)


def contour(task: Task, job: Contour, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """The moves all round, what is kept on the cutter's left, so that it is fed against its
    turning.
    """
    out = Cutting(dial)
    low, high = lie.extent
    floor = low[2] - BELOW
    ways = go_round(
        traced(job.cut, lie), tool.diameter / 2, WALL_CUT, ((low[0], low[1]), (high[0], high[1]))
    )
    levels = ceil((high[2] - floor) / (DEEP * tool.diameter))
    depths = [high[2] - (high[2] - floor) * (i + 1) / levels for i in range(levels)]
    for piece in ways.pieces:
        if isinstance(piece, Lane):
            _lane(out, piece, depths, zeros)
        else:
            _stepped(out, piece, floor, zeros)
    return out


def _lane(out: Cutting, lane: Lane, depths: list[float], zeros: Zeros) -> None:
    for does, run, heights in (
        (Does.ROUGH_SIDE, lane.rough, depths),
        (Does.SIDE, lane.fine, depths[-1:]),
    ):
        for z in heights:
            points = [(x - zeros.x, y - zeros.y) for x, y in run]
            out.traverse(does, points, z - zeros.z, point=lane.number)


def _stepped(out: Cutting, piece: Stepped, floor: float, zeros: Zeros) -> None:
    dial = out.dial
    for x, y in piece.places:
        move = Plunge(
            does=Does.ARC if piece.arc else Does.STRAIGHT,
            point=piece.number,
            x=dial.snap("X", x - zeros.x),
            y=dial.snap("Y", y - zeros.y),
            z=dial.snap("Z", floor - zeros.z),
        )
        out.moves.append(move)
        out.approaches += 1
        out.travel += 4.0
