"""Places three views and the isometric one side by side on the paper."""

from __future__ import annotations

from barstock.drawing.build import Part
from barstock.methods.kind import Drawn
from barstock.sheets.centres import centre_lines
from barstock.sheets.dimensions import Side
from barstock.sheets.layout import Figure, figure, shifted
from barstock.sheets.no_filler import chain_lines
from barstock.sheets.sheet import Area, Ink, Layer, Mark, around, extent
from barstock.sheets.thread_symbols import Tapped, threaded
from barstock.sheets.view_choice import Seen
from barstock.solids.shapes import Solid
from barstock.solids.strokes import Flat
from barstock.solids.views import View, project

GAP = 8.0
"""Between one view's room and the next [mm]."""
LEAST = 0.4
"""The isometric view is drawn no smaller than this share of the others' scale."""


def arranged(
    part: Part,
    solid: Solid,
    seen: tuple[Seen, Seen, Seen],
    holes: list[Tapped],
    drawn: list[Drawn],
    scale: float,
    free: Area,
) -> list[Ink] | None:
    """All views in the middle of `free`, or None where they do not fit at this scale."""
    front_view, plan, aside = seen
    across = _width(front_view) + _width(aside)
    upward = _height(front_view) + _height(plan)
    if across * scale > free.width or upward * scale > free.height:
        return None
    up, over = plan.cell[1], aside.cell[0]
    centres = centre_lines(solid, seen, scale)
    above, below = (Side("above"), Side("below"))[::up]
    right, left = (Side("right"), Side("left"))[::over]
    sides = {"front": (below, left), "top": (above, left), "side": (below, right)}

    def drawn_in(one: Seen) -> Figure:
        name = one.look.view
        own = [d for d in drawn if d.view == name]
        tapped, roots = threaded(one, holes)
        thin = [Mark(s.moved(scale, (0.0, 0.0)), Layer.DIMENSION) for s in roots]
        lines = [*centres[name], *thin, *chain_lines(part, one, scale)]
        return figure(tapped, own, lines, *sides[name], scale)

    front, top, side = (drawn_in(one) for one in seen)
    top_by = (0.0, _past(front.room, top.room, up, upward=True))
    side_by = (_past(front.room, side.room, over, upward=False), 0.0)
    rooms = [front.room, _moved(top.room, top_by), _moved(side.room, side_by)]
    whole = _around(rooms)
    spare = (free.width - whole.width, free.height - whole.height)
    if min(spare) < 0:
        return None
    corner = _corner(whole, rooms, up, over, spare)
    picture, size = _isometric(solid, over, corner, scale)
    if size < LEAST * scale:
        return None
    ink = [*front.ink, *top.shifted(top_by), *side.shifted(side_by), *picture]
    room = _around([whole, _room(picture)])
    by = (free.centre[0] - room.centre[0], free.centre[1] - room.centre[1])
    return [shifted(one, by) for one in ink]


def _width(seen: Seen) -> float:
    low, high = seen.view.bounds
    return high[0] - low[0]


def _height(seen: Seen) -> float:
    low, high = seen.view.bounds
    return high[1] - low[1]


def _past(front: Area, other: Area, way: int, upward: bool) -> float:
    """How far to shift a view so that its room stands clear of the front view's."""
    low, high = (front.bottom, front.top) if upward else (front.left, front.right)
    near, far = (other.bottom, other.top) if upward else (other.left, other.right)
    return high + GAP - near if way > 0 else low - GAP - far


def _corner(whole: Area, rooms: list[Area], up: int, over: int, spare: Flat) -> Area:
    """The room left between plan and side view, with what the paper has to spare."""
    front, top, side = rooms
    inner_x = max(front.right, top.right) if over > 0 else min(front.left, top.left)
    inner_y = max(front.top, side.top) if up > 0 else min(front.bottom, side.bottom)
    outer_x = whole.right + spare[0] if over > 0 else whole.left - spare[0]
    outer_y = whole.top + spare[1] if up > 0 else whole.bottom - spare[1]
    corner = around([(inner_x, inner_y), (outer_x, outer_y)])
    return corner.grown(-GAP / 2)


def _isometric(solid: Solid, over: int, corner: Area, scale: float) -> tuple[list[Ink], float]:
    """The part seen from the front, above and the side view's side, in the corner."""
    sign = 1.0 if over > 0 else -1.0
    view: View = project(solid, (sign, -1.0, 1.0), (1.0, sign, 0.0))
    (left, bottom), (right, top) = view.bounds
    size = min(scale, corner.width / (right - left), corner.height / (top - bottom))
    if size <= 0:
        return [], 0.0
    x, y = corner.centre
    by = (x - size * (left + right) / 2, y - size * (bottom + top) / 2)
    return [Mark(s.moved(size, by), Layer.VISIBLE) for s in view.visible], size


def _moved(area: Area, by: Flat) -> Area:
    return Area(area.left + by[0], area.bottom + by[1], area.right + by[0], area.top + by[1])


def _around(areas: list[Area]) -> Area:
    return around([(a.left, a.bottom) for a in areas] + [(a.right, a.top) for a in areas])


def _room(ink: list[Ink]) -> Area:
    return _around([extent(one) for one in ink])
