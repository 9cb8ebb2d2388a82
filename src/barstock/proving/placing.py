"""Places the work on the table, and finds where each reading puts the cutter.

This is the proof's own reading of the text at the head of route/__init__.py.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from barstock.drawing.build import Face, Vec
from barstock.proving.proof_record import Violation
from barstock.quantities import Length
from barstock.route import Holding, Setup, Zero
from barstock.solids.shapes import Placement, Solid, box

FAR = 1e4  # beyond any table [mm]
SKIN = 0.02  # a face within this of another touches it [mm]


@dataclass(frozen=True)
class Datum:
    """Table position of reading 0 on each axis [mm]."""

    x: float
    y: float
    z: float


def stacked(holding: Holding, wanted: float) -> Iterator[Violation]:
    """A fault where the parallels do not make the height that the route has [mm]."""
    if abs(sum(holding.parallels) - wanted) > 0.01:
        yield Violation(
            f"the parallels stack to {Length(sum(holding.parallels)):g}, the packing is "
            f"{Length(wanted):g}",
            "choose parallels that make the height",
        )


def turned(holding: Holding) -> Placement:
    """The turn and tilt of the work, not yet slid into place.

    Raises ValueError if the face up cannot also look up while the other looks at the fixed jaw.
    """
    up, back = holding.up.normal, holding.fixed_jaw.normal
    if holding.up.axis == holding.fixed_jaw.axis:
        raise ValueError(f"{holding.up} cannot be up with {holding.fixed_jaw} at the fixed jaw")
    right = (
        back[1] * up[2] - back[2] * up[1],
        back[2] * up[0] - back[0] * up[2],
        back[0] * up[1] - back[1] * up[0],
    )
    return Placement((right, back, up)).then(tilted(holding.tilt))


def tilted(by: float) -> Placement:
    """The turn about table y by so much, the right-hand side up [degrees]."""
    c, s = math.cos(math.radians(by)), math.sin(math.radians(by))
    return Placement(((c, 0.0, -s), (0.0, 1.0, 0.0), (s, 0.0, c)))


def place(work: Solid, holding: Holding) -> Placement:
    """The motion from the work frame to the table frame.

    Raises ValueError where the work cannot lie so.
    """
    turn = turned(holding)
    low, high = work.moved(turn).bounds
    x = -high[0] if holding.stop == "right" else -low[0]
    z = holding.packing - low[2]
    y = -high[1]
    if holding.jaw_top > holding.packing:
        raised = work.moved(turn.then(Placement(shift=(x, 0.0, z))))
        gripped = raised.common(box((-FAR, -FAR, -FAR), (FAR, FAR, holding.jaw_top)))
        if gripped.empty:
            raise ValueError("nothing of the work is below the top of the jaws")
        y = -gripped.bounds[1][1]
    return turn.then(Placement(shift=(x, y, z)))


def datum(setup: Setup, work: Solid) -> Datum:
    """The datum of each axis, found on the placed work or on what holds it.

    Raises ValueError where that is not there.
    """
    holding, z = setup.holding, setup.zero_z
    touched = work.bounds[1][2] if z.find == "top" else holding.packing + z.gauge
    return Datum(
        _edge(setup.zero_x, *_sides(setup.zero_x, 0, holding, work)),
        _edge(setup.zero_y, *_sides(setup.zero_y, 1, holding, work)),
        touched - z.set_to,
    )


def _sides(zero: Zero, axis: int, holding: Holding, work: Solid) -> tuple[float, float]:
    """Between what a zero is found, along an axis of the table [mm]."""
    low, high = work.bounds
    if zero.on is not None:
        found = holding.of(zero.on)
        if not found:
            raise ValueError(f"a zero is to be found on a {zero.on}, and the route has none there")
        low, high = found[0].low, found[0].high
    return low[axis], high[axis]


def _edge(zero: Zero, low: float, high: float) -> float:
    tip = zero.finder / 2
    found = {
        "left": low - tip,
        "front": low - tip,
        "right": high + tip,
        "back": high + tip,
        "centre": (low + high) / 2,
        "fixed jaw": -tip,
    }
    return found.get(zero.find, 0.0) - zero.set_to


def looking(holding: Holding, direction: Vec) -> Face:
    """The face of the work that looks along a table direction (tilt aside)."""
    turn = turned(holding.model_copy(update={"tilt": 0.0}))
    return next(f for f in Face if math.dist(turn.turn(f.normal), direction) < 0.1)
