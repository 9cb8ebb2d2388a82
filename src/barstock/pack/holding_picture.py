"""What holds the work in a picture: jaws, parallels, bed and stop, broken off near the work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from barstock.drawing.build import Vec
from barstock.pack.body_picture import Shown, shown
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid, box, cylinder, prism
from barstock.solids.skin import Patch
from barstock.words.holding.way_in_words import LEAST_STOP

Span = tuple[float, float]

TABLE = 4.0  # of the table's thickness shown [mm]
BESIDE_WORK = 0.4  # of its height that a stop on the table is drawn beside, if it may be
JAW = 10.0  # of a jaw's thickness drawn, where it grips a block [mm]
BESIDE = 6.0  # of the jaws drawn beside that block [mm]
UNDER = 4.0  # drawn under the block where it stands on parallels [mm]


@dataclass(frozen=True)
class Vise:
    """The pieces of the vise that are drawn, and where the picture is broken off below [mm]."""

    bodies: tuple[Shown, ...]
    floor: float


def vise(holding: Holding, low: Vec, high: Vec, opening: float, skin: Sequence[Patch]) -> Vise:
    """The vise round a work with the bounds `low`, `high` and the faces `skin`, in the table frame.

    opening: between the jaws [mm]. Nothing where the work is not held between jaws on a bed.
    """
    tilted = holding.of(BodyKind.TILTING_TABLE)
    table = tilted[0].high[2] if tilted else 0.0
    drawn = [one for body in holding.bodies for one in shown(body, high[2], table)]
    if tilted:
        floor = min(one.solid.bounds[0][2] for one in drawn)
        return Vise((*drawn, *_stop(holding, low, high, skin)), floor)
    if holding.jaw_top <= 0:
        laid = _table(holding, low, high) if drawn else ()
        return Vise((*laid, *drawn), -TABLE if drawn else low[2])
    if drawn:
        block = min(holding.bodies, key=lambda body: body.low[2])
        jaws = _gripping(block, holding)
        return Vise((*jaws, *drawn, *_stop(holding, low, high, skin)), block.low[2] - UNDER)
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
        Shown("fixed jaw", broken((left, right), (0.0, thick), upright, cut)),
        Shown("moving jaw", broken((left, right), (-opening - thick, -opening), upright, cut)),
    ]
    if floor <= 0:
        bed = box((left, -opening - thick, -3.0), (right, thick, 0.0))
        bodies.append(Shown("bed", bed))
    if holding.packing > 0 and not holding.parallels_out:
        wide = min(holding.parallel_thickness, opening / 2)
        along, level, below = (left + 1, right - 1), (floor, holding.packing), {"below": floor > 0}
        bodies.append(Shown("parallels", broken(along, (-wide, 0.0), level, below)))
        if opening > 2 * wide:
            front = broken(along, (-opening, wide - opening), level, below)
            bodies.append(Shown("parallels", front))
    bodies += _stop(holding, low, high, skin)
    return Vise(tuple(bodies), floor)


def _gripping(block: Body, holding: Holding) -> Iterator[Shown]:
    """The jaws on a block that work lies on or in, or on it and work that it presses to the back;
    parallels or the bed under it."""
    left = max(holding.jaws_from, block.low[0] - BESIDE)
    right = min(holding.jaws_to, block.high[0] + BESIDE)
    floor, front = block.low[2] - UNDER, block.low[1]
    carries = block.bears == "up"
    back = block.high[1] if carries else 0.0
    yield Shown("fixed jaw", box((left, back, floor), (right, back + JAW, holding.jaw_top)))
    yield Shown("moving jaw", box((left, front - JAW, floor), (right, front, holding.jaw_top)))
    if floor < 0:
        yield Shown("bed", box((left, front - JAW, floor), (right, back + JAW, 0.0)))
        return
    wide, rest = holding.parallel_thickness, sum(holding.parallels)
    for y in (back, front + wide) if carries else (back,):
        yield Shown("parallels", box((left + 1, y - wide, floor), (right - 1, y, rest)))


def _table(holding: Holding, low: Vec, high: Vec) -> Iterator[Shown]:
    """The table under work with these bounds and all that holds it there, and the stop on it."""
    corners = [low, high, *(c for body in holding.bodies for c in (body.low, body.high)
                            if body.kind is not BodyKind.NUT)]  # fmt: skip
    a, b = ([pick(c[i] for c in corners) for i in (0, 1)] for pick in (min, max))
    yield Shown("bed", box((a[0] - 5.0, a[1] - 5.0, -TABLE), (b[0] + 5.0, b[1] + 5.0, 0.0)))
    if holding.stop == "none" or any(body.bears == "right" for body in holding.bodies):
        return  # there is none, or a wall is what it is against
    top = low[2] + BESIDE_WORK * (high[2] - low[2])
    top = top if holding.stop_below is None else min(top, holding.stop_below)
    at = low[1] + min(15.0, 0.2 * (high[1] - low[1]))
    yield Shown("stop", box((low[0] - 12.0, at - 5.0, 0.0), (low[0], at + 5.0, top)))


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


def _stop(holding: Holding, low: Vec, high: Vec, skin: Sequence[Patch]) -> Iterator[Shown]:
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
    yield Shown("stop", cylinder(at, (sign, 0.0, 0.0), radius, 6 * radius))


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
