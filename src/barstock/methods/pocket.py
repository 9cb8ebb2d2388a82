"""A pocket: a rectangular or round hollow sunk into a face."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind, between
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask
from barstock.methods.corner_radius import corner_radius
from barstock.methods.cuts import Check, HoleCut, LevelCut, Way
from barstock.methods.dimension_forms import (
    Form,
    deep,
    one_of,
    right_through,
    sized,
    surface,
)
from barstock.methods.hole_places import Placed, Spreads, place_checks, placed
from barstock.methods.kind import Drawn, Kind
from barstock.methods.place_fields import At, Where
from barstock.methods.places import (
    Flat,
    in_face,
    level,
    moved,
    rounded,
    sharpest,
    skin,
    swept,
    unit,
    vec,
)
from barstock.methods.sheet_dimensions import across, view_along
from barstock.quantities import show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid, cylinder, nothing


class PocketFields(FeatureFields[ByHand]):
    """A pocket as written."""

    kind: Literal["pocket"] = Field("pocket", description="A hollow sunk into a face.")
    face: Face = Field(description="Face it is sunk into.")
    at: At | None = Field(
        None,
        description="Its centre, {length: centre, width: centre}; or of several alike a list or "
        "pattern.",
    )
    length: Written | None = Field(None, description="Size along the part's length.")
    width: Written | None = Field(None, description="Size along the part's width.")
    height: Written | None = Field(None, description="Size along the part's height.")
    corner_radius: Written | None = Field(
        None,
        description="Radius of its upright corners; without it, or with 0, what a cutter leaves.",
    )
    diameter: Written | None = Field(None, description="Of a round pocket, instead of two sizes.")
    depth: Written | None = Field(
        None,
        description="From the face down to the floor; `through` where it goes right through.",
    )
    floor_from: Where | None = Field(
        None, description="Instead of depth: where the floor is, e.g. {bottom: 3}."
    )


@dataclass(frozen=True)
class Pocket:
    """Pockets alike in `face` round `centres` (in the face's two axes), of `size` along them [mm].

    corner: radius of its corners; half of both sizes where it is round [mm]. places: how the
    centres are given; spreads: how far apart those of a row lie.
    """

    face: Face
    centres: tuple[Flat, ...]
    size: tuple[float, float]
    corner: float
    depth: float
    sizes_as: tuple[Form, ...]
    depth_as: Form
    places: Placed
    spreads: Spreads
    corner_check: Check | None

    @property
    def round(self) -> bool:
        """Is it a round pocket?"""
        return self.corner_check is None

    @property
    def sharpest(self) -> float:
        """The least radius that will do for its corners; 0 where it is round [mm]."""
        check = self.corner_check
        return sharpest(self.corner, check.dimension) if check else 0.0

    def low(self, centre: Flat) -> Flat:
        """The low corner of the one round a centre, in the face's two axes [mm]."""
        return (centre[0] - self.size[0] / 2, centre[1] - self.size[1] / 2)

    def high(self, centre: Flat) -> Flat:
        """The high corner of the one round a centre, in the face's two axes [mm]."""
        return (centre[0] + self.size[0] / 2, centre[1] + self.size[1] / 2)


class PocketKind(Kind):
    """The kind of a pocket."""

    name = "pocket"
    summary = "A rectangular or round hollow sunk into a face."
    walled = True
    fields: type[FeatureFields[Any]] = PocketFields

    def resolve(self, fields: PocketFields, part: Part, ask: Ask) -> Pocket | None:
        """The pocket in millimetres, or None after reporting what is wrong."""
        face = fields.face
        sizes = _sizes(face, part, ask)
        corner = None
        if sizes and not ask.given("diameter"):
            corner = _corner(fields, ask, min(form.value for form in sizes), part)
        depth = one_of(
            ask,
            part,
            "depth of the pocket",
            "'depth' or 'floor from'",
            deep(ask, part, face, fields.depth) + surface(ask, "floor from", face, part),
        )
        points = ask.points("at", face)
        if sizes is None or depth is None or points is None:
            return None
        if not ask.given("diameter") and corner is None:
            return None
        places, spreads = placed(points, part, face)
        pocket = Pocket(
            face,
            tuple((point.u.value, point.v.value) for point in points),
            (sizes[0].value, sizes[-1].value),
            corner.dimension.nominal if corner else sizes[0].value / 2,
            depth.value,
            sizes,
            depth,
            places,
            spreads,
            corner,
        )
        return pocket if _fits(pocket, part, ask) else None

    def removes(self, spec: Pocket, part: Part) -> Solid:
        """The hollows, proud of the face."""
        return nothing().fuse(*(_hollow(spec, part, centre) for centre in spec.centres))

    def may_remove(self, spec: Pocket, part: Part) -> Solid | None:
        """The metal that a somewhat smaller cutter takes out of its corners."""
        if spec.corner_check is None:
            return None
        return self.removes(replace(spec, corner=spec.sharpest), part)

    def room(self, spec: Pocket) -> tuple[float, float]:
        """The round room within its walls."""
        return min(spec.size), spec.depth

    def drawn(self, spec: Pocket, part: Part) -> list[Drawn]:
        """Its sizes, corners and place on its face, the depth from the side."""
        axes, face, first = in_face(spec.face.axis), spec.face, spec.centres[0]
        view, top = view_along(face.axis), level(part, face)
        (left, near), high = spec.low(first), spec.high(first)
        low = vec({axes[0]: left, axes[1]: near, face.axis: top})
        middle = vec({axes[0]: first[0], axes[1]: first[1], face.axis: top})
        edge = moved(middle, axes[0], high[0])
        count = f"{len(spec.centres)} × " if len(spec.centres) > 1 else ""
        dims: list[Drawn] = []
        if spec.corner_check is None:
            size = spec.sizes_as[0].checks[0].dimension
            prefix = f"{count}⌀"
            dims.append(
                Drawn("diameter", size, view, middle, edge, "diameter", prefix, hollow=True)
            )
        else:
            for form, axis, end in zip(spec.sizes_as, axes, high, strict=True):
                dims += across(form, view, low, axis, end, hollow=True)
            inset = moved(moved(low, axes[0], left + spec.corner), axes[1], near + spec.corner)
            back = spec.corner * (1 - math.sqrt(0.5))  # from the sharp corner to the arc's middle
            rim = moved(moved(low, axes[0], left + back), axes[1], near + back)
            if spec.corner:
                size = spec.corner_check.dimension
                dims.append(Drawn("corner radius", size, view, inset, rim, "radius", "R"))
        for axis, form in spec.places:
            place = next(c for c in spec.centres if abs(c[axes.index(axis)] - form.value) < 1e-6)
            here = vec({axes[0]: place[0], axes[1]: place[1], face.axis: top})
            dims += across(form, view, here, axis, form.origin)
        for axis, spread, begin in spec.spreads:
            place = next(c for c in spec.centres if abs(c[axes.index(axis)] - begin) < 1e-6)
            here = vec({axes[0]: place[0], axes[1]: place[1], face.axis: top})
            there = moved(here, axis, begin + spread.size.nominal)
            dims.append(Drawn(spread.name, spread.size, view, here, there))
        to = spec.depth_as.origin if spec.depth_as.field == "floor from" else top
        floor = moved(edge, face.axis, level(part, face, spec.depth))
        return dims + across(spec.depth_as, view_along(axes[1]), floor, face.axis, to)

    def ways(self, spec: Pocket, part: Part) -> list[Way]:
        """It is milled to the corner's radius; a round one is plunged or bored."""
        u, v = in_face(spec.face.axis)
        sizes = tuple(check for form in (*spec.sizes_as, spec.depth_as) for check in form.checks)
        places = tuple(place_checks(spec.places, spec.spreads))
        if spec.corner_check is None:
            top = level(part, spec.face)
            centres = tuple(vec({u: a, v: b, spec.face.axis: top}) for a, b in spec.centres)
            return [
                Way(
                    name,
                    (
                        HoleCut(
                            spec.face,
                            centres,
                            spec.size[0],
                            spec.depth,
                            through=False,
                            finish=finish,
                            flat=True,
                            checks=(*sizes, *places),
                        ),
                    ),
                )
                for name, finish in (("plunged with an end mill", "drilled"), ("bored", "bored"))
            ]
        cuts = []
        for n, centre in enumerate(spec.centres, 1):
            low = spec.low(centre)
            last = places if n == len(spec.centres) else ()
            own = (*sizes, *last, spec.corner_check)
            if n > 1:
                own = tuple(replace(one, name=f"{one.name} ({n})", nth=n) for one in own)
            cuts.append(
                LevelCut(
                    face=spec.face,
                    origin=vec(
                        {u: low[0], v: low[1], spec.face.axis: level(part, spec.face, spec.depth)}
                    ),
                    run=unit(u),
                    across=unit(v),
                    normal=spec.face.normal,
                    run_length=spec.size[0],
                    across_length=spec.size[1],
                    walls=frozenset({"run-", "run+", "across-", "across+"}),
                    corner=spec.corner,
                    sharpest=spec.sharpest,
                    checks=own,
                )
            )
        return [Way("with an end mill", tuple(cuts))]


def _sizes(face: Face, part: Part, ask: Ask) -> tuple[Form, ...] | None:
    """The diameter alone, or the sizes along the face's two axes."""
    names = [AXES[axis] for axis in in_face(face.axis)]
    stray = [name for name in AXES if name not in names]
    wrong = [
        name for name in (*stray, *(names if ask.given("diameter") else ())) if ask.given(name)
    ]
    for name in wrong:
        if name in stray:
            ask.fault(name, f"a pocket in {face} has no {name}", f"give {names[0]} and {names[1]}")
        else:
            ask.fault(name, f"a round pocket has no {name}", "give the diameter alone")
    if wrong:
        return None
    wanted = ["diameter"] if ask.given("diameter") else names
    sort = CheckSort.DIAMETER if ask.given("diameter") else CheckSort.INSIDE
    walls = between(EndKind.WALL, EndKind.WALL)
    forms = [
        one_of(ask, part, f"{name} of the pocket", f"'{name}'", sized(ask, name, sort, walls))
        for name in wanted
    ]
    found = tuple(form for form in forms if form is not None)
    return found if len(found) == len(forms) else None


def _hollow(spec: Pocket, part: Part, centre: Flat) -> Solid:
    floor, roof = skin(part, spec.face, spec.depth)
    if spec.round:
        u, v = in_face(spec.face.axis)
        base = vec({u: centre[0], v: centre[1], spec.face.axis: floor})
        return cylinder(base, unit(spec.face.axis), spec.corner, roof - floor)
    outline = rounded(spec.low(centre), spec.high(centre), (spec.corner,) * 4)
    return swept(spec.face.axis, outline, floor, roof)


def _corner(fields: PocketFields, ask: Ask, width: float, part: Part) -> Check | None:
    size = corner_radius(ask, fields.corner_radius, width, part.unit)
    if size is None:
        return None
    cutter = between(EndKind.CUTTER, EndKind.CUTTER)
    return Check("corner radius", size, CheckSort.INSIDE, cutter)


def _fits(pocket: Pocket, part: Part, ask: Ask) -> bool:
    good = True
    for i, axis in enumerate(in_face(pocket.face.axis)):
        out = max(
            max(-pocket.low(centre)[i], pocket.high(centre)[i] - part.size[axis])
            for centre in pocket.centres
        )
        if out > -1e-6:
            ask.fault(
                "at",
                f"the pocket runs {show(max(out, 0.0), part.unit)} out of the part's {AXES[axis]}",
                "check its size and place, or make it a slot",
            )
            good = False
    if pocket.corner > min(pocket.size) / 2 + 1e-6:
        ask.fault(
            "corner radius", "the radius is more than half the pocket's width", "make it less"
        )
        good = False
    whole = part.size[pocket.face.axis]
    if not right_through(pocket.depth_as) and not 0 < pocket.depth < whole:
        ask.fault(
            pocket.depth_as.field,
            f"the pocket would be {show(pocket.depth, part.unit)} deep; the part has "
            f"{show(whole, part.unit)}",
            "check the depth and the face it is given from; one that goes right through is written "
            "'depth: through'",
        )
        good = False
    return good


KIND = PocketKind()
