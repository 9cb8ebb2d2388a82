"""Centre lines of what is round and of views that are the same on both sides (ISO 128-2, 04.1)."""

from __future__ import annotations

import math
from collections.abc import Iterator

from barstock.sheets.sheet import Layer, Mark
from barstock.sheets.view_choice import Seen
from barstock.solids.bores import bores, rounds
from barstock.solids.shapes import Solid, Vec
from barstock.solids.strokes import Arc, Flat, Segment, Stroke, tidy

PAST = 2.5
"""How far a centre line runs past what it is the centre of [mm on paper]."""


def centre_lines(solid: Solid, seen: tuple[Seen, ...], scale: float) -> dict[str, list[Mark]]:
    """Centre lines of each view [mm on paper, view's own origin]."""
    round_ = [
        (one.low, one.high, one.radius_low, one.radius_high)
        for one in (*bores(solid), *rounds(solid))
    ]
    found: dict[str, list[Mark]] = {}
    for one in seen:
        strokes: list[Stroke] = list(_mirrors(one, scale))
        for low, high, r_low, r_high in round_:
            if any(_round(other, low, high) for other in seen):
                strokes += _of_bore(one, low, high, max(r_low, r_high), scale)
        found[one.look.view] = [Mark(stroke, Layer.CENTRE) for stroke in tidy(strokes)]
    return found


def _round(seen: Seen, low: Vec, high: Vec) -> bool:
    """Does this view show the bore as a circle, or half of one and more?"""
    a, b = seen.look.flat(low), seen.look.flat(high)
    return math.dist(a, b) < 1e-3 and any(
        isinstance(stroke, Arc) and stroke.sweep > 170 and math.dist(stroke.centre, a) < 0.01
        for stroke in (*seen.view.visible, *seen.view.hidden)
    )


def _of_bore(seen: Seen, low: Vec, high: Vec, radius: float, scale: float) -> Iterator[Segment]:
    (ax, ay), (bx, by) = seen.look.flat(low), seen.look.flat(high)
    length = math.hypot(bx - ax, by - ay)
    if length < 1e-3:
        reach = radius * scale + PAST
        x, y = ax * scale, ay * scale
        yield Segment((x - reach, y), (x + reach, y))
        yield Segment((x, y - reach), (x, y + reach))
        return
    dx, dy = PAST * (bx - ax) / length, PAST * (by - ay) / length
    yield Segment((ax * scale - dx, ay * scale - dy), (bx * scale + dx, by * scale + dy))


def _mirrors(seen: Seen, scale: float) -> Iterator[Segment]:
    strokes = [*seen.view.visible, *seen.view.hidden]
    if len(strokes) < 6:
        return
    (left, bottom), (right, top) = seen.view.bounds
    x, y = (left + right) / 2, (bottom + top) / 2
    ends = [p for stroke in strokes for p in stroke.points]
    if _same([(2 * x - p[0], p[1]) for p in ends], ends):
        yield Segment((x * scale, bottom * scale - PAST), (x * scale, top * scale + PAST))
    if _same([(p[0], 2 * y - p[1]) for p in ends], ends):
        yield Segment((left * scale - PAST, y * scale), (right * scale + PAST, y * scale))


def _same(mirrored: list[Flat], points: list[Flat]) -> bool:
    here = [(round(a, 1), round(b, 1)) for a, b in points]
    near = {(a + i / 10, b + j / 10) for a, b in here for i in (-1, 0, 1) for j in (-1, 0, 1)}
    grid = {(round(a, 1), round(b, 1)) for a, b in near}
    return all((round(a, 1), round(b, 1)) in grid for a, b in mirrored)
