"""The solid of a V-block and of its clamp, and thin layers on the sides of its V."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from math import sqrt

from barstock.drawing.build import Vec
from barstock.proving.placing import SKIN
from barstock.route import Body
from barstock.solids.shapes import Solid, box, prism

SIDE = 5.0  # thickness of a clamp's legs beside the block [mm], common practice
PAST = 1.0  # the room in the V is taken so far past the block's face and ends [mm]


@lru_cache(maxsize=32)
def block(body: Body, grown: float = 0.0) -> Solid:
    """The block less its V; grown: by how much its sides stand further out [mm]."""
    return box(body.low, body.high).cut(_room(body, grown))


@lru_cache(maxsize=32)
def clamp(body: Body) -> Solid:
    """The clamp over lying work, and its legs beside the block."""
    (a, front, foot), (b, back, top) = body.low, body.high
    over = box((a, front - SIDE, foot), (b, back + SIDE, top))
    return over.cut(box((a - PAST, front, foot - PAST), (b + PAST, back, body.at)))


def flanks(body: Body, jaw_top: float) -> Iterator[Solid]:
    """A thin layer on either side of the V, as high as the jaws where it stands."""
    axis, root = _root(body)
    half, deep = body.mouth / 2, sqrt(2.0) * SKIN
    for way in (-1, 1):
        corners = [(0.0, -deep), (0.0, deep), (way * half, half + deep), (way * half, half - deep)]
        if body.bears == "up":
            outline: list[Vec] = [(body.low[0], axis + a, root + d) for a, d in corners]
            yield prism(outline, (body.size[0], 0.0, 0.0))
        else:
            outline = [(axis + a, root + d, body.low[2]) for a, d in corners]
            yield prism(outline, (0.0, 0.0, min(body.high[2], jaw_top) - body.low[2]))


def _room(body: Body, grown: float) -> Solid:
    """The room in the V, up to past the block's face and ends."""
    axis, root = _root(body)
    out, deep = body.mouth / 2 + PAST, sqrt(2.0) * grown
    corners = [(0.0, deep), (out - deep, out), (deep - out, out)]
    if body.bears == "up":
        outline = [(body.low[0] - PAST, axis + a, root + d) for a, d in corners]
        return prism(outline, (body.size[0] + 2 * PAST, 0.0, 0.0))
    outline = [(axis + a, root + d, body.low[2] - PAST) for a, d in corners]
    return prism(outline, (0.0, 0.0, body.size[2] + 2 * PAST))


def _root(body: Body) -> tuple[float, float]:
    """Where the sides of the V meet: across the block, and into it."""
    if body.bears == "up":
        return body.middle[1], body.high[2] - body.mouth / 2
    return body.middle[0], body.high[1] - body.mouth / 2
