"""The first page's words on a whole route."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.build import Build
from barstock.quantities import Unit
from barstock.route import Summary
from barstock.route.record import Statement
from barstock.words.notes import note
from barstock.words.reader import Reader
from barstock.words.shopping import item


@dataclass(frozen=True)
class ToldSummary:
    """The notes and the shopping, in words."""

    notes: tuple[str, ...]
    buy: tuple[str, ...]


def told_summary(summary: Summary, build: Build, unit: Unit) -> ToldSummary:
    """A route's summary: what is of one part in that part's unit, all else in `unit`."""
    units = {part.name: part.unit for part in build.parts}

    def reader(told: Statement) -> Reader:
        return Reader(units.get(told.names.get("part", ""), unit))

    return ToldSummary(
        tuple(note(one, reader(one)) for one in summary.notes),
        tuple(item(one, reader(one)) for one in summary.buy),
    )
