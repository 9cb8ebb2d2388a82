"""Several edges bevelled or rounded alike: all of a part, or those round some of its faces."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import CheckSort
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check, Way
from barstock.methods.edge import KIND as ONE
from barstock.methods.edge import Edge, planned_finish, shape_of
from barstock.methods.kind import Drawn, Kind
from barstock.methods.round_part import is_flat
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid, nothing


class EdgesFields(FeatureFields[Literal[ByHand, "milled"]]):
    """Edges bevelled or rounded alike, as written."""

    kind: Literal["edges"] = Field("edges", description="Edges bevelled or rounded alike.")
    around: Literal["all"] | Face | list[Face] = Field(
        description="`all`, or the face or faces that they run round: right, [left, right]."
    )
    bevel: Written | None = Field(None, description="Leg of their bevels at 45 degrees.")
    radius: Written | None = Field(None, description="Their radius, instead of bevel.")
    finish: Literal[ByHand, "milled"] | None = Field(
        None, description="How they must be made; without it, as is quickest."
    )


@dataclass(frozen=True)
class Edges:
    """Edges that are all bevelled or rounded by the same."""

    each: tuple[Edge, ...]


class EdgesKind(Kind):
    """The kind of several edges alike."""

    name = "edges"
    filed = True
    summary = "All edges of a part, or those round a face, bevelled or rounded alike."
    fields: type[FeatureFields[Any]] = EdgesFields

    def resolve(self, fields: EdgesFields, part: Part, ask: Ask) -> Edges | None:
        """The edges in millimetres, or None after reporting what is wrong."""
        if not is_flat(ask, part, "a bevelled or rounded edge"):
            return None
        shape = shape_of(ask, "the edges have")
        name = "radius" if shape == "round" else "bevel"
        size = ask.size(name) if shape else None
        if shape is None or size is None:
            return None
        if shape == "round" and fields.finish == "milled":
            what = "only a bevel at 45 degrees can be milled"
            ask.fault("finish", what, "say 'finish: filed', or leave it out")
            return None
        least = min(part.size)
        if 2 * size.nominal >= least:
            what = f"edges of {show(size.nominal, part.unit)} meet on {show(least, part.unit)}"
            ask.fault(name, what, "make them less")
            return None
        sort = CheckSort.RADIUS if shape == "round" else CheckSort.BEVEL
        finish = planned_finish(fields.finish)
        legs = (size.nominal, size.nominal)
        return Edges(
            tuple(
                Edge(pair, legs, shape, finish, (_check(name, Check(name, size, sort), n),))
                for n, pair in enumerate(_pairs(fields.around), 1)
            )
        )

    def removes(self, spec: Edges, part: Part) -> Solid:
        """The corners beyond every bevel or rounding, proud outside."""
        return nothing().fuse(*(ONE.removes(edge, part) for edge in spec.each))

    def drawn(self, spec: Edges, part: Part) -> list[Drawn]:
        """The dimension of the first edge, with the number of them before it."""
        count = len(spec.each)
        return [
            replace(one, prefix=f"{count} × {one.prefix}") for one in ONE.drawn(spec.each[0], part)
        ]

    def ways(self, spec: Edges, part: Part) -> list[Way]:
        """They are all made in one of the ways in which an edge alone is made."""
        made = [ONE.ways(edge, part) for edge in spec.each]
        return [
            Way(ways[0].name, tuple(cut for way in ways for cut in way.cuts))
            for ways in zip(*made, strict=True)
        ]


def _pairs(around: str | list[Face]) -> list[tuple[Face, Face]]:
    """The pairs of faces that meet along the edges."""
    pairs = [(a, b) for a, b in combinations(Face, 2) if a.axis != b.axis]
    if around == "all":
        return pairs
    faces = around if isinstance(around, list) else [Face(around)]
    return [pair for pair in pairs if set(pair) & set(faces)]


def _check(name: str, check: Check, n: int) -> Check:
    return check if n == 1 else replace(check, name=f"{name} ({n})", nth=n)


KIND = EdgesKind()
