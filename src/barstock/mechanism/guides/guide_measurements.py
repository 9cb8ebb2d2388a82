"""This module reads what was measured of a guide's parts; other sizes stay as drawn.

Either a file written by hand, by guide, then by block and by place of the guide:

    axlebox in its horns:
      blocks:
        box 1: {guide slots/width: 8.03, guide slots/across wide end: 22.98}
      guides:
        left leading: {apart: 23.34, horn guide/front rebate/width: 6.09}

or what the bench log hands on: part, copy, feature/dimension. There the copies of a pair go
together as they are numbered, 1 ahead and 2 behind, then 3 and 4.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from barstock.drawing.faces import Face
from barstock.drawing.guides import Guide, Standing
from barstock.errors import FaultyError
from barstock.mechanism.guides.guide_faces import Faces
from barstock.quantities import Unit
from barstock.reading.faults import Fault, nearest
from barstock.reading.nodes import Node, Table, Text, inside, read_nodes
from barstock.reading.sizes import Sizes

Measured = dict[str, dict[str, float]]
"""Sizes as measured, by whose they are, then by the size's name [mm or degrees]."""


def read_made(
    path: Path, guides: Mapping[str, tuple[Guide, Faces]], unit: Unit
) -> dict[str, tuple[Measured, Measured]]:
    """Read the blocks and places of each guide as measured. Raises FaultyError."""
    table, faults = read_nodes(path)
    found: dict[str, tuple[Measured, Measured]] = {}
    parts = {one.part for guide, _ in guides.values() for one in (guide.block, *guide.fixed)}
    written = table.entries.keys() if table else set()
    if table and written & parts and not written & guides.keys():
        for name, (guide, faces) in guides.items():
            logged = _Logged(guide, faces, table)
            found[name] = (logged.blocks(), logged.places())
        return found
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
    """A Reading is one guide's sizes being read."""

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
        """List the sizes that a word means.

        It may be a full name, one without the block's, or one of both parts of a pair.
        """
        known = [size.name for size in self.faces.sizes]
        block = self.guide.block.name
        if kind == "blocks":
            return [n for n in known if n in (word, f"{block}/{word}") and n.startswith(block)]
        found = []
        for one in self.guide.fixed:
            own = word.removeprefix(f"{one.part}/")
            found += [word, f"{one.part}/{word}", f"{one.name}/{own}"]
        return [name for name in known if name in found and not name.startswith(f"{block}/")]


@dataclass(frozen=True)
class _Logged:
    """A Logged is one guide's sizes out of the log.

    What the guide does not go by is passed over.
    """

    guide: Guide
    faces: Faces
    table: Table

    def blocks(self) -> Measured:
        block = self.guide.block
        copies = inside(self.table, block.part)
        return {f"{block.part} {n}": self._sizes(node, block) for n, node in copies.items()}

    def places(self) -> Measured:
        """Return as many places as its parts make, or as there are blocks."""
        found: dict[int, dict[str, float]] = {}
        for one in self.guide.fixed:
            of_pair = 2 if one.side else 1
            for n, node in inside(self.table, one.part).items():
                number = int(n) - 1
                if number % of_pair == (1 if one.side < 0 else 0):
                    found.setdefault(number // of_pair, {}).update(self._sizes(node, one))
        many = max(found, default=len(inside(self.table, self.guide.block.part)) - 1) + 1
        return {f"place {k + 1}": found.get(k, {}) for k in range(many)}

    def _sizes(self, node: Node, standing: Standing) -> dict[str, float]:
        """Return the sizes; one that was measured on several faces has the mean."""
        known = {size.name for size in self.faces.sizes}
        found: dict[str, list[float]] = {}
        for word, entry in node.entries.items() if isinstance(node, Table) else ():
            name = f"{standing.name}/{_faceless(word)}"
            if name in known and isinstance(entry.value, Text):
                found.setdefault(name, []).append(float(entry.value.text))
        return {name: sum(sizes) / len(sizes) for name, sizes in found.items()}


def _faceless(word: str) -> str:
    """Return a dimension's name without the face it is on: "width" for "width front"."""
    before, _, last = word.rpartition(" ")
    return before if last in list(Face) else word
