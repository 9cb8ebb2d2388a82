"""An outline: a closed line of straights and arcs on a face; what lies outside it goes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic import Field

from barstock.drawing.build import Face, Part, Vec
from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.drawing.other_hands import ByHand, FeatureFields
from barstock.drawing.questions import Ask, Point
from barstock.methods.cuts import Arc, Check, ProfileCut, Way
from barstock.methods.dimension_forms import position_check
from barstock.methods.hand_checks import wide_enough
from barstock.methods.kind import Drawn, Kind
from barstock.methods.outline_shape import Flat, arc, bends, bulge, chords, crossing, reach
from barstock.methods.place_fields import Where
from barstock.methods.places import PROUD, block, in_face, level, moved, swept, vec
from barstock.methods.round_part import is_flat
from barstock.methods.sheet_dimensions import view_along
from barstock.methods.vees import vee_cuts
from barstock.quantities import show
from barstock.reading.fields import Fields, Written
from barstock.solids.shapes import Solid

CLOSED = 0.01
"""An outline is closed where its end lies within this of its start [mm]."""


class Leg(Fields):
    """One straight or arc of an outline as written."""

    to: Where = Field(description="Where it ends: {left: 20, front: 0}.")
    arc: Written | None = Field(None, description="Radius, where it is an arc.")
    turn: Literal["left", "right"] | None = Field(
        None, description="Which way an arc turns, going along it and looking at the face."
    )
    more_than_half: bool = Field(
        False, description="Of the two arcs of that radius, the one over half a circle."
    )


class OutlineFields(FeatureFields[Literal[ByHand, "milled"]]):
    """An outline as written."""

    kind: Literal["outline"] = Field("outline", description="A closed line; outside it goes.")
    face: Face = Field(description="Face it is marked out on; it goes right through.")
    start: Where = Field(description="Where the line starts, and where it must end.")
    path: list[Leg] = Field(description="Its straights and arcs in order.", min_length=2)
    finish: Literal[ByHand, "milled"] | None = Field(
        None,
        description="Sawn near the line and filed to it, as it is without a word, or milled; or "
        "left to hand work altogether.",
    )


@dataclass(frozen=True)
class Outline:
    """A closed line on `face`, in its two axes [mm]; arcs by bulge, counter-clockwise u to v.

    checks: its dimensions; measured: its radii, each with the arc's centre and middle; places:
    of its corners, each with the corner, the axis measured along, and the coordinate it is from.
    """

    face: Face
    start: Flat
    pieces: tuple[Arc, ...]
    finish: str
    checks: tuple[Check, ...]
    measured: tuple[tuple[Check, Flat, Flat], ...]
    places: tuple[tuple[Check, Flat, int, float], ...] = ()


class OutlineKind(Kind):
    """The kind of an outline milled or filed."""

    name = "outline"
    filed = True
    summary = "A closed line of straights and arcs, sawn and filed or milled to."
    fields: type[FeatureFields[Any]] = OutlineFields

    def resolve(self, fields: OutlineFields, part: Part, ask: Ask) -> Outline | None:
        """The outline in millimetres, or None after reporting what is wrong."""
        if not is_flat(ask, part, "an outline"):
            return None
        face = fields.face
        begin = _point(ask, "start", face)
        points = [_point(ask, f"path.{i}.to", face) for i in range(len(fields.path))]
        ends = [_flat(point) for point in (begin, *points) if point is not None]
        if begin is None or len(ends) <= len(points):
            return None
        pieces, measured = [], []
        for i, leg in enumerate(fields.path):
            piece = _piece(ask, i, leg, face, ends[i], ends[i + 1])
            if piece is None:
                return None
            pieces.append(piece[0])
            if piece[1]:
                centre, points_on = arc(ends[i], piece[0])[0], chords(ends[i], piece[0])
                measured.append((piece[1], centre, points_on[len(points_on) // 2]))
        if not _sound(ask, face, part, ends[0], pieces):
            return None
        pieces[-1] = Arc(ends[0], pieces[-1].bulge)
        if len(measured) == 1:  # the only one needs no number
            measured = [(replace(measured[0][0], name="radius", nth=0), *measured[0][1:])]
        places = _places(part, face, [begin, *(p for p in points if p)])
        checks = (*(place[0] for place in places), *(check for check, _, _ in measured))
        finish = "milled" if fields.finish == "milled" else "filed"
        return Outline(face, ends[0], tuple(pieces), finish, checks, tuple(measured), tuple(places))

    def removes(self, spec: Outline, part: Part) -> Solid:
        """The envelope outside the line, proud all round."""
        around = block({i: (-PROUD, part.size[i] + PROUD) for i in range(3)})
        axis = spec.face.axis
        pieces = [(piece.to, piece.bulge) for piece in spec.pieces]
        kept = swept(axis, pieces, -2 * PROUD, part.size[axis] + 2 * PROUD)
        return around.cut(kept)

    def drawn(self, spec: Outline, part: Part) -> list[Drawn]:
        """The radii of the outline, and the places of its corners."""
        u, v = in_face(spec.face.axis)
        view, top = view_along(spec.face.axis), level(part, spec.face)

        def at(flat: Flat) -> Vec:
            return vec({u: flat[0], v: flat[1], spec.face.axis: top})

        radii = [
            Drawn(check.name, check.dimension, view, at(centre), at(middle), "radius", "R")
            for check, centre, middle in spec.measured
        ]
        return radii + [
            Drawn(check.name, check.dimension, view, at(corner), moved(at(corner), axis, origin))
            for check, corner, axis, origin in spec.places
        ]

    def ways(self, spec: Outline, part: Part) -> list[Way]:
        """It is filed or milled, as the drawing says; vees are milled with the work tilted. What is
        to be milled is filed where no way of milling it is found and its limits are wide enough.
        """
        inside = min(
            (radius for radius, hollow in bends(spec.start, spec.pieces) if hollow), default=0.0
        )
        cut = ProfileCut(
            spec.face, spec.start, spec.pieces, spec.finish, inside, checks=spec.checks
        )
        found = [Way(spec.finish, (cut,))]
        vees = vee_cuts(spec.face, spec.start, spec.pieces, part)
        if spec.finish == "milled" and vees:
            last = replace(vees[-1], checks=spec.checks)
            found.insert(0, Way("tilted, with an end mill", (*vees[:-1], last)))
        if spec.finish == "milled" and all(wide_enough(c, hole=False) for c in spec.checks):
            found.append(Way("filed", (replace(cut, way="filed"),)))
        return found


def _point(ask: Ask, field: str, face: Face) -> Point | None:
    points = ask.points(field, face)
    if points is None:
        return None
    if len(points) != 1:
        ask.fault(field, "an outline goes through one point at a time", "give a single position")
        return None
    return points[0]


def _flat(point: Point) -> Flat:
    return (point.u.value, point.v.value)


def _piece(
    ask: Ask, i: int, leg: Leg, face: Face, start: Flat, end: Flat
) -> tuple[Arc, Check | None] | None:
    if leg.arc is None:
        if leg.turn is not None:
            ask.fault(f"path.{i}.turn", "a straight does not turn", "give the 'arc' its radius")
            return None
        return Arc(end), None
    radius = ask.size(f"path.{i}.arc")
    if radius is None:
        return None
    if leg.turn is None:
        ask.fault(f"path.{i}", "the arc may turn two ways", "say 'turn: left' or 'turn: right'")
        return None
    bend = bulge(start, end, radius.nominal, long=leg.more_than_half)
    if bend is None:
        chord, unit = reach(start, end), radius.unit
        ask.fault(
            f"path.{i}.arc",
            f"a radius of {show(radius.nominal, unit)} cannot span the {show(chord, unit)} between "
            "its ends",
            f"give at least {show(chord / 2, unit)}, or move an end",
        )
        return None
    ccw = (leg.turn == "left") == (face in (Face.TOP, Face.FRONT, Face.RIGHT))
    check = Check(f"radius {i + 1}", radius, CheckSort.RADIUS, nth=i + 1)
    return Arc(end, bend if ccw else -bend), check


def _places(part: Part, face: Face, points: list[Point]) -> list[tuple[Check, Flat, int, float]]:
    """Each place once, but for those on the part's own sides and on a centre line."""
    found: dict[tuple[str, float], tuple[Check, Flat, int, float]] = {}
    for point in points:
        for axis, one in zip(in_face(face.axis), (point.u, point.v), strict=True):
            size = one.dimension.nominal
            if size in (0.0, part.size[axis]) or one.given_from == "centre":
                continue
            check = position_check(one, axis, EndKind.CORNER)
            if check:
                named = replace(check, name=f"{check.name} {one.dimension.text}")
                origin = level(part, Face(one.given_from))
                found.setdefault((one.given_from, size), (named, _flat(point), axis, origin))
    return list(found.values())


