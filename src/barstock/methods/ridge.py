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
from barstock.methods.dimension_forms import Form, centred, leaving, one_of, position_check
from barstock.methods.kind import Drawn, Kind
from barstock.methods.place_fields import Where
from barstock.methods.places import PROUD, in_face, level, swept, third, unit, vec
from barstock.methods.round_part import is_flat
from barstock.methods.sheet_dimensions import across, view_along
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid

LEAST = 1.0  # that a ridge over part of a face is long or wide [mm]; common practice
PAST_PEAK = 1.5  # that a cutter runs out over the peak beyond its own radius [mm]; common practice
Span = tuple[float, float]


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
    begins: Where | None = Field(
        None,
        description="Of one over part of the face: where it begins, {left: 20}; across the peak, "
        "where the flat ends in a wall square to it.",
    )
    ends: Where | None = Field(None, description="Where it ends, along the same way: {right: 20}.")


@dataclass(frozen=True)
class Ridge:
    """A ridge on `face`, peak line along `axis` at `peak` across it [mm]; `angle` [degrees].

    depth: of the peak line below the face [mm]. extent: from where to where it goes along each axis
    of the part [mm]; walled: the ends of these at which it has a wall, (axis, -1 or 1).
    """

    face: Face
    axis: int
    peak: float
    angle: float
    depth: float
    peak_as: Form
    depth_as: Form
    angle_check: Check
    extent: tuple[Span, ...]
    walled: frozenset[tuple[int, int]] = frozenset()
    extent_checks: tuple[Check, ...] = ()

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
        part_of = _read_extent(fields, part, ask)
        if part_of is None:
            return None
        extent, walled, ends = part_of
        low, high = extent[cross]
        flats = (peak.value - low, high - peak.value) if peak else (high - low,)
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
        ridge = Ridge(
            face, axis, peak.value, angle.nominal, depth.value, peak, depth, check,
            extent, walled, ends,
        )  # fmt: skip
        return ridge if _fits(ridge, part, ask) else None

    def removes(self, spec: Ridge, part: Part) -> Solid:
        """The metal above the two flats, proud of the face and on every side that is open."""
        cross = third(spec.face.axis, spec.axis)

        def depth(at: float) -> float:
            return level(part, spec.face, spec.depth + abs(at - spec.peak) * spec.fall)

        def proud(axis: int) -> tuple[float, float]:
            low, high = spec.extent[axis]
            out = [0.0 if (axis, sign) in spec.walled else PROUD for sign in (-1, 1)]
            return low - out[0], high + out[1]

        feet, above = proud(cross), spec.depth + PROUD
        tops = [
            foot + sign * (above + abs(foot - spec.peak) * spec.fall) * spec.fall
            if (cross, sign) in spec.walled
            else foot
            for foot, sign in zip(feet, (-1, 1), strict=True)
        ]  # a wall stands square to its flat
        roof = level(part, spec.face, -PROUD)
        corners = [(tops[0], roof), (tops[1], roof)]
        corners += [(at, depth(at)) for at in (feet[1], spec.peak, feet[0])]
        if cross > spec.face.axis:
            corners = [(b, a) for a, b in corners]
        pieces = [(corner, 0.0) for corner in corners]
        return swept(spec.axis, pieces, *proud(spec.axis))

    def drawn(self, spec: Ridge, part: Part) -> list[Drawn]:
        """Its dimensions, seen along the peak line."""
        cross, view = third(spec.face.axis, spec.axis), view_along(spec.axis)
        peak = vec({cross: spec.peak, spec.face.axis: level(part, spec.face, spec.depth)})
        far = spec.depth_as.field == "peak height"
        base = level(part, spec.face.opposite if far else spec.face)
        far_end = spec.extent[cross][1]
        end = vec(
            {
                cross: far_end,
                spec.face.axis: level(
                    part, spec.face, spec.depth + (far_end - spec.peak) * spec.fall
                ),
            }
        )
        return [
            *across(spec.depth_as, view, peak, spec.face.axis, base),
            *across(spec.peak_as, view, peak, cross, spec.peak_as.origin),
            Drawn("angle", spec.angle_check.dimension, view, peak, end, "angle"),
            *_drawn_extent(spec, part),
        ]

    def ways(self, spec: Ridge, part: Part) -> list[Way]:
        """Each flat is cut level under the cutter in turn, from the peak to its end."""
        low, high = _flat(spec, part, -1), _flat(spec, part, 1)
        cuts = tuple(
            replace(cut, checks=_checks(spec, part, sign, last=cut is high))
            for cut, sign in ((low, -1), (high, 1))
        )
        return [Way("tilted, with an end mill", cuts)]


