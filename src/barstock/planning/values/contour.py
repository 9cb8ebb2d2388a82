"""An outline by the side of an end mill: straights fed along, the rest place by place."""

from __future__ import annotations

from math import ceil

from barstock.planning.tasks.outline_path import Lane, Stepped, go_round, traced
from barstock.planning.tasks.pose import Lie
from barstock.planning.tasks.task import Contour, Task
from barstock.planning.tasks.tooling import WALL_CUT
from barstock.planning.values.cutting import BELOW, Cutting, Zeros
from barstock.planning.values.dial import Dial
from barstock.route import Plunge
from barstock.workshop.shop import Tool

DEEP = (
    1.0  # of one cut by the side, in cutter diameters, where a millimetre is left; common practice
)


def contour(task: Task, job: Contour, tool: Tool, lie: Lie, zeros: Zeros, dial: Dial) -> Cutting:
    """All round, what is kept on the cutter's left, so that it is fed against its turning."""
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
    dial = out.dial
    runs_x = abs(lane.fine[0][1] - lane.fine[1][1]) < 1e-6
    along, across = (0, 1) if runs_x else (1, 0)
    names = ("X", "Y")
    zero = (zeros.x, zeros.y)
    for words, run, heights in (
        ("rough", lane.rough, depths),
        ("to the line", lane.fine, depths[-1:]),
    ):
        a, b = run
        for z in heights:
            out.traverse([(a[0] - zeros.x, a[1] - zeros.y), (b[0] - zeros.x, b[1] - zeros.y)],
                         z - zeros.z)  # fmt: skip
        out.step(
            f"Side from point {lane.number}, {words}",
            **{
                names[across]: dial.reading(names[across], a[across] - zero[across]),
                f"{names[along]} from – to": dial.span(
                    names[along], a[along] - zero[along], b[along] - zero[along]
                ),
                "Z": dial.several("Z", [z - zeros.z for z in heights]),
            },
        )


def _stepped(out: Cutting, piece: Stepped, floor: float, zeros: Zeros) -> None:
    dial = out.dial
    name = f"{'Arc' if piece.arc else 'Side'} from point {piece.number}"
    count = len(piece.places)
    for n, (x, y) in enumerate(piece.places, 1):
        move = Plunge(
            x=dial.snap("X", x - zeros.x),
            y=dial.snap("Y", y - zeros.y),
            z=dial.snap("Z", floor - zeros.z),
        )
        out.moves.append(move)
        out.approaches += 1
        out.travel += 4.0
        out.step(
            f"{name}, down at place {n} of {count}" if count > 1 else f"{name}, straight down",
            X=dial.reading("X", x - zeros.x),
            Y=dial.reading("Y", y - zeros.y),
            Z=dial.reading("Z", floor - zeros.z),
        )
