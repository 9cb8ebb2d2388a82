"""What holds the work in a picture: jaws, parallels, bed and stop, broken off near the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from barstock.drawing.build import Vec
from barstock.pack import v_block_picture
from barstock.pack.held_words import LEAST_STOP
from barstock.route import Across, Block, Ground, Holding, Strap, Table
from barstock.solids.shapes import Solid, box, cylinder, prism
from barstock.solids.skin import Patch

Span = tuple[float, float]

TABLE = 4.0  # of the table's thickness shown [mm]
FOOT = 0.4  # of its height that an angle plate's foot is shown
LOW = 5.0  # of the stop beside work that stands upright [mm]
HEEL = 12.0  # the packing under a strap's heel, along it [mm]


@dataclass(frozen=True)
class Body:
    """A solid in a picture.

    of: "work", "fixed jaw", "moving jaw", "parallels", "bed", "stop", "block", "screw", "fence",
    "angle plate", "strap", "heel", "V-block", "clamp".
    """

    of: str
    solid: Solid


@dataclass(frozen=True)
class Vise:
    """The pieces of the vise that are drawn, and where the picture is broken off below [mm]."""

    bodies: tuple[Body, ...]
    floor: float


def vise(holding: Holding, low: Vec, high: Vec, opening: float, skin: Sequence[Patch]) -> Vise:
    """The vise round a work with the bounds `low`, `high` and the faces `skin`, in the table frame.

    opening: between the jaws [mm]. Nothing where the work is not held between jaws on a bed.
    """
    if holding.table is not None:
        return Vise(tuple(_table(holding.table, low, high)), -TABLE)
    if holding.vee is not None:
        held = [Body(of, solid) for of, solid in v_block_picture.bodies(holding, holding.vee)]
        return Vise(
            (*held, *_stop(holding, low, high, skin)), v_block_picture.floor_of(holding.vee)
        )
    if holding.jaw_top <= 0:
        return Vise((), low[2])
    if holding.block is not None:
        return Vise(tuple(_block(holding.block, low[2], high[2])), holding.block.low[2])
    tall = high[2] - low[2]
    floor = holding.packing - max(7.0, 0.35 * tall)
    floor = 0.0 if floor < 5.0 else floor
    beside = max(5.0, 0.15 * (high[0] - low[0]))
    left = max(holding.jaws_from, low[0] - beside)
    right = min(holding.jaws_to, high[0] + beside)
    cut = {
        "left": left > holding.jaws_from + 1e-6,
        "right": right < holding.jaws_to - 1e-6,
        "below": floor > 0,
    }
    thick = max(5.0, min(12.0, 0.35 * opening))
    upright = (floor, holding.jaw_top)

    bodies = [
        Body("fixed jaw", broken((left, right), (0.0, thick), upright, cut)),
        Body("moving jaw", broken((left, right), (-opening - thick, -opening), upright, cut)),
    ]
    if floor <= 0:
        bed = box((left, -opening - thick, -3.0), (right, thick, 0.0))
        bodies.append(Body("bed", bed))
    if holding.packing > 0 and not holding.parallels_out:
        wide = min(holding.parallel_thickness, opening / 2)
        along, level, below = (left + 1, right - 1), (floor, holding.packing), {"below": floor > 0}
        bodies.append(Body("parallels", broken(along, (-wide, 0.0), level, below)))
        if opening > 2 * wide:
            front = broken(along, (-opening, wide - opening), level, below)
            bodies.append(Body("parallels", front))
    bodies += _stop(holding, low, high, skin)
    return Vise(tuple(bodies), floor)


def _block(block: Block, floor: float, top: float) -> Iterator[Body]:
    """The fixture block and the heads of its screws on work between two heights."""
    yield Body("block", box(block.low, (block.high[0], block.high[1], floor)))
    for screw in block.screws:
        seat = (screw.x, screw.y, top)
        yield Body("screw", cylinder(seat, (0.0, 0.0, 1.0), screw.head / 2, screw.tall))


def _table(table: Table, low: Vec, high: Vec) -> Iterator[Body]:
    """The table, and all that stands on it round work with these bounds."""
    rest, seat = low[2], "angle plate" if table.across else "fence"
    grounds = [*table.under, table.fence, *table.straps, *table.across]
    a, b = (
        tuple(pick(edge) for edge in zip(*ends, strict=True))
        for pick, ends in (
            (min, [*(g.low for g in grounds), low[:2]]),
            (max, [*(g.high for g in grounds), high[:2]]),
        )
    )
    yield Body("bed", box((a[0] - 5.0, a[1] - 5.0, -TABLE), (b[0] + 5.0, b[1] + 5.0, 0.0)))
    for under in table.under:
        yield Body("parallels", _upright(under, 0.0, rest))
    yield Body(seat, _upright(table.fence, 0.0, table.fence_top))
    if table.across:  # the plate's foot, away from the work
        (x0, _), (x1, y1) = table.fence.low, table.fence.high
        yield Body("bed", box((x0, y1, 0.0), (x1, y1 + FOOT * table.fence_top, y1)))
    for across in table.across:
        yield Body("strap", _upright(across, across.bottom, across.top))
        for nut in across.nuts:
            yield from _across_nut(nut, across)
    stop = rest + LOW if table.across else max(0.5 * rest, min(table.fence_top, high[2] - 1.0))
    at = low[1] + min(15.0, 0.2 * (high[1] - low[1]))
    yield Body("stop", box((low[0] - 12.0, at - 5.0, 0.0), (low[0], at + 5.0, stop)))
    for strap in table.straps:
        yield from _strap(strap)


def _strap(strap: Strap) -> Iterator[Body]:
    """A strap, the packing under its heel, its stud with the nut on it."""
    yield Body("strap", _upright(strap, strap.bears, strap.top))
    (x0, y0), (x1, y1) = strap.low, strap.high
    heel = {
        "left": ((x0, y0), (x0 + HEEL, y1)),
        "right": ((x1 - HEEL, y0), (x1, y1)),
        "front": ((x0, y0), (x1, y0 + HEEL)),
        "back": ((x0, y1 - HEEL), (x1, y1)),
    }[strap.over]
    yield Body("heel", box((*heel[0], 0.0), (*heel[1], strap.bears)))
    (x0, y0), (x1, y1) = strap.nut.low, strap.nut.high
    at, wide = ((x0 + x1) / 2, (y0 + y1) / 2), x1 - x0
    up = (0.0, 0.0, 1.0)
    yield Body("screw", cylinder((*at, 0.0), up, 0.2 * wide, strap.nut_top))
    nut = 0.6 * (strap.nut_top - strap.top)
    yield Body("screw", cylinder((*at, strap.top), up, 0.45 * wide, nut))


def _across_nut(nut: Ground, across: Across) -> Iterator[Body]:
    """A stud from the plate through the strap, and the nut on it."""
    (x0, y0), (x1, y1) = nut.low, nut.high
    at, wide = ((x0 + x1) / 2, (across.bottom + across.top) / 2), x1 - x0
    back = (0.0, 1.0, 0.0)
    yield Body("screw", cylinder((at[0], y0, at[1]), back, 0.2 * wide, y1 - y0))
    thick = 0.6 * (across.low[1] - y0)
    yield Body("screw", cylinder((at[0], across.low[1] - thick, at[1]), back, 0.45 * wide, thick))


def _upright(ground: Ground, low: float, high: float) -> Solid:
    return box((*ground.low, low), (*ground.high, high))


def broken(x: Span, y: Span, z: Span, cut: dict[str, bool]) -> Solid:
    """A block whose cut sides ("left", "right", "below") are ragged."""
    ragged = min(1.2, 0.05 * (z[1] - z[0]) + 0.4)
    corners = [(x[0], z[1]), (x[0], z[0]), (x[1], z[0]), (x[1], z[1])]
    names = ("left", "below", "right", "top")
    outline: list[Vec] = []
    for i, name in enumerate(names):
        (ax, az), (bx, bz) = corners[i], corners[(i + 1) % 4]
        outline.append((ax, y[0], az))
        if not cut.get(name):
            continue
        n = max(3, round((abs(bx - ax) + abs(bz - az)) / 7))
        out = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "below": (0.0, -1.0)}[name]
        for j in range(1, n):
            k, d = j / n, ragged * (0.5 + 0.5 * ((j * 7) % 5) / 4) * (-1) ** j
            outline.append((ax + k * (bx - ax) + d * out[0], y[0], az + k * (bz - az) + d * out[1]))
    return prism(outline, (0.0, y[1] - y[0], 0.0))


def _stop(holding: Holding, low: Vec, high: Vec, skin: Sequence[Patch]) -> Iterator[Body]:
    """A rod that ends where the work touches it."""
    if holding.stop == "none" or not skin:
        return
    sign = -1.0 if holding.stop == "left" else 1.0
    at = touched(skin, sign)
    radius = max(1.0, min(3.0, 0.05 * (high[2] - low[2] + high[1] - low[1])))
    if holding.stop_below is not None:
        room = holding.stop_below - low[2]
        if room < LEAST_STOP:  # taken away once the work is gripped
            return
        radius = min(radius, room / 2)
        at = (at[0], at[1], min(at[2], holding.stop_below - radius))
    yield Body("stop", cylinder(at, (sign, 0.0, 0.0), radius, 6 * radius))


def touched(skin: Sequence[Patch], sign: float) -> Vec:
    """Where a stop on the left (-1) or right (+1) touches: on a face, else an edge, else a corner.

    skin: the work's faces, not empty.
    """
    triangles = np.concatenate([patch.triangles for patch in skin])
    x = sign * triangles[:, :, 0]
    on = x > x.max() - 1e-3
    most = on.sum(axis=1).max()
    best = triangles[on.sum(axis=1) == most]
    kept = on[on.sum(axis=1) == most]
    # of several, the one that reaches furthest
    spans = [
        np.ptp(corners[there], axis=0).sum() for corners, there in zip(best, kept, strict=True)
    ]
    i = int(np.argmax(spans))
    spot = best[i][kept[i]].mean(axis=0)
    return (float(spot[0]), float(spot[1]), float(spot[2]))
