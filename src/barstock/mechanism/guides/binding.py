"""This module tells whether a block binds in its guide: by friction and length, or by wedging.

A block in a guide with play, pushed along it by a force F that passes e beside its middle, turns
until it bears at two places, L apart along the guide, on opposite sides. Moments about its middle:
both forces there are N = F e / L. Each holds it back by friction, mu N, together 2 mu F e / L; the
block moves only while that is less than F, so while e < L / (2 mu). How wide the guide is does not
matter: the moments of the two frictions are equal and opposite. (Plain statics; taught as the rule
that a guide be longer than twice friction times the distance of the load.)

Two faces that lean by less than the angle of friction, tan a < mu, hold what is driven between.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, atan, degrees, inf

from barstock.mechanism.guides.guide_play import Reached


@dataclass(frozen=True)
class Binding:
    """A Binding tells whether a load beside the middle jams a block in its guide.

    length: along the guide from where it bears to where it bears [mm]. friction: of the faces.
    off_centre: how far beside the middle the load is [mm]; None where that is not said.
    """

    length: float
    friction: float
    off_centre: float | None = None

    @property
    def most_off_centre(self) -> float:
        """Return how far beside the middle a load may push before the block binds [mm].

        >>> Binding(length=30, friction=0.15).most_off_centre
        100.0
        """
        return self.length / (2 * self.friction)

    @property
    def binds(self) -> bool:
        """Tell whether the block binds under the load as it is."""
        return self.off_centre is not None and abs(self.off_centre) >= self.most_off_centre

    @property
    def least_length(self) -> float:
        """Return the shortest guide that would not bind under that load [mm]."""
        return 2 * self.friction * abs(self.off_centre or 0.0)


def bearing(reached: Reached) -> float:
    """Return how far apart along the guide the block bears once it has turned until it touches
    [mm]."""
    heights = [
        float(point[2])
        for row, by, point in zip(reached.held[0], reached.by[0], reached.points[0], strict=True)
        if row >= 0 and by > 0
    ]
    return max(heights, default=inf) - min(heights, default=0.0)


def wedged(reached: Reached, friction: float) -> float | None:
    """Return the lean of the faces between which a block that rises (or sinks) holds fast [°].

    The answer is None where the block stops otherwise.
    """
    gained = float(reached.by[0][reached.held[0] >= 0].sum())
    if gained <= 1.0:
        return None
    lean = asin(1.0 / gained)  # each mm of gap gives 1 / sin(lean) of rise, shared by two faces
    return degrees(lean) if lean < atan(friction) else None
