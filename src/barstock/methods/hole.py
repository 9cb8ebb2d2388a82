"""Round holes: drilled, reamed, bored or tapped; through or blind; countersunk, counterbored."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.other_hands import FeatureFields, HandFinish
from barstock.drawing.questions import Ask, Ring
from barstock.methods.cuts import HoleCut, Way
from barstock.methods.hole_bore import Bore, read_bore, tip
from barstock.methods.hole_fields import HoleFields
from barstock.methods.hole_mouth import PLAIN, Mouth, read_far_mouth, read_mouth
from barstock.methods.hole_places import (
    Placed,
    Spreads,
    on_circle,
    place_checks,
    place_form,
    placed,
)
from barstock.methods.kind import Drawn, Kind
from barstock.methods.places import PROUD, in_face, level, moved, vec
from barstock.methods.round_part import meets_round, turned_off
from barstock.methods.sheet_dimensions import across, view_along
from barstock.quantities import show
from barstock.solids.shapes import Solid, cone, cylinder, nothing

ON_SIDE = 0.005
"""A centre within this of a side lies on it [mm]."""


@dataclass(frozen=True)
class Hole:
    """Holes alike in `face`, at points on the plane they start from [mm, part frame].

    bore: the hole itself. mouth: countersink or counterbore. places: how the centres are given;
    spreads: how far apart those of a row lie, from its first (the axis, there, and the coordinate).
    rings: the pitch circles; around: how the places on them are set and checked.
    breaks_into: features whose hollow may cut its side open. with_mate: drilled as one with its
    mate, so that it may lie half in the part.
    """

    face: Face
    at: tuple[Vec, ...]
    bore: Bore
    mouth: Mouth
    places: Placed
    spreads: Spreads = ()
    rings: tuple[Ring, ...] = ()
    around: Placed = ()
    breaks_into: tuple[str, ...] = ()
    with_mate: bool = False
    far: Mouth = PLAIN


class HoleKind(Kind):
    """The kind of a hole, or of a pattern of holes alike."""

    name = "hole"
    summary = "A round hole or a pattern of them: drilled, reamed, bored or tapped."
    round_holes = True
    fields: type[FeatureFields[Any]] = HoleFields

    def resolve(self, fields: HoleFields, part: Part, ask: Ask) -> Hole | None:
        """The hole in millimetres, or None after reporting what is wrong."""
        face, start = fields.face, 0.0
        if ask.given("starts below"):
            start = ask.length("starts below") or 0.0
        points = ask.points("at", face)
        bore = read_bore(fields, ask, part.size[face.axis] - start)
        mouth = read_mouth(fields.countersink, fields.counterbore, ask, part, bore)
        far = read_far_mouth(fields.far_countersink, ask, part, bore)
        if points is None or bore is None or mouth is None or far is None:
            return None
        u, v = in_face(face.axis)
        at = tuple(
            vec({u: p.u.value, v: p.v.value, face.axis: level(part, face, start)}) for p in points
        )
        on_rings = [point for point in points if point.ring]
        places, spreads = placed([point for point in points if not point.ring], part, face)
        around, _ = placed(on_rings, part, face)
        rings = tuple(dict.fromkeys(point.ring for point in on_rings if point.ring))
        meant = fields.breaks_into
        into = (meant,) if isinstance(meant, str) else tuple(meant)
        with_mate = fields.finish == HandFinish.WITH_MATE.value
        if not with_mate and _on_a_side(at, face, part):
            what = "its centre lies on the side of the part, which has but half of it"
            mend = "it is made with its mate clamped on: 'finish: with its mate'"
            ask.fault("at", what, mend, grade="lacking")
            with_mate = True
        hole = Hole(face, at, bore, mouth, places, spreads, rings, around, into, with_mate, far)
        on_it = not part.round or meets_round(ask, part, face, at, bore.radius, start > 0)
        return hole if on_it and _fits(hole, part, ask) else None

    def needs_mate(self, spec: Hole) -> bool:
        """Half of a hole is made with its mate clamped on."""
        return spec.with_mate

    def removes(self, spec: Hole, part: Part) -> Solid:
        """The holes to their drawn shape, proud of the face and, if through, of the far face."""
        bore, mouth = spec.bore, spec.mouth
        solids = []
        for at in spec.at:
            down = _inward(spec.face)
            depth = bore.depth + (PROUD if bore.through else 0.0)
            solids.append(_drilled(at, down, bore.radius, depth, point=bore.pointed))
            if bore.drilled_through:
                deep = bore.drill_depth + PROUD
                solids.append(_drilled(at, down, bore.drill / 2, deep, point=False))
            if mouth.counterbore:
                wide, deep = mouth.counterbore
                solids.append(_drilled(at, down, wide / 2, deep, point=False))
            out = moved(at, spec.face.axis, level(part, spec.face.opposite))
            for cut, point, way in ((mouth, at, down), (spec.far, out, spec.face.normal)):
                if cut.countersink:
                    wide, deep = cut.countersink[0], cut.sink_depth(bore.diameter)
                    solids.append(cone(point, way, wide / 2, bore.radius, deep))
                    solids.append(_drilled(point, way, wide / 2, 0.0, point=False))
        return nothing().fuse(*solids)

    def may_remove(self, spec: Hole, part: Part) -> Solid | None:
        """The drill's extra depth and point below a blind hole that is not drawn with them; of a
        round, what lies over the hole and is turned off."""
        bore, down, over = spec.bore, _inward(spec.face), _room(spec, part)
        over = part.size[spec.face.axis] - over if turned_off(spec.face, spec.at, part) else 0.0
        extra = [
            cylinder(moved(at, spec.face.axis, level(part, spec.face)), down, bore.radius, over)
            for at in spec.at
            if over > 0.0
        ]
        if bore.may_be_pointed:
            extra += [_drilled(at, down, bore.radius, bore.depth, point=True) for at in spec.at]
        elif not bore.through and not bore.drilled_through and bore.drill_depth > 0:
            extra += [
                _drilled(at, down, bore.drill / 2, bore.drill_depth, point=not bore.flat)
                for at in spec.at
            ]
        return nothing().fuse(*extra) if extra else None

    def breaks_into(self, spec: Hole) -> tuple[str, ...]:
        """The features named by 'breaks into' as written."""
        return spec.breaks_into

    def amiss(self, spec: Hole, part: Part, own: Solid) -> tuple[str, str] | None:
        """What is wrong with a countersink or counterbore of which nothing is left."""
        if spec.mouth == PLAIN:
            return None
        bore = self.removes(replace(spec, mouth=PLAIN), part)
        if not own.cut(bore).empty:
            return None
        mouth = "countersink" if spec.mouth.countersink else "counterbore"
        return (
            f"has its {mouth} where other features leave no metal to cut it in",
            "let the hole start on their floor: 'starts below' with the floor's depth; or move it",
        )

    def room(self, spec: Hole) -> tuple[float, float]:
        """The room within its full diameter, at its low limit."""
        return spec.bore.size.low, spec.bore.depth

    def drawn(self, spec: Hole, part: Part) -> list[Drawn]:
        """The diameter with all that belongs to it in words, and the places of the centres."""
        u, v = in_face(spec.face.axis)
        view, centre = view_along(spec.face.axis), spec.at[0]
        rim = moved(centre, u, centre[u] + spec.bore.radius)
        count = f"{len(spec.at)} × " if len(spec.at) > 1 else ""
        bore = spec.bore
        prefix = count if bore.thread else f"{count}⌀"
        suffix = (
            bore.words
            + spec.mouth.words
            + spec.far.words
            + "".join(on_circle(ring) for ring in spec.rings)
        )
        style = "leader" if bore.thread else "diameter"
        dims = [Drawn(bore.name, bore.size, view, centre, rim, style, prefix, suffix, hollow=True)]
        rows = {axis for axis, _, _ in spec.spreads}
        for axis, form in spec.places:
            if axis in rows and form.origin == part.size[axis] / 2:
                continue  # a row about the centre line, by its pitch
            here = next(at for at in spec.at if abs(at[axis] - form.value) < 1e-6)
            dims += across(form, view, here, axis, form.origin)
        for axis, spread, first in spec.spreads:
            here = next(at for at in spec.at if abs(at[axis] - first) < 1e-6)
            there = moved(here, axis, first + spread.size.nominal)
            gaps = spread.count - 1
            times = f"{gaps} × " if spread.steps == 1 and gaps > 1 else ""
            dims.append(Drawn(spread.name, spread.size, view, here, there, prefix=times))
        for ring in spec.rings:
            middle = moved(moved(centre, u, ring.u.value), v, ring.v.value)
            for axis, found in ((u, ring.u), (v, ring.v)):
                given = place_form(found, part, axis)
                dims += across(given, view, middle, axis, given.origin) if given else []
        return dims

    def ways(self, spec: Hole, part: Part) -> list[Way]:
        """It is made as its finish says; a reamed hole may also be bored."""
        finishes = [spec.bore.finish] + ["bored"] * (spec.bore.finish == "reamed")
        far = (_far_cut(spec, part),) if spec.far.countersink else ()
        return [Way(finish, (_cut(spec, finish), *far)) for finish in finishes]


def _cut(hole: Hole, finish: str) -> HoleCut:
    bore = hole.bore
    return HoleCut(
        face=hole.face,
        at=hole.at,
        diameter=bore.diameter,
        depth=bore.depth,
        through=bore.through,
        finish=finish,
        flat=bore.flat,
        thread=bore.thread,
        thread_depth=0.0 if bore.through or not bore.thread else bore.depth,
        tap_drill=bore.drill if bore.thread else 0.0,
        drill_depth=bore.drill_depth,
        drill_least=bore.drill_least if bore.thread else 0.0,
        drilled_through=bore.drilled_through,
        countersink=hole.mouth.countersink,
        counterbore=hole.mouth.counterbore,
        checks=(
            *bore.checks,
            *hole.mouth.checks,
            *place_checks((*hole.places, *hole.around), hole.spreads),
        ),
    )


def _far_cut(hole: Hole, part: Part) -> HoleCut:
    """The cone at the far end of holes that are made."""
    bore, face = hole.bore, hole.face.opposite
    made = bore.drill if bore.thread else bore.diameter
    return HoleCut(
        face=face,
        at=tuple(moved(at, face.axis, level(part, face)) for at in hole.at),
        diameter=made,
        depth=hole.far.sink_depth(made),
        through=False,
        finish="countersunk",
        countersink=hole.far.countersink,
        checks=hole.far.checks,
    )


def _on_a_side(at: tuple[Vec, ...], face: Face, part: Part) -> bool:
    """Do all centres lie on a side of the part, to which the other half is clamped?"""
    return any(
        all(abs(point[axis] - side) < ON_SIDE for point in at)
        for axis in in_face(face.axis)
        for side in (0.0, part.size[axis])
    )


def _inward(face: Face) -> Vec:
    return vec({face.axis: -float(face.sign)})


def _drilled(at: Vec, down: Vec, radius: float, depth: float, *, point: bool) -> Solid:
    """A hole of that full diameter and depth from `at`, proud above, ending in a point or flat."""
    x, y, z = (a - PROUD * d for a, d in zip(at, down, strict=True))
    hole = cylinder((x, y, z), down, radius, depth + PROUD)
    if not point:
        return hole
    x, y, z = (a + depth * d for a, d in zip(at, down, strict=True))
    return hole.fuse(cone((x, y, z), down, radius, 0.0, tip(2 * radius)))


def _fits(hole: Hole, part: Part, ask: Ask) -> bool:
    bore, face = hole.bore, hole.face
    good = True
    for axis in in_face(face.axis):
        for at in hole.at:
            out = max(bore.radius - at[axis], at[axis] + bore.radius - part.size[axis])
            # a half bore's centre lies on the side where the mate is clamped
            if out > (bore.radius if hole.with_mate else 0.0) + 1e-6:
                place = ", ".join(show(at[i], part.unit) for i in in_face(face.axis))
                ask.fault(
                    "at",
                    f"the hole centred at ({place}) runs {show(out, part.unit)} out of the side "
                    "of the part",
                    "check its place and diameter; a half bore, drilled with what it goes with "
                    "clamped on, says 'finish: with its mate'",
                )
                good = False
    room = _room(hole, part)
    if bore.through:
        return good
    if bore.depth >= room:
        ask.fault(
            "depth",
            f"the hole is {show(bore.depth, part.unit)} deep; the part has "
            f"{show(room, part.unit)} there",
            "give a lesser depth, or 'depth: through'",
        )
        return False
    if bore.drilled_through:
        return good
    deepest = max(bore.depth, bore.drill_depth)
    deepest += 0.0 if bore.flat else tip(bore.drill or bore.diameter)
    if deepest >= room:
        ask.fault(
            "drill depth" if ask.given("drill depth") else "depth",
            f"the drill's point would come out: it reaches {show(deepest, part.unit)}, "
            f"the part has {show(room, part.unit)} there",
            "give a lesser 'drill depth' or depth, or 'depth: through'; or 'bottom: flat'",
        )
        return False
    return good


def _room(hole: Hole, part: Part) -> float:
    """Material from where the hole starts to the far face [mm]."""
    return abs(hole.at[0][hole.face.axis] - level(part, hole.face.opposite))


KIND = HoleKind()
