"""What is written on a picture: where zero is, what touches the jaw and the stop, the tilt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.drawing.model import Vec
from barstock.planning.route import Holding, Setup
from barstock.proving.placing import Datum, looking
from barstock.solids.shapes import Solid


@dataclass(frozen=True)
class Note:
    """Words with a leader to the first of `spots` (table frame) that the eye can see."""

    words: tuple[str, ...]
    spots: tuple[Vec, ...]


def notes(setup: Setup, work: Solid, zero: Datum) -> Iterator[Note]:
    """The notes on a setup's picture; `work` in the table frame."""
    found = [("X", setup.zero_x.find), ("Y", setup.zero_y.find), ("Z", setup.zero_z.find)]
    axes = [f"{axis} {find}" for axis, find in found if find != "none"]
    if axes:
        words = ("zero", ", ".join(axes[:2]), *axes[2:])
        yield Note(words, ((zero.x, zero.y, zero.z),))
    if setup.holding.jaw_top > 0:
        yield from _held(setup.holding, *work.bounds)


def _held(holding: Holding, low: Vec, high: Vec) -> Iterator[Note]:
    """What touches the work."""
    along = [low[0] + k * (high[0] - low[0]) for k in (0.6, 0.4, 0.8, 0.2, 1.04, -0.04)]
    back = looking(holding, (0.0, 1.0, 0.0))
    top = holding.jaw_top
    spots = [(x, 1.5, top) for x in along] + [(along[0], high[1], high[2])]
    yield Note(("fixed jaw", f"against the {back} face"), tuple(spots))
    front = max(low[0], holding.jaws_from) + 0.1 * (high[0] - low[0])
    yield Note(("moving jaw",), ((front, -holding.opening, top),))
    if holding.stop != "none":
        sign = -1.0 if holding.stop == "left" else 1.0
        face = looking(holding, (sign, 0.0, 0.0))
        x, y, z = (low if sign < 0 else high)[0], (low[1] + high[1]) / 2, (low[2] + high[2]) / 2
        rod = tuple((x + sign * d, y, z) for d in (5.0, 4.0, 3.0, 7.0))
        yield Note(("stop", f"against the {face} face"), rod)
    if holding.packing > 0:
        heights = " + ".join(f"{p:g}" for p in holding.parallels) or f"{holding.packing:g}"
        out = ("drawn out when gripped",) if holding.parallels_out else ()
        y, z = -holding.opening, holding.packing - 2
        yield Note((f"parallels {heights} mm", *out), tuple((x, y, z) for x in along[2:]))
