"""This module finds how far a block can go in its guide before it touches: exactly.

A motion is one quantity that grows (a tilt, a shift, any mixture) while the block may shift ahead
and sideways as it likes, the way it does when it floats in its clearance; where nothing stops it on
either side it is left in the middle. At every place the widest gaps between faces are straight
limits on the next step. The furthest step within them is taken, and again, until it no longer moves
(a sequence of linear programmes, quadratically convergent). Many assemblies are worked at once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import degrees, radians

import numpy as np

from barstock.mechanism.guides.face_gaps import Array, Directions, rows, widest
from barstock.mechanism.guides.guide_faces import Faces
from barstock.mechanism.guides.linear_programmes import Furthest, Whole, furthest

STEP_TURN, STEP_SHIFT = 0.1, 4.0
"""The most that a block moves in one step [radians, mm]."""
MOST_TURN, MOST_SHIFT = radians(30.0), 10.0
"""A block that goes as far as this is stopped by nothing [radians, mm]."""
NO_FURTHER = 1e-9
"""A step that gains less gains nothing, and faces that overlap by less do not [mm or rad]."""
STILL = 1e-4
"""The last step is less than this; what it leaves is of the order of its square [radians, mm]."""
MOST_STEPS = 40
CHUNK = 4000
"""Number of assemblies worked at once: what fits a processor's own memory."""
ROOM = 8_000_000
"""Number of figures worked at once, where directions are looked for."""


@dataclass(frozen=True)
class Motion:
    """A Motion is a way for a block to move.

    along: ahead, left, up [mm], turns about those [radians], for one of the amount. free: the axes
    along which the block may shift meanwhile, 0 ahead, 1 to the left.
    """

    name: str
    along: tuple[float, float, float, float, float, float]
    free: tuple[int, ...] = (0, 1)

    @property
    def turns(self) -> bool:
        """Tell whether its amount is an angle."""
        return any(self.along[3:])

    @property
    def unit(self) -> str:
        """Return the unit in which its amount is shown."""
        return "°" if self.turns else "mm"

    def shown(self, amount: float) -> float:
        """Return an amount in that unit."""
        return degrees(amount) if self.turns else amount

    def back(self) -> Motion:
        """Return the same motion the other way."""
        x, y, z, a, b, c = (-v for v in self.along)
        return replace(self, along=(x, y, z, a, b, c))


MOTIONS = {
    "tilt": Motion("tilt", (0, 0, 0, 1, 0, 0)),
    "pitch": Motion("pitch", (0, 0, 0, 0, 1, 0)),
    "twist": Motion("twist", (0, 0, 0, 0, 0, 1)),
    "ahead": Motion("ahead", (1, 0, 0, 0, 0, 0), (1,)),
    "sideways": Motion("sideways", (0, 1, 0, 0, 0, 0), (0,)),
    "rise": Motion("rise", (0, 0, 1, 0, 0, 0)),
}
"""A tilt is seen from ahead, a pitch from the side, a twist from above."""


@dataclass(frozen=True)
class Reached:
    """A Reached says where assemblies come to touch.

    amount: [radians or mm], nan: the block does not go in, inf: nothing stops it. shift: of the
    block [mm]; rotation: (samples, 3, 3). held, by: the rows that stop it and what the amount gains
    for one more mm of their gaps. points: where they touch. free: axes along which the block could
    shift.
    """

    amount: Array
    shift: Array
    rotation: Array
    held: Whole
    by: Array
    points: Array
    parted: Directions
    free: tuple[int, ...]


