"""One view with its dimensions and centre lines, in mm on paper about the view's own origin."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from barstock.methods.kind import Drawn
from barstock.sheets.dimensions import Side, Straight, stack
from barstock.sheets.joint_symbols import BALLOON, JOINT
from barstock.sheets.labels import label
from barstock.sheets.leaders import Pointer, arrow, lead
from barstock.sheets.sheet import Area, Ink, Layer, Mark, Patch, around, extent, line
from barstock.sheets.view_choice import Seen
from barstock.solids.strokes import Arc, Flat

NEARER = 0.2
"""A feature this far past the middle, as a share of the view, is dimensioned on that side."""


@dataclass(frozen=True)
class Figure:
    """A view as drawn, with its ink."""

    seen: Seen
    ink: tuple[Ink, ...]

    @property
    def room(self) -> Area:
        """The whole area that the view takes."""
        areas = [extent(one) for one in self.ink]
        return around(
            [(a.left, a.bottom) for a in areas] + [(a.right, a.top) for a in areas],
        )

    def shifted(self, by: Flat) -> list[Ink]:
        """The view moved across the paper."""
        return [shifted(one, by) for one in self.ink]


def shifted(ink: Ink, by: Flat) -> Ink:
    """A piece of ink moved across the paper."""
    if isinstance(ink, Mark):
        return replace(ink, stroke=ink.stroke.moved(1.0, by))
    if isinstance(ink, Patch):
        return replace(ink, corners=tuple((x + by[0], y + by[1]) for x, y in ink.corners))
    return replace(ink, at=(ink.at[0] + by[0], ink.at[1] + by[1]))


def figure(
    seen: Seen, drawn: list[Drawn], centre: list[Mark], level: Side, upright: Side, scale: float
) -> Figure:
    """The view at `scale`, its straight dimensions stacked on the two sides named."""
    view = seen.view
    ink: list[Ink] = [Mark(s.moved(scale, (0, 0)), Layer.VISIBLE) for s in view.visible]
    ink += [Mark(s.moved(scale, (0, 0)), Layer.HIDDEN) for s in view.hidden]
    ink += centre
    (left, bottom), (right, top) = view.bounds
    area = Area(left * scale, bottom * scale, right * scale, top * scale)
    stacks: dict[str, tuple[Side, list[Straight]]] = {}
    pointers: list[Pointer] = []
    angles: list[Ink] = []
    for one in drawn:
        a, b = _paper(seen, one, scale)
        words = label(one)
        if one.style == "angle":
            arc, pointer = _angle(words, a, b, area)
            angles += arc
            pointers.append(pointer)
        elif one.style != "length":
            pointers.append(_pointer(one, words, a, b, area))
        else:
            side = _side(a, b, level, upright, area)
            if side is None:
                middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                pointers.append(Pointer(words, middle))
            else:
                stacks.setdefault(side.name, (side, []))[1].append(Straight(words, a, b))
    dims = angles
    for side, items in stacks.values():
        dims = dims + stack(items, area, side, dims)
    return Figure(seen, (*ink, *dims, *lead(pointers, area, [*centre, *dims])))


def _paper(seen: Seen, one: Drawn, scale: float) -> tuple[Flat, Flat]:
    (ax, ay), (bx, by) = seen.look.flat(one.start), seen.look.flat(one.end)
    return (ax * scale, ay * scale), (bx * scale, by * scale)


def _side(a: Flat, b: Flat, level: Side, upright: Side, area: Area) -> Side | None:
    """The side named for it, or the opposite one where the feature lies near that."""
    across, up = abs(a[0] - b[0]), abs(a[1] - b[1])
    if max(across, up) < 1e-6:
        return None
    side = level if across >= up else upright
    i = 1 if side.level else 0
    low, high = (area.left, area.bottom)[i], (area.right, area.top)[i]
    place = ((a[i] + b[i]) / 2 - low) / (high - low) if high > low else 0.5
    if min(a[i], b[i]) < low + 0.01 and max(a[i], b[i]) > high - 0.01:
        return side
    return side.opposite if (place - 0.5) * side.sign < -NEARER else side


def _pointer(one: Drawn, words: str, a: Flat, b: Flat, area: Area) -> Pointer:
    if one.style == BALLOON or one.style.startswith(JOINT):
        return Pointer(words, a, sign=one.style)
    if one.style == "diameter" or one.prefix:
        radius = math.dist(a, b)
        if one.style == "radius":
            return Pointer(words, b, way=_heading(a, b))
        return Pointer(words, a, radius)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return Pointer(words, middle, way=_heading(area.centre, middle))


def _heading(a: Flat, b: Flat) -> float:
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def _angle(words: str, a: Flat, b: Flat, area: Area) -> tuple[list[Ink], Pointer]:
    """The two sides of the angle run on past the view, with an arc between them."""
    turn = _heading(a, b)
    base = 90.0 * round(turn / 90)
    radius = math.dist(a, b) + 5.0
    low, high = sorted((turn, base))
    arc = Arc(a, radius, low, high - low)
    ink: list[Ink] = [Mark(arc, Layer.DIMENSION)]
    whole = Arc(a, radius + 1.5)
    for angle in (turn, base):
        start = Arc(a, radius - 4.0).at(angle) if angle == turn else a
        ink.append(line(start, whole.at(angle), Layer.DIMENSION))
    if math.radians(high - low) * radius > 8:
        for angle, inward in ((low, 1), (high, -1)):
            ink.append(arrow(arc.at(angle), arc.at(angle + inward)))
    return ink, Pointer(words, arc.at((low + high) / 2), way=base, arrow=False)
