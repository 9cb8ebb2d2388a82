"""Can an edge finder touch what a zero is found on: is there metal, and room for its tip?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Vec
from barstock.handbook.holding_limits import FINDER_ROOM, IN_SIGHT
from barstock.proving.held_work import Held
from barstock.proving.holding.obstacles import CLEAR, Obstacle, Shaped, Upright
from barstock.proving.placing import FAR, SKIN
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Spot
from barstock.quantities import Length
from barstock.route import Zero
from barstock.solids.shapes import box, cylinder

UP = (0.0, 0.0, 1.0)
TALL = 50.0  # of the finder looked at above its tip [mm], common practice
ENTERED = 0.5  # of an obstacle by the finder's tip is a touch, by rounding [mm3]
ENDS = {"left": (0, 0), "right": (0, 1), "front": (1, 0), "back": (1, 1)}
"""The axis of the table that a side is square to, and 0 where it is the lesser."""
TRIED = (0.5, 0.0, 1.0, 0.25, 0.75)  # of a span that is looked at where a solid stands beside it
Span = tuple[float, float]


@dataclass(frozen=True)
class _Footprint:
    """What stands about the work, as a rectangle in plan and its top [mm]."""

    low: Spot
    high: Spot
    top: float
    name: str


@dataclass(frozen=True)
class Edge:
    """What is touched: its place along the axis it is square to, its extremes along the other, and
    its top and bottom [mm]."""

    at: float
    low: float
    high: float
    top: float
    bottom: float


def unseen(held: Held, obstacles: Sequence[Obstacle]) -> Iterator[Violation]:
    """The edges that zeros are found on and no finder can touch."""
    for axis, zero in enumerate((held.setup.zero_x, held.setup.zero_y)):
        both = [name for name, (across, _) in ENDS.items() if across == axis]
        for name in both if zero.find == "centre" else [n for n in ENDS if n == zero.find]:
            edges = list(_edges(held, zero, name))
            met = [_hidden(edge, name, zero.finder, obstacles) for edge in edges]
            if not edges or all(met):
                what = f"the {zero.on}'s {name} side" if zero.on else f"the {name} edge"
                by = next(iter(filter(None, met)), "")
                where = "between the jaws" if by.endswith("jaw") else f"by {by}" if by else "there"
                yield Violation(
                    f"{what} the {'XY'[axis]} zero is found on is hidden {where}: no finder "
                    f"{Length(zero.finder):g} thick can touch it",
                    "raise the work, or let that side stand out of what holds it",
                )


def _edges(held: Held, zero: Zero, name: str) -> Iterator[Edge]:
    """The edges on a side of the work, or of a body, that stand furthest out."""
    axis, end = ENDS[name]
    if zero.on is not None:
        for body in held.setup.holding.of(zero.on):
            corners = (body.low, body.high)
            yield Edge(
                corners[end][axis],
                body.low[1 - axis],
                body.high[1 - axis],
                body.high[2],
                body.low[2],
            )
        return
    at = held.work.bounds[end][axis]
    low, high = [-FAR] * 3, [FAR] * 3
    low[axis], high[axis] = at - SKIN, at + SKIN
    skin = held.work.common(box(_vec(low), _vec(high)))
    for lump in skin.lumps():
        (a, b) = lump.bounds
        yield Edge(at, a[1 - axis], b[1 - axis], b[2], a[2])


def _hidden(edge: Edge, name: str, tip: float, obstacles: Sequence[Obstacle]) -> str:
    """By what an edge is hidden all along it, "" where a finder has room somewhere."""
    axis, end = ENDS[name]
    out = 1.0 if end else -1.0
    beside = sorted((edge.at + out * CLEAR, edge.at + out * max(tip, 2 * CLEAR)))
    depth = max(edge.bottom, edge.top - IN_SIGHT)  # sheet is touched by all of its edge
    room = (tip + FINDER_ROOM) / 2
    span = (edge.low, edge.high)
    flat = [_Footprint(one.low, one.high, one.top, one.name) for one in obstacles
            if isinstance(one, Upright) and not one.rounded]  # fmt: skip
    solid = [one for one in obstacles if isinstance(one, Shaped)]
    boxes = [_Footprint(o.solid.bounds[0][:2], o.solid.bounds[1][:2], o.top, o.name) for o in solid]

    def left_free(by: Sequence[_Footprint]) -> list[Span]:
        free = [span]
        for one in by:
            beyond = one.low[axis] >= beside[1] or one.high[axis] <= beside[0]
            if not beyond and one.top > depth + CLEAR:
                low, high = one.low[1 - axis] - room, one.high[1 - axis] + room
                cut = [(a, min(b, low)) for a, b in free] + [(max(a, high), b) for a, b in free]
                free = [(a, b) for a, b in cut if b >= a - 1e-9]
                met.append(one.name)
        return free

    met: list[str] = []
    if left_free([*flat, *boxes]):
        return ""
    free, middle = left_free(flat), edge.at + out * tip / 2
    for a, b in free:
        for share in TRIED:
            there = a + share * (b - a)
            spot = (middle, there) if axis == 0 else (there, middle)
            finder = cylinder((*spot, depth), UP, max(tip / 2 - CLEAR, CLEAR), TALL)
            if all(finder.common(one.solid).volume <= ENTERED for one in solid):
                return ""
    return met[-1] if met else "it"


def _vec(v: Sequence[float]) -> Vec:
    return (v[0], v[1], v[2])
