"""This module lists the sizes that a guide's faces go by: parts, their places, paint, wear."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from barstock.drawing.build import AXES, Build, Part
from barstock.drawing.build_reading import FILE, read_table
from barstock.drawing.dimension_runs import CheckSort
from barstock.drawing.record_walk import every
from barstock.drawing.sizes_by_name import only_parts, with_sizes, written_sizes
from barstock.errors import FaultyError, WrongUseError
from barstock.methods import KINDS
from barstock.methods.cuts import Check
from barstock.quantities import Dimension
from barstock.reading.faults import nearest
from barstock.reading.nodes import Table, read_nodes
from barstock.stocking.bar_choice import bought
from barstock.workshop.shop import Workshop


@dataclass(frozen=True)
class PartSize:
    """A PartSize is a size of a part.

    It has its name in the build and its limits [mm or degrees].
    """

    name: str
    size: Dimension
    angle: bool = False

    def text(self, value: float) -> str:
        """Return another value as it would be written."""
        return f"{value!r}°" if self.angle else f"{value!r} mm"


@dataclass(frozen=True)
class Variants:
    """Variants are a build and the same build with other sizes.

    workshop: the shop whose bars parts are left as bought of.
    """

    build: Build
    table: Table
    workshop: Workshop | None = None

    def sizes(self, part: Part, features: Sequence[str]) -> list[PartSize]:
        """List a part's sizes with limits, over all and of some of its features.

        Those of its pieces are listed too.
        """
        found = {s.name: s for one in _with_pieces(part) for s in self._own(one, features)}
        return list(found.values())

    def _own(self, part: Part, features: Sequence[str]) -> Iterator[PartSize]:
        for axis, name in enumerate(AXES):
            size = part.dimension(axis)
            if self.workshop:
                size = bought(part, axis, self.workshop)
            yield PartSize(f"{part.name}/{name}", size)
        written = written_sizes(self.table, part.name)
        for feature in part.features:
            before = f"{part.name}/{feature.name}"
            if before not in features:
                continue
            checks = every(Check, feature.spec)
            stated = {c.dimension.text: c for c in checks if c.sort is not CheckSort.THREAD}
            for name, text in written.items():
                if name.startswith(f"{before}/") and text in stated:
                    angle = stated[text].sort is CheckSort.ANGLE
                    yield PartSize(name, stated[text].dimension, angle)

    def other(self, sizes: Mapping[str, str]) -> Variants:
        """Return the build with other sizes, by name, as they would be written.

        Raises WrongUseError for a name that is not there, FaultyError where it cannot be made so.
        """
        try:
            table = with_sizes(self.table, sizes)
        except KeyError as wrong:
            name = str(wrong.args[0])
            known = [s for part in self.build.parts for s in written_sizes(self.table, part.name)]
            raise WrongUseError(f"no size goes by '{name}'; {nearest(name, known)}") from wrong
        reading = read_table(table, self.build.folder, KINDS)
        if reading.build is None:
            raise FaultyError(reading.faults)
        return Variants(reading.build, table, self.workshop)


def variants(build: Build, workshop: Workshop | None = None) -> Variants:
    """Return a build that can be had with other sizes. Raises FaultyError if its file is gone."""
    table, faults = read_nodes(build.folder / FILE)
    if table is None:
        raise FaultyError(faults)
    named = {one.name for part in guide_parts(build) for one in _with_pieces(part)}
    return Variants(build, only_parts(table, named), workshop)


def guide_parts(build: Build) -> list[Part]:
    """List the parts that stand in a build's guides."""
    guides = build.mechanism.guides if build.mechanism else ()
    stand = {one.part for guide in guides for one in (guide.block, *guide.fixed)}
    return [part for part in build.parts if part.name in stand]


def _with_pieces(part: Part) -> Iterator[Part]:
    yield part
    for piece in part.joined.pieces if part.joined else ():
        yield from _with_pieces(piece.part)
