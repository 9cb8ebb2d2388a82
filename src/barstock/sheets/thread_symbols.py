"""Screw threads drawn by convention (ISO 6410-1): crests thick, roots thin, three quarters."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from barstock import methods
from barstock.drawing.build import Part, Vec
from barstock.methods.cuts import HoleCut
from barstock.sheets.view_choice import Seen
from barstock.solids.strokes import Arc, Flat, Segment, Stroke, less, tidy
from barstock.solids.views import View

POINT = 118.0
"""Included angle of the tapping drill's point [degrees]."""


@dataclass(frozen=True)
class Tapped:
    """A tapped hole. at: centre at its mouth; inward: unit vector; the rest in mm."""

    at: Vec
    inward: Vec
    major: float
    drill: float
    drilled: float
    through: bool

    def deep(self, depth: float) -> Vec:
        """The point of its axis so far below the mouth."""
        x, y, z = (a + depth * n for a, n in zip(self.at, self.inward, strict=True))
        return (x, y, z)


def tapped_holes(part: Part) -> list[Tapped]:
    """Every tapped hole of the part."""
    found = []
    for feature in part.features:
        way = methods.KINDS[feature.kind].ways(feature.spec, part)[0]
        for cut in way.cuts:
            if isinstance(cut, HoleCut) and cut.thread and 0 < cut.tap_drill < cut.diameter:
                x, y, z = cut.face.normal
                deep = cut.depth if cut.through else max(cut.drill_depth, cut.depth)
                found += [
                    Tapped(at, (-x, -y, -z), cut.diameter, cut.tap_drill, deep, cut.through)
                    for at in cut.at
                ]
    return found


def threaded(seen: Seen, holes: Sequence[Tapped]) -> tuple[Seen, list[Stroke]]:
    """The view with its tapped holes drawn by the convention, and the thin strokes that go with it.

    The solid has them at the thread's major diameter.
    """
    view, roots = seen.view, list[Stroke]()
    visible, hidden = list(view.visible), list(view.hidden)
    for hole in holes:
        toward = -sum(a * b for a, b in zip(hole.inward, seen.look.toward, strict=True))
        centre = seen.look.flat(hole.at)
        if abs(toward) < 0.5:
            hidden += _from_beside(seen, hole)
            continue
        crest = Arc(centre, hole.drill / 2)
        shown = [s for s in visible if _is(s, centre, hole.major / 2)]
        if shown:
            visible = [s for s in visible if s not in shown] + [crest]
            roots.append(Arc(centre, hole.major / 2, 100.0, 270.0))
        else:
            hidden.append(crest)
    return replace(seen, view=View(tidy(visible), less(hidden, visible))), roots


def _is(stroke: Stroke, centre: Flat, radius: float) -> bool:
    return (
        isinstance(stroke, Arc)
        and math.dist(stroke.centre, centre) < 0.01
        and abs(stroke.radius - radius) < 0.01
    )


def _from_beside(seen: Seen, hole: Tapped) -> Iterator[Segment]:
    """The tapping drill's outline: its two sides, its bottom and its point."""
    (ax, ay), (bx, by) = seen.look.flat(hole.at), seen.look.flat(hole.deep(1.0))
    dx, dy, r = bx - ax, by - ay, hole.drill / 2

    def at(depth: float, off: float) -> Flat:
        return (ax + depth * dx - off * dy, ay + depth * dy + off * dx)

    for side in (r, -r):
        yield Segment(at(0.0, side), at(hole.drilled, side))
        if not hole.through:
            tip = hole.drilled + r / math.tan(math.radians(POINT / 2))
            yield Segment(at(hole.drilled, side), at(tip, 0.0))
    if not hole.through:
        yield Segment(at(hole.drilled, r), at(hole.drilled, -r))
