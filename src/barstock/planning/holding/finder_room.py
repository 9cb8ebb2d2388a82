"""Where an edge finder has room to touch the work's left-hand end, from which X is read."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import FINDER_ROOM, IN_SIGHT
from barstock.planning.holding.cutter_runs import highest
from barstock.planning.holding.metal import removed_at
from barstock.planning.tasks.pose import Lie, corners
from barstock.planning.tasks.task import Task
from barstock.route import Body
from barstock.workshop.shop import Workshop

PROUD = IN_SIGHT + 0.2  # of the end above all that stands beside it [mm]; common practice
SKIN = 0.02  # into the end, where its metal is looked for [mm]
SHARES = (0.05, 0.25, 0.5, 0.75, 0.95)  # of the end, front to back, looked at likewise

Span = tuple[float, float]


def goes_between(opening: float, shop: Workshop) -> bool:
    """Does the finder go down between jaws so far open?"""
    return opening >= shop.finder + FINDER_ROOM


def end_there(lie: Lie, above: float, done: Sequence[Task]) -> bool:
    """Is any of the left-hand end still there just over a height on the table?"""
    (low, high), z = lie.extent, above + PROUD / 2
    spots = [
        lie.of_part((low[0] + SKIN, low[1] + share * (high[1] - low[1]), z)) for share in SHARES
    ]
    return any(not any(removed_at(t, p) for t in done) for p in spots)


def beside_bodies(lie: Lie, bodies: Sequence[Body], shop: Workshop) -> None:
    """Raises UnplannableError where bodies stand all along the work's left-hand end."""
    low, high = lie.extent
    top = max(z for x, _, z in map(lie.at, corners(lie.box)) if x < low[0] + SKIN)
    tip, free = shop.finder, [(low[1], high[1])]
    room = (tip + FINDER_ROOM) / 2
    for body in bodies:
        if highest(body, -tip, low[0]) <= top - IN_SIGHT:
            continue
        a, b = body.low[1] - room, body.high[1] + room
        cut: list[Span] = [(y, min(z, a)) for y, z in free] + [(max(y, b), z) for y, z in free]
        free = [(y, z) for y, z in cut if z >= y]
    if not free:
        raise UnplannableError(
            "no edge finder would have room at its left-hand end beside the straps"
        )