def _sound(ask: Ask, face: Face, part: Part, start: Flat, pieces: list[Arc]) -> bool:
    gap = reach(pieces[-1].to, start)
    if gap > CLOSED:
        what = f"the outline is not closed: it ends {show(gap, part.unit)} from its start"
        ask.fault(f"path.{len(pieces) - 1}.to", what, "end it where it starts")
        return False
    crossed = crossing(start, pieces)
    if crossed is not None:
        first, second = crossed
        what = f"the outline crosses itself: piece {first + 1} meets piece {second + 1}"
        ask.fault(f"path.{second}", what, "check the positions, and which way its arcs turn")
        return False
    good = True
    for i, excess in enumerate(_outside(face, part, start, pieces)):
        if excess > 0:
            what = f"the outline runs {show(excess, part.unit)} out of the part"
            ask.fault(f"path.{i}", what, "keep it within the part's sizes and their limits")
            good = False
    return good


def _outside(face: Face, part: Part, start: Flat, pieces: list[Arc]) -> list[float]:
    """For each piece, how far it runs out of the part beyond its limits of size [mm]."""
    axes = in_face(face.axis)
    out, here = [], start
    for piece in pieces:
        worst = 0.0
        for point in chords(here, piece):
            for axis, value in zip(axes, point, strict=True):
                size = part.dimension(axis)
                slack = max(size.plus, CLOSED)
                worst = max(worst, -value - slack, value - size.nominal - slack)
        out.append(worst)
        here = piece.to
    return out


KIND = OutlineKind()