def reach(
    faces: Faces,
    motion: Motion,
    deviations: Array | None = None,
    *,
    near: Reached | None = None,
) -> Reached:
    """Work out how far each assembly goes.

    deviations: (samples, sizes) from nominal; nominal without them. near: where an assembly got
    that is nearly the same: begin there, and hold to the directions that parted its faces. Raises
    ArithmeticError where no step gets smaller.
    """
    if deviations is None:
        deviations = np.zeros((1, len(faces.sizes)))
    pairs, many = faces.block.corners.shape[:2]
    chunk = CHUNK if near else max(1, ROOM // (pairs * many**3))
    free = near.free if near else tuple(axis for axis in motion.free if axis in floating(faces))
    chunks = [
        _reach(faces, replace(motion, free=free), deviations[k : k + chunk], near)
        for k in range(0, max(1, len(deviations)), chunk)
    ]
    if len(chunks) == 1:
        return chunks[0]
    return Reached(
        np.concatenate([c.amount for c in chunks]),
        np.concatenate([c.shift for c in chunks]),
        np.concatenate([c.rotation for c in chunks]),
        np.concatenate([c.held for c in chunks]),
        np.concatenate([c.by for c in chunks]),
        np.concatenate([c.points for c in chunks]),
        chunks[0].parted,
        free,
    )


@lru_cache(maxsize=8)
def floating(faces: Faces) -> tuple[int, ...]:
    """List the axes, 0 ahead and 1 to the left, along which faces stop the block on both sides; one
    that does not go in by nominal sizes is stopped by them too."""
    none = np.zeros((1, len(faces.sizes)))
    found = []
    for axis, name in enumerate(("ahead", "sideways")):
        alone = replace(MOTIONS[name], free=())
        ways = [_reach(faces, way, none, None).amount[0] for way in (alone, alone.back())]
        if not np.isinf(ways).any():
            found.append(axis)
    return tuple(found)


def has_room(faces: Faces, motion: Motion, slack: Array) -> bool:
    """Tell whether a block that does not go in by nominal sizes could with so much more room
    between each pair of faces [mm], shifted and moved a little."""
    ours, theirs = faces.at(np.zeros((1, len(faces.sizes))))
    ways, step = _ways(motion), STEP_TURN if motion.turns else STEP_SHIFT
    bounds = _bounds(ways.shape[1], step)
    found = rows(ours, theirs, np.zeros((1, 3)), widest(ours, theirs)[0])
    room = found.gaps + np.repeat(slack, ours.shape[2])
    return not np.isnan(_step(bounds, found.rates @ ways, room).at[0, 0])


def _ways(motion: Motion) -> Array:
    """Return the motion and its free shifts as columns of the six ways to move."""
    ways = np.zeros((6, 1 + len(motion.free)))
    ways[:, 0] = motion.along
    ways[list(motion.free), range(1, ways.shape[1])] = 1.0
    return ways


def _reach(faces: Faces, motion: Motion, deviations: Array, near: Reached | None) -> Reached:
    ours, theirs = faces.at(deviations)
    samples, ways = len(deviations), _ways(motion)
    step, most = (STEP_TURN, MOST_TURN) if motion.turns else (STEP_SHIFT, MOST_SHIFT)
    bounds = _bounds(ways.shape[1], step)
    shift = np.tile(near.shift[0] if near else np.zeros(3), (samples, 1))
    rotation = np.tile(near.rotation[0] if near else np.eye(3), (samples, 1, 1))
    amount = np.full(samples, near.amount[0] if near else 0.0)
    moved = np.zeros((samples, ways.shape[1]))
    for _ in range(MOST_STEPS):
        there = ours @ rotation.transpose(0, 2, 1)[:, None] + shift[:, None, None]
        along = near.parted if near else widest(there, theirs)[0]
        found = rows(there, theirs, shift, along)
        best = _step(bounds, found.rates @ ways, found.gaps)
        # where a step went too far for straight limits, half of it is taken back
        lost = np.isnan(best.at[:, :1]) & (moved != 0).any(axis=1, keepdims=True)
        moved = np.where(lost, -moved / 2, np.where(amount[:, None] < most, best.at, 0.0))
        # of steps that gain nothing the one that stays is as good, where it is clear of all faces
        arrived = (np.abs(moved[:, 0]) < NO_FURTHER) & (found.gaps.min(axis=1) > -NO_FURTHER)
        moved = np.where(arrived[:, None], 0.0, moved)
        amount += moved[:, 0]
        motions = moved @ ways.T
        shift = shift + motions[:, :3]
        rotation = _turned(motions[:, 3:]) @ rotation
        if not (np.abs(moved) > STILL).any():
            break
    else:
        raise ArithmeticError("the block finds no place where it touches")
    held = best.held - len(bounds[1])
    points = np.take_along_axis(found.points, np.maximum(held, 0)[..., None], axis=1)
    far = np.where(amount >= most, np.inf, amount)
    return Reached(far, shift, rotation, held, best.by, points, along, motion.free)


def _bounds(many: int, step: float) -> tuple[Array, Array]:
    """Limit every quantity to a step, and a free shift to one either way."""
    slopes = np.concatenate([np.eye(many), -np.eye(many)[1:]])
    return slopes, np.array([step] + [STEP_SHIFT] * (2 * many - 2))


def _step(bounds: tuple[Array, Array], opens: Array, gaps: Array) -> Furthest:
    """Find the furthest step within bounds that closes no gap. opens: what each gap gains for one
    more of each way, (samples, gaps, ways)."""
    samples = len(gaps)
    slopes = np.concatenate([np.tile(bounds[0], (samples, 1, 1)), -opens], axis=1)
    return furthest(slopes, np.concatenate([np.tile(bounds[1], (samples, 1)), gaps], axis=1))


def _turned(turn: Array) -> Array:
    """Return rotation matrices of small or large turns (samples, 3) [radians] (Rodrigues)."""
    angle = np.linalg.norm(turn, axis=1)
    axis = turn / np.where(angle > 0, angle, 1.0)[:, None]
    zero = np.zeros(len(turn))
    x, y, z = axis.T
    cross = np.array([[zero, -z, y], [z, zero, -x], [-y, x, zero]]).transpose(2, 0, 1)
    sine, rest = np.sin(angle)[:, None, None], (1 - np.cos(angle))[:, None, None]
    return np.asarray(np.eye(3) + sine * cross + rest * (cross @ cross))
