"""A step: a rebate along the whole of one edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, from_face
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.cuts import LevelCut, Way
from barstock.methods.dimension_forms import Form, by_face, leaving, one_of, sized, surface
from barstock.methods.kind import Drawn, Kind
from barstock.methods.place_fields import Where
from barstock.methods.places import PROUD, block, level, skin, third, unit, vec
from barstock.methods.sheet_dimensions import across, view_along
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid


class StepFields(FeatureFields[ByHand]):
    """A step as written."""

    kind: Literal["step"] = Field("step", description="A rebate along an edge.")
    face: Face = Field(description="Face the step is cut down from.")
    edge: Face = Field(description="Neighbouring face: the step runs along the edge with it.")
    width: Written | None = Field(None, description="From the edge inward to the wall.")
    wall_from: Where | None = Field(
        None,
        description="Instead of width: where the wall is, e.g. {back: 13.9}, or half the width "
        "of a symmetric tongue, {width: centre -3.9}.",
    )
    leaves: Written | None = Field(
        None,
        description="Instead of width: what is left across the part, from the wall to the far "
        "face, or between both walls of a mirrored step.",
    )
    depth: Written | None = Field(None, description="From the face down to the floor.")
    floor_from: Where | None = Field(
        None,
        description="Instead of depth: where the floor is, e.g. {bottom: 5} for what is left "
        "under it.",
    )
    mirrored: bool = Field(False, description="The same step along the opposite edge too.")


@dataclass(frozen=True)
class Step:
    """A step: `width` inward from `edge`, `depth` down from `face` [mm]."""

    face: Face
    edge: Face
    width: float
    depth: float
    mirrored: bool
    width_as: Form
    depth_as: Form

    @property
    def edges(self) -> tuple[Face, ...]:
        """The edges it runs along."""
        return (self.edge, self.edge.opposite) if self.mirrored else (self.edge,)


class StepKind(Kind):
    """The kind of a step."""

    name = "step"
    summary = "A rebate along the whole of one edge, or of two opposite ones."
    walled = True
    fields: type[FeatureFields[Any]] = StepFields

    def resolve(self, fields: StepFields, part: Part, ask: Ask) -> Step | None:
        """The step in millimetres, or None after reporting what is wrong."""
        face, edge = fields.face, fields.edge
        if edge.axis == face.axis:
            what = f"{face} and {edge} do not meet along an edge"
            ask.fault("edge", what, f"name a face beside {face}")
            return None
        whole, share = part.size[edge.axis], 2 if fields.mirrored else 1
        far = End(EndKind.WALL) if fields.mirrored else End(EndKind.FACE, edge.opposite)
        left = End(EndKind.WALL), far
        width = one_of(
            ask,
            part,
            "width of the step",
            "'width', 'wall from' or 'leaves'",
            sized(ask, "width", CheckSort.DEPTH, from_face(edge, EndKind.WALL))
            + surface(ask, "wall from", edge, part)
            + leaving(ask, "leaves", whole, share, left),
        )
        depth = one_of(
            ask,
            part,
            "depth of the step",
            "'depth' or 'floor from'",
            sized(ask, "depth", CheckSort.DEPTH, from_face(face, EndKind.FLOOR))
            + surface(ask, "floor from", face, part),
        )
        if width is None or depth is None:
            return None
        fits = [
            _inside(ask, part, width, whole / share, "in from the edge"),
            _inside(ask, part, depth, part.size[face.axis], "deep"),
        ]
        if not all(fits):
            return None
        return Step(face, edge, width.value, depth.value, fields.mirrored, width, depth)

    def removes(self, spec: Step, part: Part) -> Solid:
        """The rebate, proud of the face, the edge and both ends."""
        run = third(spec.face.axis, spec.edge.axis)
        ends, down = (-PROUD, part.size[run] + PROUD), skin(part, spec.face, spec.depth)
        first, *others = (
            block({run: ends, edge.axis: skin(part, edge, spec.width), spec.face.axis: down})
            for edge in spec.edges
        )
        return first.fuse(*others)

    def drawn(self, spec: Step, part: Part) -> list[Drawn]:
        """The width and depth, seen along the step."""
        face, edge = spec.face, spec.edge
        rim, top = level(part, edge), level(part, face)
        if spec.width_as.field == "leaves":
            rim = level(part, edge.opposite, spec.width if spec.mirrored else 0.0)
        elif spec.width_as.field == "wall from":
            rim = spec.width_as.origin
        if spec.depth_as.field == "floor from":
            top = spec.depth_as.origin
        here = vec(
            {edge.axis: level(part, edge, spec.width), face.axis: level(part, face, spec.depth)}
        )
        view = view_along(third(face.axis, edge.axis))
        return across(spec.width_as, view, here, edge.axis, rim) + across(
            spec.depth_as, view, here, face.axis, top
        )

    def ways(self, spec: Step, part: Part) -> list[Way]:
        """It is cut down from the face with the end of a cutter, or in from the edge."""
        down = tuple(_cut(spec, part, edge, inward=False) for edge in spec.edges)
        inward = tuple(_cut(spec, part, edge, inward=True) for edge in spec.edges)
        return [Way(f"from the {spec.face}", down), Way(f"from the {spec.edge}", inward)]


def _cut(step: Step, part: Part, edge: Face, *, inward: bool) -> LevelCut:
    run = third(step.face.axis, edge.axis)
    face, beside = (edge, step.face) if inward else (step.face, edge)
    depth, width = (step.width, step.depth) if inward else (step.depth, step.width)
    return LevelCut(
        face=face,
        origin=vec({beside.axis: level(part, beside), face.axis: level(part, face, depth)}),
        run=unit(run),
        across=unit(beside.axis, -beside.sign),
        normal=face.normal,
        run_length=part.size[run],
        across_length=width,
        walls=frozenset({"across+"}),
        checks=by_face(step.depth_as.checks, step.width_as, edge, step.edges),
    )


def _inside(ask: Ask, part: Part, form: Form, room: float, what: str) -> bool:
    if 0 < form.value < room:
        return True
    ask.fault(
        form.field,
        f"the step would go {show(form.value, part.unit)} {what}, where the part has "
        f"{show(room, part.unit)}",
        "check the figure and the face it is given from",
    )
    return False


KIND = StepKind()
