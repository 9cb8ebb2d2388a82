"""The views a part is drawn in, and where each stands beside the front view (ISO 5456-2)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from barstock.drawing.build import Vec
from barstock.drawing.vectors import dot
from barstock.solids.shapes import Solid
from barstock.solids.strokes import Flat
from barstock.solids.views import View, project

Cell = tuple[int, int]


@dataclass(frozen=True)
class Look:
    """One way of looking at the part. `view` is what dimensions call it (methods/kind.py).

    toward: where the eye is; right, up: the picture's directions. cell: column and row from the
    front view in third-angle projection; first-angle has them the other way.
    """

    view: str
    name: str
    toward: Vec
    right: Vec
    up: Vec
    cell: Cell

    def flat(self, p: Vec) -> Flat:
        """The place where a point of the part is seen [mm]."""
        return (dot(p, self.right), dot(p, self.up))


FRONT = Look("front", "from the front", (0, -1, 0), (1, 0, 0), (0, 0, 1), (0, 0))
PLANS = (
    Look("top", "from above", (0, 0, 1), (1, 0, 0), (0, 1, 0), (0, 1)),
    Look("top", "from below", (0, 0, -1), (1, 0, 0), (0, -1, 0), (0, -1)),
)
SIDES = (
    Look("side", "from the right", (1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 0)),
    Look("side", "from the left", (-1, 0, 0), (0, -1, 0), (0, 0, 1), (-1, 0)),
)


@dataclass(frozen=True)
class Seen:
    """A part seen in one of its views, and the cell the view stands in."""

    look: Look
    view: View
    cell: Cell


def views(solid: Solid, first_angle: bool) -> tuple[Seen, Seen, Seen]:
    """The front view, plan and side view; of two opposite looks the one that hides
    less is taken.
    """
    turn = -1 if first_angle else 1
    sides = SIDES[::turn]  # where both show as much, the side view stands on the right
    picked = [
        Seen(look, project(solid, look.toward, look.right), _turned(look.cell, turn))
        for look in (FRONT, *PLANS, *sides)
    ]
    front, plans, aside = picked[0], picked[1:3], picked[3:]
    return front, min(plans, key=_dashed), min(aside, key=_dashed)


def _turned(cell: Cell, turn: int) -> Cell:
    return (cell[0] * turn, cell[1] * turn)


def _dashed(seen: Seen) -> float:
    """Length of hidden line [mm]."""
    return round(
        sum(
            math.dist(a, b)
            for stroke in seen.view.hidden
            for a, b in zip(stroke.points, stroke.points[1:], strict=False)
        ),
        1,
    )
