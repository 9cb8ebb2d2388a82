"""A ridge: two flats falling away at an angle from a peak line."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, End, EndKind, from_face
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.cuts import Check, LevelCut, Way
from barstock.methods.dimension_forms import Form, centred, leaving, one_of
from barstock.methods.kind import Drawn, Kind
from barstock.methods.place_fields import Where
from barstock.methods.places import PROUD, in_face, level, swept, third, unit, vec
from barstock.methods.round_part import is_flat
from barstock.methods.sheet_dimensions import across, view_along
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid


class RidgeFields(FeatureFields[ByHand]):
    """A ridge as written."""

    kind: Literal["ridge"] = Field("ridge", description="Two flats falling away from a peak.")
    face: Face = Field(description="Face the ridge is cut on.")
    peak_along: Literal["length", "width", "height"] = Field(
        description="Which way the peak line runs."
    )
    position: Where | None = Field(None, description="Where the peak line is: {length: centre}.")
    angle: Written | None = Field(None, description="Fall of each flat [degrees].")
    depth_at_peak: Written | None = Field(
        None, description="From the face down to the peak line; 0 if not given."
    )
    peak_height: Written | None = Field(
        None, description="Instead of the depth: from the far face up to the peak line."
    )


@dataclass(frozen=True)
class Ridge:
    """A ridge on `face`, peak line along `axis` at `peak` across it [mm]; `angle` [degrees].

    depth: of the peak line below the face [mm].
    """

    face: Face
    axis: int
    peak: float
    angle: float
    depth: float
    peak_as: Form
    depth_as: Form
    angle_check: Check

    @property
    def fall(self) -> float:
        """Fall of the flats for each mm away from the peak."""
        return math.tan(math.radians(self.angle))


class RidgeKind(Kind):
    """The kind of a ridge."""

    name = "ridge"
    summary = "Two flats falling away at an angle from a peak line."
    fields: type[FeatureFields[Any]] = RidgeFields

    def resolve(self, fields: RidgeFields, part: Part, ask: Ask) -> Ridge | None:
        """The ridge in millimetres, or None after reporting what is wrong."""
        if not is_flat(ask, part, "a ridge"):
            return None
        face, axis = fields.face, AXES.index(fields.peak_along)
        if axis == face.axis:
            flat = " or ".join(AXES[i] for i in in_face(face.axis))
            what = f"the peak cannot run along the {fields.peak_along} on {face}"
            ask.fault("peak along", what, f"say {flat}")
            return None
        cross, whole = third(face.axis, axis), part.size[face.axis]
        peak = one_of(
            ask, part, "position of the peak", "'position'", centred(ask, "position", cross, part)
        )
        flats = (peak.value, part.size[cross] - peak.value) if peak else (part.size[cross],)
        angle = ask.angle("angle", max(min(flats), 0.0))
        far = from_face(face.opposite, EndKind.PEAK)
        depths = leaving(ask, "peak height", whole, 1, far)
        if ask.given("depth at peak"):
            size = ask.size("depth at peak", positive=False)
            size = size.aimed() if size else None
            runs = from_face(face, EndKind.PEAK)
            depths.append(
                Form(
                    "depth at peak",
                    size.nominal,
                    Check("depth at peak", size, CheckSort.DEPTH, runs),
                )
                if size
                else None
            )
        if not depths:
            depths.append(Form("depth at peak", 0.0, None))
        depth = one_of(ask, part, "depth of the peak", "'depth at peak' or 'peak height'", depths)
        if angle is None or peak is None or depth is None:
            return None
        slope = End(EndKind.FLAT), End(EndKind.FACE, face.opposite)
        check = Check("angle", angle, CheckSort.ANGLE, slope)
        ridge = Ridge(face, axis, peak.value, angle.nominal, depth.value, peak, depth, check)
        return ridge if _fits(ridge, part, ask) else None

    def removes(self, spec: Ridge, part: Part) -> Solid:
        """The metal above the two flats, proud of the face and on every side."""
        cross = third(spec.face.axis, spec.axis)
        ends = (-PROUD, part.size[cross] + PROUD)

        def depth(at: float) -> float:
            return level(part, spec.face, spec.depth + abs(at - spec.peak) * spec.fall)

        roof = level(part, spec.face, -PROUD)
        corners = [(ends[0], roof), (ends[1], roof)]
        corners += [(at, depth(at)) for at in (ends[1], spec.peak, ends[0])]
        if cross > spec.face.axis:
            corners = [(b, a) for a, b in corners]
        pieces = [(corner, 0.0) for corner in corners]
        return swept(spec.axis, pieces, -PROUD, part.size[spec.axis] + PROUD)

    def drawn(self, spec: Ridge, part: Part) -> list[Drawn]:
        """Its dimensions, seen along the peak line."""
        cross, view = third(spec.face.axis, spec.axis), view_along(spec.axis)
        peak = vec({cross: spec.peak, spec.face.axis: level(part, spec.face, spec.depth)})
        far = spec.depth_as.field == "peak height"
        base = level(part, spec.face.opposite if far else spec.face)
        end = vec(
            {
                cross: part.size[cross],
                spec.face.axis: level(
                    part, spec.face, spec.depth + (part.size[cross] - spec.peak) * spec.fall
                ),
            }
        )
        return [
            *across(spec.depth_as, view, peak, spec.face.axis, base),
            *across(spec.peak_as, view, peak, cross, spec.peak_as.origin),
            Drawn("angle", spec.angle_check.dimension, view, peak, end, "angle"),
        ]

    def ways(self, spec: Ridge, part: Part) -> list[Way]:
        """Each flat is cut level under the cutter in turn, from the peak to the part's side."""
        low, high = _flat(spec, part, -1), _flat(spec, part, 1)
        cuts = tuple(
            replace(cut, checks=_checks(spec, part, sign, last=cut is high))
            for cut, sign in ((low, -1), (high, 1))
        )
        return [Way("tilted, with an end mill", cuts)]


