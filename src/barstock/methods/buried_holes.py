"""Finds holes said to start on a floor where no feature takes the metal above it away."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from barstock import methods
from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.methods.feature_cuts import hole_of
from barstock.methods.places import in_face, level, moved
from barstock.methods.round_part import turned_off
from barstock.quantities import show
from barstock.solids.shapes import Solid

ROUND_AXIS = 0.2
"""Share of the radius within which the metal above is looked for: a floor may lean."""
MOST_LEFT = 0.5
"""More left of what is above the floor, as share of it, and there is no floor."""
LEVELS = 20
"""At which metal is looked for between the face and the floor."""
LEAST = 0.01
"""A hole that starts less below its face is not said to start on a floor [mm]."""


def buried(part: Part, whole: Solid) -> Iterator[Fault]:
    """Every hole that starts below metal; none of a part of which some features are not read.

    whole: the part before any of its features.
    """
    for feature in part.features:
        cut = hole_of(feature, part)
        if cut is None or cut.below(part.size) < LEAST or part.unread:
            continue
        gone = [
            methods.KINDS[other.kind].removes(other.spec, part)
            for other in part.features
            if other is not feature
        ]
        face, below = cut.face, cut.below(part.size)
        for at in cut.at:
            crest = moved(at, face.axis, level(part, face))
            points = _above(crest, face, ROUND_AXIS * cut.diameter / 2, below)
            metal = whole.deep(points) > 0
            for one in gone:
                metal &= one.deep(points) < 0
            if metal.mean() > MOST_LEFT:
                told = show(below, part.unit)
                what = f"{feature.name} starts {told} below the {face} face, in solid metal"
                mend = "leave out 'starts below', or give the depth of the floor that it starts on"
                grade = "error"
                mouth = (
                    cut.countersink or cut.counterbore
                )  # which cannot be cut before it is turned
                if not mouth and turned_off(cut.face, cut.at, part):
                    what += ": that is taken to be turned off, and the hole drilled through it"
                    mend = "leave out 'starts below' where nothing is turned off"
                    grade = "lacking"
                yield Fault(feature.place, what, mend, part.name, feature.name, grade)
                break


def _above(crest: Vec, face: Face, radius: float, deep: float) -> NDArray[np.float64]:
    """Points on a hole's axis and round it, from a point of a face down (n, 3)."""
    u, v = in_face(face.axis)
    round_it = [(0.0, 0.0), (radius, 0.0), (-radius, 0.0), (0.0, radius), (0.0, -radius)]
    points = np.tile(np.array(crest), (LEVELS * len(round_it), 1))
    down = np.repeat((np.arange(LEVELS) + 0.5) / LEVELS * deep, len(round_it))
    points[:, face.axis] -= face.sign * down
    points[:, [u, v]] += np.tile(np.array(round_it), (LEVELS, 1))
    return points
