"""Filing until level with a surface that lies bare."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.proving.held_work import Held
from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.route import FileLevel
from barstock.solids.shapes import Solid, box

SPOT = 0.05  # what of a surface a file is tried against [mm]
PAST = 1.0  # how far a sweep stands above the work [mm]


class Levelling(MoveSweep):
    """The sweep of filing until level."""

    move = FileLevel

    def taken(self, move: FileLevel, held: Held, work: Solid) -> Iterator[Solid]:
        """The metal that stands proud of the bare surface."""
        yield proud(move, work.moved(held.placement.inverse())).moved(held.placement)


def proud(move: FileLevel, work: Solid) -> Solid:
    """The metal beyond the surface that lies bare at the move's spot.

    Raises ValueError where there is no metal at that spot.
    """
    low, high = list(work.bounds[0]), list(work.bounds[1])
    axis, sign = move.face.axis, move.face.sign
    near, far = [n - PAST for n in low], [n + PAST for n in high]
    for face, inward in zip((move.from_u, move.from_v), move.at, strict=True):
        if face.axis == axis:
            raise ValueError(f"nothing is measured from the {face} along the {move.face} face")
        at = (high if face.sign > 0 else low)[face.axis] - face.sign * inward
        near[face.axis], far[face.axis] = at - SPOT, at + SPOT
    under = work.common(box((near[0], near[1], near[2]), (far[0], far[1], far[2])))
    if under.empty:
        raise ValueError(f"there is no surface on the {move.face} where it is to be filed level")
    level = under.bounds[1 if sign > 0 else 0][axis]
    near, far = [n - PAST for n in low], [n + PAST for n in high]
    near[axis], far[axis] = sorted((level, (high if sign > 0 else low)[axis] + sign * PAST))
    return box((near[0], near[1], near[2]), (far[0], far[1], far[2]))


SWEEP = Levelling()
