"""This module judges a set of parts as made: will it move, and which block goes to which guide?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barstock.drawing.guides import Guide
from barstock.mechanism.guides.block_assignment import Array, most_even
from barstock.mechanism.guides.guide_faces import Faces
from barstock.mechanism.guides.guide_measurements import Measured
from barstock.mechanism.guides.guide_play import MOTIONS, Motion, reach


@dataclass(frozen=True)
class Paired:
    """A Paired is a block in its guide.

    play: over all, ahead and back [mm]. amounts: how far each motion goes [° or mm].
    """

    block: str
    guide: str
    play: float
    amounts: dict[str, float]
    goes: bool


@dataclass(frozen=True)
class MadeSet:
    """A MadeSet is a set of blocks paired with guides for the most even play.

    goes: whether every block does what is asked.
    """

    pairs: tuple[Paired, ...]
    least: float
    left_over: tuple[str, ...]

    @property
    def goes(self) -> bool:
        """Tell whether all of it moves as asked."""
        return all(pair.goes for pair in self.pairs)


def made_set(guide: Guide, faces: Faces, blocks: Measured, places: Measured) -> MadeSet:
    """Pair the set. Raises ValueError where there are too few blocks or none goes together."""
    deviations = _deviations(faces, blocks, places)
    shape = (len(places), len(blocks))
    play = _play(faces, deviations)
    chosen = most_even(play.reshape(shape))
    picked = [row * shape[1] + block for row, block in enumerate(chosen.chosen)]
    amounts = {
        name: _least(faces, MOTIONS[name], deviations[picked])
        for name in MOTIONS
        if name in guide.asked
    }
    names, titles = list(blocks), list(places)
    pairs = []
    for row, block in enumerate(chosen.chosen):
        own = {name: float(found[row]) for name, found in amounts.items()}
        goes = all(own[name] >= asked for name, asked in guide.asked.items())
        pairs.append(Paired(names[block], titles[row], float(play[picked[row]]), own, goes))
    left = tuple(name for k, name in enumerate(names) if k not in chosen.chosen)
    return MadeSet(tuple(pairs), chosen.least, left)


def _deviations(faces: Faces, blocks: Measured, places: Measured) -> Array:
    """Return the deviations from nominal of every block in every place, place by place."""
    found = []
    for place in places.values():
        for block in blocks.values():
            sizes = {**place, **block}
            found.append([sizes.get(s.name, s.size.nominal) - s.size.nominal for s in faces.sizes])
    return np.array(found)


def _play(faces: Faces, deviations: Array) -> Array:
    """Return the play ahead and back together, or to left and right where nothing stops that.

    It is nan where the block does not go in.
    """
    for name in ("ahead", "sideways"):
        ways = [reach(faces, way, deviations) for way in (MOTIONS[name], MOTIONS[name].back())]
        play = ways[0].amount + ways[1].amount
        if np.isfinite(play).any():
            return np.asarray(np.where(play < 0, np.nan, play))
    raise ValueError("nothing stops the block on either side")


def _least(faces: Faces, motion: Motion, deviations: Array) -> Array:
    ways = [reach(faces, way, deviations).amount for way in (motion, motion.back())]
    least = np.minimum(*ways)
    return np.asarray(np.degrees(least) if motion.turns else least)
