"""What can be cut on work strapped down on the table: clear of straps and fence, within travel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from barstock.planning.holding.straps import table
from barstock.planning.tasks.pose import Lie
from barstock.planning.values import Cutting, Zeros
from barstock.route import Body, BodyKind, Move, Operation, Plunge, Traverse
from barstock.workshop.shop import Machine, MachineKind, Tool, Workshop

CLEAR = 1.0  # a cutter keeps so far from straps, parallels and fence [mm]; common practice
HOLDER = 20.0  # radius of a chuck or collet holder [mm]; common practice
LEAST_FENCE = 1.0  # of the work's side that the fence stands against [mm], or
LEAST_SHARE = 0.3  # a share of thin work's; common practice
SEATS = (BodyKind.FENCE, BodyKind.ANGLE_PLATE)
PRESSING = (BodyKind.STRAP, BodyKind.NUT)
UNDER = 0.3  # that the fence stays under a cutter [mm]; common practice


def in_the_way(values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, workshop: Workshop) -> str:
    """What these moves would run into on work strapped so, "" where nothing is."""
    straps, mill = lie.pose.straps, workshop.machine(MachineKind.MILL)
    assert straps is not None
    bodies, rest = table(straps, lie, workshop.parallel_thickness), lie.packing
    low, high = lie.extent
    spans = [[low[0]], [high[1]]]
    lowest = rest + min(LEAST_FENCE, LEAST_SHARE * (high[2] - low[2]))
    if straps.plate:
        lowest = straps.plate.high
        if mill and mill.daylight and high[2] + tool.reach > mill.daylight:
            return f"the spindle does not rise so high that {tool.name} goes over the work"
    for move in values.moves:
        radius = max(getattr(move, "wide", 0.0), tool.diameter) / 2
        for path, z in _paths(move, zeros, high[2]):
            for i in (0, 1):
                spans[i] += [path[0][i], path[1][i]]
            for body in bodies:
                near = _near(path, body, radius + CLEAR)
                if body.kind is BodyKind.PARALLEL and z < rest and near:
                    return "the cutter would go through the work into a parallel"
                if body.kind in SEATS and z < lowest + UNDER and near:
                    return f"the cutter would run into the {body.kind}"
                if body.kind not in PRESSING:
                    continue
                top, name = body.high[2], _named(body)
                if z < top and near:
                    return f"the cutter would run into {name}"
                above = ((tool.flute or tool.reach, tool.shank / 2), (tool.reach, HOLDER))
                if any(z + up < top and _near(path, body, r + CLEAR) for up, r in above):
                    return f"{tool.name} is too short to reach past {name}"
    return _beyond(spans, mill)


def _named(body: Body) -> str:
    return f"the strap over the {body.over}" if body.over else "a strap across the front"


def _paths(
    move: Move, zeros: Zeros, top: float
) -> Iterator[tuple[tuple[tuple[float, float], tuple[float, float]], float]]:
    """The straight runs of a move on the table, each with the height of the cutter's tip."""
    if isinstance(move, Plunge):
        at = (zeros.x + move.x, zeros.y + move.y)
        yield (at, at), (top if move.touch else zeros.z) + move.z
    elif isinstance(move, Traverse):
        for a, b in pairwise([(zeros.x + x, zeros.y + y) for x, y in move.points]):
            yield (a, b), zeros.z + move.z


def _near(path: tuple[Sequence[float], Sequence[float]], ground: Body, by: float) -> bool:
    """Does a run along a slide pass within so much of a body in plan? Of others, what it spans."""
    return all(
        min(path[0][i], path[1][i]) - by < ground.high[i]
        and max(path[0][i], path[1][i]) + by > ground.low[i]
        for i in (0, 1)
    )


def _beyond(spans: Sequence[Sequence[float]], mill: Machine | None) -> str:
    """Is the mill's travel too short to go from the stop or the fence to every cut?"""
    for name, span, axis in zip(
        "XY", spans, (mill.x, mill.y) if mill else (None, None), strict=True
    ):
        far = max(span) - min(span)
        if axis and far > axis.travel:
            return f"it asks for {far:.0f} mm of travel along {name}; the mill has {axis.travel:g}"
    return ""


def under_the_cuts(
    bodies: Sequence[Body], operations: Sequence[Operation], zeros: Zeros, top: float
) -> tuple[Body, ...]:
    """The fence set down under what passes over it; an angle plate stays. top: of the work [mm]."""
    found = []
    for body in bodies:
        if body.kind is BodyKind.FENCE:
            over = [
                z - UNDER
                for o in operations
                for move in o.moves
                for path, z in _paths(move, zeros, top)
                if _near(path, body, o.cutter.diameter / 2 + CLEAR)
            ]
            (x, y, high) = body.high
            body = body.model_copy(update={"high": (x, y, round(min([high, *over]), 4))})
        found.append(body)
    return tuple(found)