def _flat(ridge: Ridge, part: Part, sign: int) -> LevelCut:
    cross, up = third(ridge.face.axis, ridge.axis), ridge.face
    feet, (low, high) = ridge.extent[cross], ridge.extent[ridge.axis]
    away, beyond = (abs(feet[sign * n > 0] - ridge.peak) for n in (1, -1))
    walls = {f"across{'-' if end < 0 else '+'}" for end in (-1, 1)
             if (ridge.axis, end) in ridge.walled}  # fmt: skip
    walls |= {"run+"} if (cross, sign) in ridge.walled else set()
    cos, sin = math.cos(math.radians(ridge.angle)), math.sin(math.radians(ridge.angle))
    return LevelCut(
        face=up,
        origin=vec({cross: ridge.peak, ridge.axis: low, up.axis: level(part, up, ridge.depth)}),
        run=vec({cross: sign * cos, up.axis: -up.sign * sin}),
        across=unit(ridge.axis),
        normal=vec({cross: sign * sin, up.axis: up.sign * cos}),
        run_length=away / cos,
        across_length=high - low,
        walls=frozenset(walls),
        # over the peak the cutter runs out above the other flat, and not into its wall
        corner=max(beyond - PAST_PEAK, 0.5) if (cross, -sign) in ridge.walled else 0.0,
        lean=ridge.angle,
    )


def _checks(ridge: Ridge, part: Part, sign: int, *, last: bool) -> tuple[Check, ...]:
    side = Face.of(third(ridge.face.axis, ridge.axis), sign)
    angle = replace(ridge.angle_check, name=f"angle {side}")
    if not last:
        return (angle,)
    return (angle, *ridge.depth_as.checks, *ridge.peak_as.checks, *ridge.extent_checks)


def _fits(ridge: Ridge, part: Part, ask: Ask) -> bool:
    cross, whole = third(ridge.face.axis, ridge.axis), part.size[ridge.face.axis]
    low, high = ridge.extent[cross]
    if not 0 < ridge.angle < 60:
        ask.fault(
            "angle", f"{ridge.angle:g} degrees is no fall for a ridge", "give 0 to 60 degrees"
        )
        return False
    if not low < ridge.peak < high:
        what = f"the peak lies {show(max(low - ridge.peak, ridge.peak - high), part.unit)} off the"
        what += " ridge" if ridge.walled else " face"
        ask.fault("position", what, "give a place between where it begins and ends")
        return False
    deepest = ridge.depth + max(ridge.peak - low, high - ridge.peak) * ridge.fall
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


Extent = tuple[tuple[Span, ...], frozenset[tuple[int, int]], tuple[Check, ...]]


def _read_extent(fields: RidgeFields, part: Part, ask: Ask) -> Extent | None:
    """From where to where a ridge goes along both axes of its face, with the ends at which it has a
    wall; None after reporting what is wrong."""
    u, v = in_face(fields.face.axis)
    extent: list[Span] = [(0.0, size) for size in part.size]
    walled: set[tuple[int, int]] = set()
    checks: list[Check] = []
    for field, written, sign in (("begins", fields.begins, -1), ("ends", fields.ends, 1)):
        if written is None:
            continue
        axis = u if _along(written, u) else v
        found = ask.offset(field, axis)
        if found is None:
            return None
        low, high = extent[axis]
        extent[axis] = (found.value, high) if sign < 0 else (low, found.value)
        walled.add((axis, sign))
        check = position_check(found, axis, EndKind.NEAR_END)
        checks += [replace(check, name=field)] if check else []
    if len({axis for axis, _ in walled}) > 1:
        what = "it begins across the peak and ends along it, or the other way round"
        ask.fault("ends", what, "give both across the peak, or both along it")
        return None
    for axis, (low, high) in enumerate(extent):
        if low < -1e-6 or high > part.size[axis] + 1e-6 or high - low < LEAST:
            what = f"it would go from {show(low, part.unit)} to {show(high, part.unit)}"
            ask.fault("ends" if fields.ends else "begins", what, "give two places on the face")
            return None
    return tuple(extent), frozenset(walled), tuple(checks)


def _along(written: Where, axis: int) -> bool:
    """Is a place written along an axis?"""
    names = {AXES[axis], *(Face.of(axis, sign).value for sign in (-1, 1))}
    return bool(names & set(written))


def _drawn_extent(ridge: Ridge, part: Part) -> list[Drawn]:
    """Where it begins and ends, seen on its face."""
    found = []
    top = {ridge.face.axis: level(part, ridge.face, ridge.depth)}
    for check in ridge.extent_checks:
        axis, sign = next((a, s) for a, s in ridge.walled if (s < 0) == (check.name == "begins"))
        at = ridge.extent[axis][sign > 0]
        datum = check.runs[0].face if check.runs else None
        origin = level(part, datum) if datum else part.size[axis] / 2
        other = third(ridge.face.axis, axis)
        here, there = (vec({**top, axis: x, other: ridge.extent[other][0]}) for x in (at, origin))
        found.append(Drawn(check.name, check.dimension, view_along(ridge.face.axis), here, there))
    return found


KIND = RidgeKind()
