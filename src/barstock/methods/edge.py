"""A bevelled or rounded edge, along the whole of one straight edge of the part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.answers import AT_45
from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import CheckSort
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check, EdgeCut, Way
from barstock.methods.kind import Drawn, Kind
from barstock.methods.places import PROUD, level, swept, third, vec
from barstock.methods.round_part import is_flat
from barstock.methods.sheet_dimensions import view_along
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid


class EdgeFields(FeatureFields[Literal[ByHand, "milled"]]):
    """A bevelled or rounded edge as written."""

    kind: Literal["edge"] = Field("edge", description="A bevelled or rounded edge.")
    between: tuple[Face, Face] = Field(description="The two faces that meet there: [left, top].")
    bevel: Written | dict[Face, Written] | None = Field(
        None,
        description="Leg of a bevel at 45 degrees, or both legs, each measured on its face: "
        "{left: 1, top: 2}.",
    )
    radius: Written | None = Field(None, description="Radius of a rounded edge, instead of bevel.")
    finish: Literal[ByHand, "milled"] | None = Field(
        None,
        description="How it must be made; without it, as is quickest. By hand or with its mate: "
        "it is left to hand work altogether.",
    )


@dataclass(frozen=True)
class Edge:
    """The edge between two faces. size: legs on each, or the radius twice [mm]."""

    faces: tuple[Face, Face]
    size: tuple[float, float]
    shape: Literal["bevel", "round"]
    finish: str
    checks: tuple[Check, ...]


class EdgeKind(Kind):
    """The kind of a bevelled or rounded edge."""

    name = "edge"
    filed = True
    summary = "A bevel or a rounding along the whole of one edge."
    fields: type[FeatureFields[Any]] = EdgeFields

    def resolve(self, fields: EdgeFields, part: Part, ask: Ask) -> Edge | None:
        """The edge in millimetres, or None after reporting what is wrong."""
        if not is_flat(ask, part, "a bevelled or rounded edge"):
            return None
        first, second = fields.between
        if first.axis == second.axis:
            what = f"{first} and {second} do not meet along an edge"
            ask.fault("between", what, f"name a face beside {first}")
            return None
        shape = shape_of(ask, "the edge has")
        checks = _legs(fields, ask) if shape else None
        if shape is None or checks is None:
            return None
        a, b = checks[0].dimension.nominal, checks[-1].dimension.nominal
        if fields.finish == "milled" and (shape == "round" or a != b):
            what = "only a bevel at 45 degrees can be milled"
            ask.fault("finish", what, "say 'finish: filed', or leave it out")
            return None
        for face, beside, leg in ((first, second, a), (second, first, b)):
            room = part.size[beside.axis]
            if leg >= room:
                ask.fault(
                    "radius" if shape == "round" else "bevel",
                    f"{show(leg, part.unit)} is more than the {face} face has, "
                    f"{show(room, part.unit)}",
                    "make it less",
                )
                return None
        return Edge((first, second), (a, b), shape, planned_finish(fields.finish), checks)

    def removes(self, spec: Edge, part: Part) -> Solid:
        """The corner beyond the bevel or the rounding, proud outside."""
        first, second = spec.faces
        run, (a, b) = third(first.axis, second.axis), spec.size
        # from the leg's end on the first face round to the leg's end on the second
        corners = [
            {first.axis: level(part, first), second.axis: level(part, second, a)},
            {first.axis: level(part, first, -PROUD), second.axis: level(part, second, a)},
            {first.axis: level(part, first, -PROUD), second.axis: level(part, second, -PROUD)},
            {first.axis: level(part, first, b), second.axis: level(part, second, -PROUD)},
            {first.axis: level(part, first, b), second.axis: level(part, second)},
        ]
        u, v = sorted((first.axis, second.axis))
        flat = [(corner[u], corner[v]) for corner in corners]
        bulge = 0.0
        if spec.shape == "round":
            # from the second face back to the first: the material's side is hollow
            turn = (flat[1][0] - flat[0][0]) * (flat[2][1] - flat[1][1]) - (
                flat[1][1] - flat[0][1]
            ) * (flat[2][0] - flat[1][0])
            bulge = -(2**0.5 - 1) if turn > 0 else 2**0.5 - 1
        pieces = [(flat[0], bulge), *((point, 0.0) for point in flat[1:])]
        return swept(run, pieces, -PROUD, part.size[run] + PROUD)

    def drawn(self, spec: Edge, part: Part) -> list[Drawn]:
        """The legs or the radius, seen along the edge."""
        first, second = spec.faces
        view = view_along(third(first.axis, second.axis))
        corner = vec({first.axis: level(part, first), second.axis: level(part, second)})
        size = spec.checks[0].dimension
        if spec.shape == "round":
            radius = spec.size[0]
            centre = vec(
                {first.axis: level(part, first, radius), second.axis: level(part, second, radius)}
            )
            short = radius * (1 - 0.5**0.5)
            rim = vec(
                {first.axis: level(part, first, short), second.axis: level(part, second, short)}
            )
            return [Drawn("radius", size, view, centre, rim, "radius", "R")]
        ends = [
            vec({first.axis: level(part, first), second.axis: level(part, second, spec.size[0])}),
            vec({first.axis: level(part, first, spec.size[1]), second.axis: level(part, second)}),
        ]
        if len(spec.checks) == 1:
            return [Drawn("bevel", size, view, ends[0], ends[1], "leader", suffix=" × 45°")]
        return [
            Drawn(check.name, check.dimension, view, corner, end)
            for check, end in zip(spec.checks, ends, strict=True)
        ]

    def ways(self, spec: Edge, part: Part) -> list[Way]:
        """It is filed; a bevel at 45 degrees may be milled too, with a cone cutter. What is to be
        milled is filed where no way of milling it is found.
        """
        can_mill = spec.shape == "bevel" and spec.size[0] == spec.size[1]
        wanted = ["filed"] + ["milled"] * can_mill
        if spec.finish:
            wanted = [spec.finish, "filed"] if spec.finish == "milled" else [spec.finish]
        return [
            Way(way, (EdgeCut(spec.faces, spec.size, spec.shape, way, spec.checks),))
            for way in wanted
        ]


def shape_of(ask: Ask, has: str) -> Literal["bevel", "round"] | None:
    """Whether edges are bevelled or rounded; None after reporting that both or neither is written.
    has: the words for what they have."""
    if ask.given("bevel") == ask.given("radius"):
        both = "both a bevel and a radius" if ask.given("bevel") else "neither bevel nor radius"
        ask.fault(None, f"{has} {both}", "give one of 'bevel' and 'radius'")
        return None
    return "round" if ask.given("radius") else "bevel"


def planned_finish(written: str | None) -> str:
    """How the plan must make an edge, "" for the quickest way; what is left to hand work is not
    asked of it."""
    return written if written in ("filed", "milled") else ""


def _legs(fields: EdgeFields, ask: Ask) -> tuple[Check, ...] | None:
    if ask.given("radius"):
        size = ask.size("radius")
        return (Check("radius", size, CheckSort.RADIUS),) if size else None
    if isinstance(fields.bevel, dict):
        if set(fields.bevel) != set(fields.between):
            one, other = fields.between
            what = "the legs of the bevel lie on other faces than the edge"
            ask.fault("bevel", what, f"give one on {one} and one on {other}")
            return None
        legs = [(face, ask.size(f"bevel.{face}")) for face in fields.between]
        checks = [Check(f"bevel on {face}", leg, CheckSort.BEVEL) for face, leg in legs if leg]
        return tuple(checks) if len(checks) == 2 else None
    if "x" in AT_45.sub("", fields.bevel or "").lower():
        one, other = fields.between
        what = f"'{fields.bevel}' does not say which leg lies on which face"
        ask.fault("bevel", what, f"write {{{one}: …, {other}: …}}")
        return None
    size = ask.size("bevel")
    return (Check("bevel", size, CheckSort.BEVEL),) if size else None


KIND = EdgeKind()
