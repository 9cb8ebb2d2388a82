"""The sizes that a guide's faces go by: those of its parts, their places, paint and wear."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from barstock.drawing.model import AXES, Build, Part
from barstock.drawing.reading import FILE, read_build
from barstock.drawing.sizes import written_sizes
from barstock.errors import FaultyError, WrongUseError
from barstock.methods import KINDS
from barstock.methods.cuts import Check
from barstock.quantities import Dimension
from barstock.reading.faults import nearest
from barstock.reading.nodes import Table, read_nodes
from barstock.stocking.bars import bought
from barstock.workshop.model import Workshop


@dataclass(frozen=True)
class PartSize:
    """A size of a part: its name in the build, with its limits [mm or degrees]."""

    name: str
    size: Dimension
    angle: bool = False

    def text(self, value: float) -> str:
        """Another value as it would be written."""
        return f"{value!r}°" if self.angle else f"{value!r} mm"


def part_sizes(
    part: Part, features: Sequence[str], build: Build, workshop: Workshop | None = None
) -> list[PartSize]:
    """The sizes with limits, over all and of some features, of a part and of its pieces.

    Overall sizes left as bought have the limits of the bar on the workshop's rack.
    """
    pieces = [piece.part for piece in part.joined.pieces] if part.joined else []
    found = {}
    for one in (part, *pieces):
        for size in _own(one, features, build, workshop):
            found[size.name] = size
    return list(found.values())


def _own(
    part: Part, features: Sequence[str], build: Build, workshop: Workshop | None
) -> Iterator[PartSize]:
    written = written_sizes(_table(build), part.name)
    for axis, name in enumerate(AXES):
        size = part.dimension(axis)
        yield PartSize(f"{part.name}/{name}", bought(part, axis, workshop) if workshop else size)
    for feature in part.features:
        if f"{part.name}/{feature.name}" not in features:
            continue
        stated = {c.dimension.text: c for c in _checks(feature.spec) if c.of != "thread"}
        for name, text in written.items():
            if name.startswith(f"{part.name}/{feature.name}/") and text in stated:
                yield PartSize(name, stated[text].dimension, stated[text].of == "angle")


def _checks(record: Any) -> Iterator[Check]:
    """Every dimension of the drawing within a feature's record."""
    if isinstance(record, Check):
        yield record
    elif is_dataclass(record):
        for each in fields(record):
            yield from _checks(getattr(record, each.name))
    elif isinstance(record, tuple | list):
        for one in record:
            yield from _checks(one)


def _table(build: Build) -> Table:
    table, faults = read_nodes(build.folder / FILE)
    if table is None:
        raise FaultyError(faults)
    return table


def remade(build: Build, sizes: Mapping[str, str]) -> Build:
    """The build with other sizes, by name, as they would be written.

    Raises WrongUseError for a name that is not there, FaultyError where no part is left of it.
    """
    if not sizes:
        return build
    try:
        reading = read_build(build.folder, KINDS, sizes)
    except KeyError as wrong:
        name = str(wrong.args[0])
        known = [s for part in build.parts for s in written_sizes(_table(build), part.name)]
        raise WrongUseError(f"no size goes by '{name}'; {nearest(name, known)}") from wrong
    if reading.build is None:
        raise FaultyError(reading.faults)
    return reading.build
