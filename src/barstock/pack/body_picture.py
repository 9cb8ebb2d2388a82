"""The bodies that hold work, as they are drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from barstock.drawing.build import Vec
from barstock.proving.holding.v_block_solid import block, clamp
from barstock.proving.placing import tilted
from barstock.route import Body, BodyKind
from barstock.solids.shapes import Solid, box, cylinder

FOOT = 0.4  # of its height that an angle plate's foot is shown
HEEL = 12.0  # the packing under a strap's heel, along it [mm]
NUT, STUD = 0.45, 0.2  # radius of a nut and of its stud, as shares of the room they take
UP: Vec = (0.0, 0.0, 1.0)
BACK: Vec = (0.0, 1.0, 0.0)


@dataclass(frozen=True)
class Shown:
    """A solid in a picture. of: what it is of, such as "work", "fixed jaw" or a body's kind."""

    of: str
    solid: Solid


def shown(body: Body, top: float, table: float = 0.0) -> Iterator[Shown]:
    """A body as it is drawn: as its corners say, but for those that are of another shape, and
    leaning as it does.

    top: of the work; table: of what all stands on [mm].
    """
    if body.kind is BodyKind.STRAP:
        drawn = _strap(body, table)
    elif body.kind in SHAPES:
        drawn = SHAPES[body.kind](body, top)
    else:
        drawn = iter([Shown(body.name, box(body.low, body.high))])
    for one in drawn:
        yield Shown(one.of, one.solid.moved(tilted(body.lean))) if body.lean else one


def _bed(body: Body, top: float) -> Iterator[Shown]:
    yield Shown("bed", box(body.low, body.high))


def _laid(body: Body, top: float) -> Iterator[Shown]:
    yield Shown("parallels", box(body.low, body.high))


def _v_block(body: Body, top: float) -> Iterator[Shown]:
    yield Shown(body.kind, block(body))


def _clamp(body: Body, top: float) -> Iterator[Shown]:
    yield Shown(body.kind, clamp(body))


def _screw(body: Body, top: float) -> Iterator[Shown]:
    """Its head, on the work; one from the front, all of it."""
    x, y, z = body.middle
    if body.bears == "back":
        yield Shown(body.kind, cylinder((x, body.low[1], z), BACK, body.diameter / 2, body.size[1]))
        return
    tall = body.high[2] - body.at
    yield Shown(body.kind, cylinder((x, y, top), UP, body.size[0] / 2, tall))


def _plate(body: Body, top: float) -> Iterator[Shown]:
    """The limb, and the foot away from the work."""
    (x, _, _), (x1, y1, z1) = body.low, body.high
    yield Shown(body.kind, box(body.low, body.high))
    yield Shown("bed", box((x, y1, 0.0), (x1, y1 + FOOT * z1, y1)))


def _strap(body: Body, table: float) -> Iterator[Shown]:
    """The strap, and the packing under its heel where it lies over the work."""
    yield Shown(body.kind, box(body.low, body.high))
    (x, y, z), (x1, y1, _) = body.low, body.high
    heels = {
        "left": ((x, y), (x + HEEL, y1)),
        "right": ((x1 - HEEL, y), (x1, y1)),
        "front": ((x, y), (x1, y + HEEL)),
        "back": ((x, y1 - HEEL), (x1, y1)),
    }
    if body.over:
        low, high = heels[body.over]
        yield Shown("heel", box((*low, table), (*high, z)))


def _nut(body: Body, top: float) -> Iterator[Shown]:
    """A nut on what it presses, and its stud."""
    (x, y, z), (wide, deep, tall) = body.middle, body.size
    if body.bears == "down":
        yield Shown("screw", cylinder((x, y, body.low[2]), UP, STUD * wide, tall))
        thick = 0.6 * (body.high[2] - body.at)
        yield Shown("screw", cylinder((x, y, body.at), UP, NUT * wide, thick))
    else:
        front = body.low[1]
        yield Shown("screw", cylinder((x, front, z), BACK, STUD * wide, deep))
        thick = 0.6 * (body.at - front)
        yield Shown("screw", cylinder((x, body.at - thick, z), BACK, NUT * wide, thick))


SHAPES: dict[BodyKind, Callable[[Body, float], Iterator[Shown]]] = {
    BodyKind.PARALLEL: _laid,
    BodyKind.BOARD: _laid,
    BodyKind.V_BLOCK: _v_block,
    BodyKind.CLAMP: _clamp,
    BodyKind.SCREW: _screw,
    BodyKind.ANGLE_PLATE: _plate,
    BodyKind.NUT: _nut,
    BodyKind.TILTING_TABLE: _bed,
}
"""Those that are not drawn as plain blocks."""
