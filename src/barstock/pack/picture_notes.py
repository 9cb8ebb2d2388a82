"""The notes written on a picture: where zero is, what touches the jaw and the stop, the tilt."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Vec
from barstock.pack.body_picture import Shown
from barstock.proving.placing import Datum, looking
from barstock.quantities import Unit
from barstock.route import BodyKind, Holding, Setup
from barstock.solids.shapes import Solid
from barstock.words.size_figures import laid

PLACES = (0.6, 0.4, 0.8, 0.2, 0.95, 0.05)
"""Where along a thing its leader may end, as shares of its length."""
UNTOLD = (BodyKind.NUT, BodyKind.SCREW, BodyKind.PARALLEL, BodyKind.BOARD)
"""What is seen for what it is."""


@dataclass(frozen=True)
class Note:
    """Words with a leader to the first of `spots` (table frame) that the eye can see.

    glass: the spots lie on a body one looks through; the first with nothing behind is taken.
    """

    words: tuple[str, ...]
    spots: tuple[Vec, ...]
    glass: bool = False


def notes(setup: Setup, work: Solid, zero: Datum, bodies: Sequence[Shown]) -> Iterator[Note]:
    """The notes on a setup's picture; `work` and the vise's `bodies` in the table frame."""
    zeros = zip("XYZ", (setup.zero_x, setup.zero_y, setup.zero_z), strict=True)
    found = [(axis, zero.on or zero.find) for axis, zero in zeros]
    h = setup.holding
    seats = [body.name.split()[-1] for body in h.bodies if body.bears == "front"]
    seat = next(iter(seats), "fixed jaw")
    axes = [
        f"{axis} {seat if find == 'fixed jaw' else find}" for axis, find in found if find != "none"
    ]
    if axes:
        words = ("zero", ", ".join(axes[:2]), *axes[2:])
        yield Note(words, ((zero.x, zero.y, zero.z),))
    room = {body.of: body.solid.bounds for body in bodies}
    if h.bodies:
        yield from _with_bodies(h, room)
    elif room:
        yield from _held(h, work, room)
    if h.tilt and room:
        up = "right" if h.tilt > 0 else "left"
        words = (f"tilted {abs(h.tilt):g}°", f"{up}-hand end up")
        yield Note(words, (tilt_lines(h, *work.bounds)[-1][4],))


def _with_bodies(holding: Holding, room: dict[str, tuple[Vec, Vec]]) -> Iterator[Note]:
    """What holds the work besides jaws, each kind once, and what it is against."""
    back, left = (looking(holding, way) for way in ((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)))
    told: dict[str, tuple[str, ...]] = {}
    for body in holding.bodies:
        if body.kind not in UNTOLD:
            seat = (f"against the {back} face",) if body.bears == "front" else ()
            told.setdefault(body.name, (body.name, *seat))
    told["fixed jaw"] = ("fixed jaw",)
    if not any(body.bears == "back" for body in holding.bodies):  # else it is behind that
        told["stop"] = ("stop", f"against the {left} face")
    for name, words in told.items():
        if name in room:
            (x, y, _), (x1, y1, z) = room[name]
            across = ((y + y1) / 2, y, *_between(y, y1, PLACES))
            yield Note(words, tuple((a, b, z) for b in across for a in _between(x, x1, PLACES)))


def _held(holding: Holding, work: Solid, room: dict[str, tuple[Vec, Vec]]) -> Iterator[Note]:
    """What touches the work."""
    low, high = work.bounds
    back = looking(holding, (0.0, 1.0, 0.0))
    a, b = room["fixed jaw"]
    seam = _between(low[0], high[0], PLACES[:1])
    spots = [(x, 1.5, b[2]) for x in _between(a[0], b[0], PLACES)]
    spots += [(x, high[1], high[2]) for x in seam]
    yield Note(("fixed jaw", f"against the {back} face"), tuple(spots))
    a, b = room["moving jaw"]
    levels = _between(a[2] + 2, b[2], (0.1, 0.4, 0.7, 0.9))
    front = [(x, a[1], z) for z in levels for x in _between(a[0] + 1, b[0] - 1, (0.05, 0.95, 0.5))]
    yield Note(("moving jaw",), tuple(front), glass=True)
    if "stop" in room:
        a, b = room["stop"]
        side = (-1.0, 0.0, 0.0) if holding.stop == "left" else (1.0, 0.0, 0.0)
        rod = [(x, (a[1] + b[1]) / 2, b[2]) for x in _between(a[0], b[0], PLACES)]
        yield Note(("stop", f"against the {looking(holding, side)} face"), tuple(rod))
    if holding.packing > 0:
        used = holding.parallels or (holding.packing,)
        metric = all(abs(2 * p - round(2 * p)) < 1e-6 for p in used)
        figures, _, unit = laid(used, Unit.MM if metric else Unit.INCH)
        heights = f"{' + '.join(figures)} {unit}"
        out = ("drawn out when gripped",) if holding.parallels_out else ()
        along = _between(low[0], high[0], PLACES[2:])
        y, z = -holding.opening, holding.packing - 2
        yield Note((f"parallels {heights}", *out), tuple((x, y, z) for x in along))


def tilt_lines(holding: Holding, low: Vec, high: Vec) -> tuple[list[Vec], list[Vec], list[Vec]]:
    """A level line under a tilted work, its lower edge run on, and the arc between them."""
    sign = 1.0 if holding.tilt > 0 else -1.0
    start = (low[0] if sign > 0 else high[0], low[1], low[2])
    long = 1.3 * (high[0] - low[0])

    def at(reach: float, share: float) -> Vec:
        turn = math.radians(abs(holding.tilt)) * share
        return (
            start[0] + sign * reach * math.cos(turn),
            start[1],
            start[2] + reach * math.sin(turn),
        )

    edge = [at(0.77 * long, 1.0), at(long, 1.0)]
    return [start, at(long, 0.0)], edge, [at(0.95 * long, i / 8) for i in range(9)]


def _between(a: float, b: float, shares: Sequence[float]) -> list[float]:
    return [a + share * (b - a) for share in shares]