def _flat(ridge: Ridge, part: Part, sign: int) -> LevelCut:
    cross, up = third(ridge.face.axis, ridge.axis), ridge.face
    away = ridge.peak if sign < 0 else part.size[cross] - ridge.peak
    cos, sin = math.cos(math.radians(ridge.angle)), math.sin(math.radians(ridge.angle))
    return LevelCut(
        face=up,
        origin=vec({cross: ridge.peak, up.axis: level(part, up, ridge.depth)}),
        run=vec({cross: sign * cos, up.axis: -up.sign * sin}),
        across=unit(ridge.axis),
        normal=vec({cross: sign * sin, up.axis: up.sign * cos}),
        run_length=away / cos,
        across_length=part.size[ridge.axis],
        walls=frozenset(),
        lean=ridge.angle,
    )


def _checks(ridge: Ridge, part: Part, sign: int, *, last: bool) -> tuple[Check, ...]:
    side = Face.of(third(ridge.face.axis, ridge.axis), sign)
    angle = replace(ridge.angle_check, name=f"angle {side}")
    return (angle, *ridge.depth_as.checks, *ridge.peak_as.checks) if last else (angle,)


def _fits(ridge: Ridge, part: Part, ask: Ask) -> bool:
    cross, whole = third(ridge.face.axis, ridge.axis), part.size[ridge.face.axis]
    room = part.size[cross]
    if not 0 < ridge.angle < 60:
        ask.fault(
            "angle", f"{ridge.angle:g} degrees is no fall for a ridge", "give 0 to 60 degrees"
        )
        return False
    if not 0 < ridge.peak < room:
        what = f"the peak lies {show(max(-ridge.peak, ridge.peak - room), part.unit)} off the face"
        ask.fault("position", what, "give a place inside the face")
        return False
    deepest = ridge.depth + max(ridge.peak, room - ridge.peak) * ridge.fall
    if ridge.depth < -1e-6 or deepest >= whole:
        ask.fault(
            ridge.depth_as.field,
            f"the flats would lie {show(ridge.depth, part.unit)} to {show(deepest, part.unit)} "
            "below the face; "
            f"the part has {show(whole, part.unit)}",
            "check the depth at the peak and the angle",
        )
        return False
    return True


KIND = RidgeKind()
