"""This module works out a guide's motion over its limits.

It tells which size matters most, what the worst case is, and what many assemblies do.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from barstock.drawing.size_distribution import Law, fall
from barstock.mechanism.guides.face_gaps import Array, Directions, Whole, normals, rows
from barstock.mechanism.guides.guide_faces import Faces, Side
from barstock.mechanism.guides.guide_play import MOTIONS, Motion, Reached, has_room, reach

SAMPLES = 100_000
"""Number of assemblies thrown."""
TINY = 1e-9
SMALL = 1e-4
"""A size is changed by so much to see what the motion gains [mm or degrees]."""
ALONG = 0.1
"""Faces are parted along their own plane where a normal times the direction is less than this."""
CLEAR = 0.2
"""Faces that stay further apart than this, whatever the sizes, are left out [mm]."""


@dataclass(frozen=True)
class Weight:
    """A Weight is what a size does to a motion.

    gain: of the amount for one more of the size [° or mm a unit]. spread: what the size can take
    from or add to the amount within its limits.
    """

    name: str
    gain: float
    spread: float


@dataclass(frozen=True)
class Spread:
    """A Spread is a motion over many assemblies, the lesser of its two ways, in its unit.

    low, high: what 99.73 of 100 lie between. fails: share that falls short of what is asked. tight:
    share whose block does not go in at all.
    """

    mean: float
    low: float
    high: float
    fails: float
    tight: float


def weights(faces: Faces, motion: Motion, reached: Reached) -> list[Weight]:
    """Return what each size does, the greatest first.

    It is worked out at the first of the assemblies reached.
    """
    many = len(faces.sizes)
    gains = _gains(faces, reached, np.zeros(many))
    low, high = faces.limits
    found = [
        Weight(size.name, motion.shown(gain), motion.shown(abs(gain) * (b - a)))
        for size, gain, a, b in zip(
            faces.sizes, gains.tolist(), low.tolist(), high.tolist(), strict=True
        )
    ]
    return sorted(found, key=lambda w: -w.spread)


def _gains(faces: Faces, reached: Reached, deviations: Array) -> Array:
    """Return what the amount gains for one more of each size [radians or mm]."""
    many = len(faces.sizes)
    ours, theirs = faces.at(
        deviations + np.concatenate([np.zeros((1, many)), SMALL * np.eye(many)])
    )
    shift = np.tile(reached.shift[0], (many + 1, 1))
    there = ours @ reached.rotation[0].T + reached.shift[0]
    along = reached.parted
    parted = Directions(along.ours[:1], along.theirs[:1], along.sign[:1])
    gaps = rows(there, theirs, shift, parted).gaps
    held, by = reached.held[0], reached.by[0]
    real = held >= 0
    gained = (gaps[1:, held[real]] - gaps[0, held[real]]) / SMALL
    return np.asarray(gained @ by[real])


def worst(faces: Faces, motion: Motion) -> float:
    """Find the least amount with every size anywhere within its limits [radians or mm].

    The search begins at nominal sizes and at those that are worst for each plain motion. It puts
    each size at the limit that takes most, and does so again from there until nothing is less. It
    is exact where a size always works the same way, as the sizes of flat faces do. The answer is
    nan where the block may not go in.
    """
    starts = _corners(faces)
    amounts = reach(faces, motion, starts).amount
    if not (amounts >= 0).all():
        return float("nan")
    at, least = starts[int(amounts.argmin())], float("inf")
    while True:  # ends: what is less each time is at another of so many corners
        reached = reach(faces, motion, at[None])
        amount = float(reached.amount[0])
        if not amount >= 0:
            return float("nan")
        if amount >= least:
            return least
        least, at = amount, _worse(faces, _gains(faces, reached, at), at)


def _worse(faces: Faces, gains: Array, at: Array) -> Array:
    """Put each size at the limit where a motion is less."""
    low, high = faces.limits
    return np.asarray(np.where(gains > TINY, low, np.where(gains < -TINY, high, at)))


@lru_cache(maxsize=8)
def _corners(faces: Faces) -> Array:
    """List nominal sizes, then those that are worst for each plain motion either way."""
    nominal = np.zeros(len(faces.sizes))
    found = [nominal]
    for motion in MOTIONS.values():
        for way in (motion, motion.back()):
            reached = reach(faces, way)
            if 0 <= reached.amount[0] < np.inf:
                found.append(_worse(faces, _gains(faces, reached, nominal), nominal))
    return np.unique(np.array(found), axis=0)


def throw(faces: Faces, law: Law = Law.NORMAL, samples: int = SAMPLES, seed: int = 1) -> Array:
    """Throw the deviations of many assemblies, (samples, sizes).

    By the normal law the limits are at three standard deviations.
    """
    rng = np.random.default_rng(seed)
    low, high = faces.limits
    shape = (samples, len(faces.sizes))
    return np.asarray(fall(rng, law, low, high, shape))


def by_chance(
    faces: Faces, motion: Motion, thrown: Array, asked: float | None = None
) -> tuple[Spread, Array]:
    """Return the lesser of a motion's two ways over assemblies thrown, and each amount, in its
    unit.

    asked: in that unit. Directions are held to those found at nominal sizes, which never makes an
    amount too great: faces parted along any direction are apart.
    """
    amounts = np.full(len(thrown), np.inf)
    for way in (motion, motion.back()):
        reached = reach(faces, way)
        if np.isinf(reached.amount[0]):
            continue
        if reached.amount[0] >= 0:
            few, there = _near(faces, reached)
            found = reach(few, way, thrown, near=there).amount
        elif has_room(faces, way, most_parted(faces)):
            # does not go in by nominal sizes, but some assemblies may
            found = reach(faces, way, thrown).amount
        else:
            found = np.full(len(thrown), np.nan)
        amounts = np.minimum(amounts, np.where(np.isnan(found), -1.0, found))
    tight = amounts < 0
    shown = np.asarray(np.degrees(amounts) if motion.turns else amounts)
    edge = (1 - 0.9973) / 2
    good = shown[~tight & np.isfinite(shown)]
    mean, low, high = (
        (float(good.mean()), *np.quantile(good, [edge, 1 - edge])) if len(good) else [np.nan] * 3
    )
    fails = tight | (shown < (asked or 0.0))
    return Spread(mean, float(low), float(high), float(fails.mean()), float(tight.mean())), shown


def most_parted(faces: Faces) -> Array:
    """Return how far sizes within their limits can part each pair of faces more than by nominal
    sizes, at most [mm]."""
    half = np.abs(np.stack(faces.limits)).max(axis=0)
    moves = (
        np.tensordot(half, np.linalg.norm(side.rates, axis=-1).max(axis=-1), axes=1)
        for side in (faces.block, faces.fixed)
    )
    return np.asarray(sum(moves))


def _near(faces: Faces, reached: Reached) -> tuple[Faces, Reached]:
    """Keep only the pairs that some sizes within limits could bring to touch.

    Pairs parted along their own plane are left out too: whatever comes together there first meets
    the faces beside them, which are other pairs.
    """
    ours, theirs = faces.at(np.zeros((1, len(faces.sizes))))
    pairs = ours.shape[1]
    there = ours @ reached.rotation[0].T + reached.shift[0]
    found = rows(there, theirs, reached.shift[:1], reached.parted)
    gaps = found.gaps.reshape(pairs, -1).min(axis=1)
    axes = found.rates.reshape(pairs, -1, 6)[:, 0, :3]
    facing = np.abs((axes * normals(theirs[0])).sum(axis=1)) > ALONG
    facing &= np.abs((axes * normals(there[0])).sum(axis=1)) > ALONG
    kept = np.flatnonzero((gaps - 2 * most_parted(faces) < CLEAR) & facing)
    most = ours.shape[2]
    many = max(_corners_of(side.corners[kept]) for side in (faces.block, faces.fixed))
    old = reached.parted
    # a polygon's last edge leads from its last corner, the repeated one, back to its first
    own, its = (np.where(x == most - 1, many - 1, x)[:, kept] for x in (old.ours, old.theirs))
    parted = Directions(own, its, old.sign[:, kept])
    few = Faces(_only(faces.block, kept, many), _only(faces.fixed, kept, many), faces.sizes)
    return few, replace(reached, parted=parted)


def _corners_of(corners: Array) -> int:
    """Return the most corners that any of the polygons has, repeated ones not counted."""
    same = (corners == corners[:, -1:]).all(axis=(0, 2))
    return int(np.flatnonzero(~same).max()) + 2


def _only(side: Side, kept: Whole, many: int) -> Side:
    names = tuple(side.names[k] for k in kept)
    return Side(side.corners[kept, :many], side.rates[:, kept, :many], names)
