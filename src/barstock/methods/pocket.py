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
from barstock.methods.cuts import Check, HoleCut, LevelCut, Way
from barstock.methods.dimension_forms import (
    Form,
    deep,
    one_of,
    position_check,
    right_through,
    sized,
    surface,
)
from barstock.methods.kind import Drawn, Kind
from barstock.methods.place_fields import At, Where
from barstock.methods.places import (
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
from barstock.quantities import Dimension, show
from barstock.reading.fields import Written
from barstock.solids.shapes import Solid, cylinder

SHARP = Dimension(0.0, text="sharp")
"""The radius of corners that are filed out by hand."""


class PocketFields(FeatureFields[ByHand]):
    """A pocket as written."""

    kind: Literal["pocket"] = Field("pocket", description="A hollow sunk into a face.")
    face: Face = Field(description="Face it is sunk into.")
    at: At | None = Field(None, description="Its centre: {length: centre, width: centre}.")
    length: Written | None = Field(None, description="Size along the part's length.")
    width: Written | None = Field(None, description="Size along the part's width.")
    height: Written | None = Field(None, description="Size along the part's height.")
    corner_radius: Written | None = Field(None, description="Radius of its upright corners.")
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
    """A pocket in `face` round `centre` (in the face's two axes), of `size` along them [mm].

    corner: radius of its corners; half of both sizes where it is round [mm].
    """

    face: Face
    centre: tuple[float, float]
    size: tuple[float, float]
    corner: float
    depth: float
    sizes_as: tuple[Form, ...]
    depth_as: Form
    places_as: tuple[Form, Form]
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

    @property
    def low(self) -> tuple[float, float]:
        """Its low corner in the face's two axes [mm]."""
        return (self.centre[0] - self.size[0] / 2, self.centre[1] - self.size[1] / 2)

    @property
    def high(self) -> tuple[float, float]:
        """Its high corner in the face's two axes [mm]."""
        return (self.centre[0] + self.size[0] / 2, self.centre[1] + self.size[1] / 2)


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
        if not ask.given("diameter"):
            corner = _corner(ask)
        depth = one_of(
            ask,
            part,
            "depth of the pocket",
            "'depth' or 'floor from'",
            deep(ask, part, face, fields.depth) + surface(ask, "floor from", face, part),
        )
        places = _places(face, part, ask)
        if sizes is None or depth is None or places is None:
            return None
        if not ask.given("diameter") and corner is None:
            return None
        pocket = Pocket(
            face,
            (places[0].value, places[1].value),
            (sizes[0].value, sizes[-1].value),
            corner.dimension.nominal if corner else sizes[0].value / 2,
            depth.value,
            sizes,
            depth,
            places,
            corner,
        )
        return pocket if _fits(pocket, part, ask) else None

    def removes(self, spec: Pocket, part: Part) -> Solid:
        """The hollow, proud of the face."""
        floor, roof = skin(part, spec.face, spec.depth)
        if spec.round:
            u, v = in_face(spec.face.axis)
            base = vec({u: spec.centre[0], v: spec.centre[1], spec.face.axis: floor})
            return cylinder(base, unit(spec.face.axis), spec.corner, roof - floor)
        return swept(spec.face.axis, rounded(spec.low, spec.high, (spec.corner,) * 4), floor, roof)

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
        axes, face = in_face(spec.face.axis), spec.face
        view, top = view_along(face.axis), level(part, face)
        low = vec({axes[0]: spec.low[0], axes[1]: spec.low[1], face.axis: top})
        middle = vec({axes[0]: spec.centre[0], axes[1]: spec.centre[1], face.axis: top})
        edge = moved(middle, axes[0], spec.high[0])
        dims: list[Drawn] = []
        if spec.corner_check is None:
            size = spec.sizes_as[0].checks[0].dimension
            dims.append(Drawn("diameter", size, view, middle, edge, "diameter", "⌀", hollow=True))
        else:
            for form, axis, end in zip(spec.sizes_as, axes, spec.high, strict=True):
                dims += across(form, view, low, axis, end, hollow=True)
            inset = moved(
                moved(low, axes[0], spec.low[0] + spec.corner), axes[1], spec.low[1] + spec.corner
            )
            back = spec.corner * (1 - math.sqrt(0.5))  # from the sharp corner to the arc's middle
            rim = moved(moved(low, axes[0], spec.low[0] + back), axes[1], spec.low[1] + back)
            if spec.corner:
                dims.append(
                    Drawn(
                        "corner radius",
                        spec.corner_check.dimension,
                        view,
                        inset,
                        rim,
                        "radius",
                        "R",
                    )
                )
        for form, axis in zip(spec.places_as, axes, strict=True):
            dims += across(form, view, middle, axis, form.origin)
        to = spec.depth_as.origin if spec.depth_as.field == "floor from" else top
        floor = moved(edge, face.axis, level(part, face, spec.depth))
        return dims + across(spec.depth_as, view_along(axes[1]), floor, face.axis, to)

    def ways(self, spec: Pocket, part: Part) -> list[Way]:
        """It is milled to the corner's radius; a round one is plunged or bored."""
        u, v = in_face(spec.face.axis)
        checks = tuple(
            check
            for form in (*spec.sizes_as, spec.depth_as, *spec.places_as)
            for check in form.checks
        )
        if spec.corner_check is None:
            centre = vec(
                {u: spec.centre[0], v: spec.centre[1], spec.face.axis: level(part, spec.face)}
            )
            return [
                Way(
                    name,
                    (
                        HoleCut(
                            spec.face,
                            (centre,),
                            spec.size[0],
                            spec.depth,
                            through=False,
                            finish=finish,
                            flat=True,
                            checks=checks,
                        ),
                    ),
                )
                for name, finish in (("plunged with an end mill", "drilled"), ("bored", "bored"))
            ]
        cut = LevelCut(
            face=spec.face,
            origin=vec(
                {
                    u: spec.low[0],
                    v: spec.low[1],
                    spec.face.axis: level(part, spec.face, spec.depth),
                }
            ),
            run=unit(u),
            across=unit(v),
            normal=spec.face.normal,
            run_length=spec.size[0],
            across_length=spec.size[1],
            walls=frozenset({"run-", "run+", "across-", "across+"}),
            corner=spec.corner,
            sharpest=spec.sharpest,
            checks=(*checks, spec.corner_check),
        )
        return [Way("with an end mill", (cut,))]


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


def _corner(ask: Ask) -> Check | None:
    size = ask.size("corner radius") if ask.given("corner radius") else None
    if size is None and not ask.given("corner radius") and ask.given("finish"):
        size = SHARP
    if size is None:
        if not ask.given("corner radius"):
            ask.fault(
                None,
                "the corners of the pocket have no radius; a round cutter leaves no sharp corner",
                "give a 'corner radius', half the diameter of the cutter to be used; or, if they "
                "are filed out, 'finish: by hand'",
            )
        return None
    cutter = between(EndKind.CUTTER, EndKind.CUTTER)
    return Check("corner radius", size, CheckSort.INSIDE, cutter)


def _places(face: Face, part: Part, ask: Ask) -> tuple[Form, Form] | None:
    points = ask.points("at", face)
    if points is None:
        return None
    if len(points) != 1:
        ask.fault("at", "a pocket has one centre", "write each pocket as a feature of its own")
        return None
    forms = []
    for axis, found in zip(in_face(face.axis), (points[0].u, points[0].v), strict=True):
        centre = part.size[axis] / 2
        origin = centre if found.given_from == "centre" else level(part, Face(found.given_from))
        forms.append(Form("at", found.value, position_check(found, axis), origin))
    return (forms[0], forms[1])


def _fits(pocket: Pocket, part: Part, ask: Ask) -> bool:
    good = True
    for axis, low, high in zip(in_face(pocket.face.axis), pocket.low, pocket.high, strict=True):
        out = max(-low, high - part.size[axis])
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
