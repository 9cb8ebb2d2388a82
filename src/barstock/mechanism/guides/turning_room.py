"""This module finds what turns a block is free to make, all ways at once.

It gives the edge of the room that two turns have together.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from barstock.mechanism.guides.guide_faces import Faces
from barstock.mechanism.guides.guide_play import MOST_TURN, MOTIONS, Motion, reach
from barstock.mechanism.guides.motion_over_limits import worst

WAYS = 32
"""Number of directions looked in."""

Curve = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Region:
    """A Region is the room of two turns together [°], as closed curves.

    edge: by nominal sizes. worst: by limits; empty where the block may not go in.
    """

    across: str
    up: str
    edge: Curve
    worst: Curve


def region(faces: Faces, across: str, up: str) -> Region:
    """Find the room of two of the turns ("tilt", "pitch", "twist")."""
    edge: list[tuple[float, float]] = []
    least: list[tuple[float, float]] = []
    for k in range(WAYS):
        angle = 2 * pi * k / WAYS
        motion = mixed(across, up, cos(angle), sin(angle))
        for found, amount in (
            (edge, float(reach(faces, motion).amount[0])),
            (least, worst(faces, motion)),
        ):
            shown = motion.shown(min(amount, MOST_TURN))
            found.append((shown * cos(angle), shown * sin(angle)))
    whole = not np.isnan(least).any()
    return Region(across, up, tuple(edge), tuple(least) if whole else ())


def mixed(first: str, second: str, share: float, other: float) -> Motion:
    """Return two motions at once, in these shares."""
    pairs = zip(MOTIONS[first].along, MOTIONS[second].along, strict=True)
    x, y, z, a, b, c = (share * p + other * q for p, q in pairs)
    return Motion(f"{first} and {second}", (x, y, z, a, b, c))
