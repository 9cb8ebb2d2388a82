"""A set of parts as made: will it move, and which block goes to which guide.

Measured sizes stand in a file, by guide, then by block and by place of the guide:

    axlebox in its horns:
      blocks:
        box 1: {guide slots/width: 8.03, guide slots/across wide end: 22.98}
      guides:
        left leading: {apart: 23.34, horn guide/front rebate/width: 6.09}

Sizes that were not measured are taken as drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from barstock.drawing.guides import Guide
from barstock.errors import FaultyError
from barstock.moving.guides.assignment import Array, most_even
from barstock.moving.guides.envelope import MOTIONS, Motion, reach
from barstock.moving.guides.faces import Faces
from barstock.quantities import Unit
from barstock.reading.faults import Fault, nearest
from barstock.reading.nodes import Node, Table, Text, inside, read_nodes
from barstock.reading.sizes import Sizes

Measured = dict[str, dict[str, float]]
"""By what was measured, then by size: [mm or degrees]."""


@dataclass(frozen=True)
class Paired:
    """A block in its guide. play: over all, ahead and back [mm]. amounts: by motion [° or mm]."""

    block: str
    guide: str
    play: float
    amounts: dict[str, float]
    goes: bool


@dataclass(frozen=True)
class MadeSet:
    """The set, paired for the most even play. goes: does every block do what is asked?"""

    pairs: tuple[Paired, ...]
    least: float
    left_over: tuple[str, ...]

    @property
    def goes(self) -> bool:
        """Will all of it move?"""
        return all(pair.goes for pair in self.pairs)


def read_made(
    path: Path, guides: Mapping[str, tuple[Guide, Faces]], unit: Unit
) -> dict[str, tuple[Measured, Measured]]:
    """Blocks and places of each guide as measured. Raises FaultyError."""
    table, faults = read_nodes(path)
    found: dict[str, tuple[Measured, Measured]] = {}
    for name, entry in table.entries.items() if table else ():
        if name not in guides:
            what = f"there is no guide '{name}' in the build"
            faults.append(Fault(entry.place, what, nearest(name, guides)))
            continue
        guide, faces = guides[name]
        reading = _Reading(guide, faces, unit, faults)
        found[name] = (
            reading.measured(entry.value, "blocks"),
            reading.measured(entry.value, "guides"),
        )
    if faults:
        raise FaultyError(faults)
    return found


@dataclass(frozen=True)
class _Reading:
    """One guide's sizes being read."""

    guide: Guide
    faces: Faces
    unit: Unit
    faults: list[Fault]

    def measured(self, node: Node, kind: str) -> Measured:
        if not isinstance(node, Table) or kind not in node.entries:
            self.faults.append(Fault(node.place, f"'{kind}' is missing", "give it, by name"))
            return {}
        return {name: self._sizes(each, kind) for name, each in inside(node, kind).items()}

    def _sizes(self, node: Node, kind: str) -> dict[str, float]:
        sizes = Sizes(self.unit, lambda *told: self.faults.append(Fault(*told)))
        found = {}
        for word, entry in node.entries.items() if isinstance(node, Table) else ():
            names = self._names(word, kind)
            if not names:
                known = [size.name for size in self.faces.sizes]
                what = f"the guide does not go by a size '{word}'"
                self.faults.append(Fault(entry.place, what, nearest(word, known)))
                continue
            angle = next(s.unit for s in self.faces.sizes if s.name == names[0]) == "°"
            value = entry.value
            size = sizes.angle(value) if angle and isinstance(value, Text) else sizes.size(value)
            if size is not None:
                found.update(dict.fromkeys(names, size.nominal))
        return found

    def _names(self, word: str, kind: str) -> list[str]:
        """The sizes meant: by full name, without the block's, or of both of a pair."""
        known = [size.name for size in self.faces.sizes]
        block = self.guide.block.name
        if kind == "blocks":
            return [n for n in known if n in (word, f"{block}/{word}") and n.startswith(block)]
        found = []
        for one in self.guide.fixed:
            own = word.removeprefix(f"{one.part}/")
            found += [word, f"{one.part}/{word}", f"{one.name}/{own}"]
        return [name for name in known if name in found and not name.startswith(f"{block}/")]


def made_set(guide: Guide, faces: Faces, blocks: Measured, places: Measured) -> MadeSet:
    """The set paired. Raises ValueError where there are too few blocks or none goes together."""
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
    """From nominal, of every block in every place, place by place."""
    found = []
    for place in places.values():
        for block in blocks.values():
            sizes = {**place, **block}
            found.append([sizes.get(s.name, s.size.nominal) - s.size.nominal for s in faces.sizes])
    return np.array(found)


def _play(faces: Faces, deviations: Array) -> Array:
    """Ahead and back together, or to left and right where nothing stops it that way; nan: none."""
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
