"""How far a block can go in its guide before it touches: exactly, for one or for many assemblies.

A motion is one quantity that grows (a tilt, a shift, any mixture) while the block may shift ahead
and sideways as it likes, the way it does when it floats in its clearance. At every place the widest
gaps between faces are straight limits on the next step; the furthest step within them is taken, and
again, until it no longer moves (a sequence of linear programmes, quadratically convergent).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees, radians

import numpy as np

from barstock.moving.guides.faces import Faces
from barstock.moving.guides.furthest import Whole, furthest
from barstock.moving.guides.gaps import Array, Directions, rows, widest

STEP_TURN, STEP_SHIFT = 0.1, 4.0
"""The most that is gone at once [radians, mm]."""
MOST_TURN, MOST_SHIFT = radians(30.0), 10.0
"""Beyond these nothing is taken to stop it [radians, mm]."""
STILL = 1e-8
MOST_STEPS = 40
CHUNK = 4000
"""Assemblies worked at once: what fits a processor's own memory."""


@dataclass(frozen=True)
class Motion:
    """along: ahead, left, up [mm], turns about those [radians], for one of the amount.

    free: the axes along which the block may shift meanwhile, 0 ahead, 1 to the left.
    """

    name: str
    along: tuple[float, float, float, float, float, float]
    free: tuple[int, ...] = (0, 1)

    @property
    def turns(self) -> bool:
        """Is its amount an angle?"""
        return any(self.along[3:])

    @property
    def unit(self) -> str:
        """Of what is shown of it."""
        return "°" if self.turns else "mm"

    def shown(self, amount: float) -> float:
        """An amount in that unit."""
        return degrees(amount) if self.turns else amount

    def back(self) -> Motion:
        """The same the other way."""
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
"""Tilt: seen from ahead; pitch: from the side; twist: from above."""


def turning(tilt: float, pitch: float, twist: float) -> Motion:
    """A turn about a line between the three, in these shares (a unit vector)."""
    return Motion("turn", (0, 0, 0, tilt, pitch, twist))


@dataclass(frozen=True)
class Reached:
    """Where assemblies come to touch. amount: [radians or mm]; nan: the block does not go in.

    inf: nothing stops it. shift: of the block [mm]; rotation: (samples, 3, 3). held, by: the rows
    that stop it and what the amount gains for one more mm of their gaps. points: where they touch.
    """

    amount: Array
    shift: Array
    rotation: Array
    held: Whole
    by: Array
    points: Array
    parted: Directions


def reach(
    faces: Faces,
    motion: Motion,
    deviations: Array | None = None,
    *,
    rise: float = 0.0,
    parted: Directions | None = None,
) -> Reached:
    """How far each assembly goes. deviations: (samples, sizes) from nominal; nominal without them.

    rise: height of the block above rest [mm]. parted: directions to hold to, not to be found anew.
    """
    if deviations is None:
        deviations = np.zeros((1, len(faces.sizes)))
    chunks = [
        _reach(faces, motion, deviations[k : k + CHUNK], rise, parted)
        for k in range(0, max(1, len(deviations)), CHUNK)
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
    )


def _reach(
    faces: Faces, motion: Motion, deviations: Array, rise: float, parted: Directions | None
) -> Reached:
    ours, theirs = faces.at(deviations)
    samples = len(deviations)
    ways = np.zeros((6, 1 + len(motion.free)))
    ways[:, 0] = motion.along
    ways[list(motion.free), range(1, ways.shape[1])] = 1.0
    step, most = (STEP_TURN, MOST_TURN) if motion.turns else (STEP_SHIFT, MOST_SHIFT)
    bounds = _bounds(ways.shape[1], step)
    shift = np.tile([0.0, 0.0, rise], (samples, 1))
    rotation = np.tile(np.eye(3), (samples, 1, 1))
    amount = np.zeros(samples)
    for _ in range(MOST_STEPS):
        there = ours @ rotation.transpose(0, 2, 1)[:, None] + shift[:, None, None]
        along = widest(there, theirs)[0] if parted is None else parted
        found = rows(there, theirs, shift, along)
        slopes = np.concatenate([np.tile(bounds[0], (samples, 1, 1)), -found.rates @ ways], axis=1)
        limits = np.concatenate([np.tile(bounds[1], (samples, 1)), found.gaps], axis=1)
        best = furthest(slopes, limits)
        moved = np.where(amount[:, None] < most, best.at, 0.0)
        amount += moved[:, 0]
        motions = moved @ ways.T
        shift = shift + motions[:, :3]
        rotation = _turned(motions[:, 3:]) @ rotation
        if not (np.abs(moved) > STILL).any():
            break
    held = best.held - len(bounds[1])
    points = np.take_along_axis(found.points, np.maximum(held, 0)[..., None], axis=1)
    far = np.where(amount >= most, np.inf, amount)
    return Reached(far, shift, rotation, held, best.by, points, along)


def _bounds(many: int, step: float) -> tuple[Array, Array]:
    """No quantity more than a step, nor a free shift less than one."""
    slopes = np.concatenate([np.eye(many), -np.eye(many)[1:]])
    return slopes, np.array([step] + [STEP_SHIFT] * (2 * many - 2))


def _turned(turn: Array) -> Array:
    """Rotation matrices of small or large turns (samples, 3) [radians] (Rodrigues)."""
    angle = np.linalg.norm(turn, axis=1)
    axis = turn / np.where(angle > 0, angle, 1.0)[:, None]
    zero = np.zeros(len(turn))
    x, y, z = axis.T
    cross = np.array([[zero, -z, y], [z, zero, -x], [-y, x, zero]]).transpose(2, 0, 1)
    sine, rest = np.sin(angle)[:, None, None], (1 - np.cos(angle))[:, None, None]
    return np.asarray(np.eye(3) + sine * cross + rest * (cross @ cross))
