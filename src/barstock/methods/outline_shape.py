"""The plane geometry of outlines: arcs by their bulge, and whether a line crosses itself."""

from __future__ import annotations

import math
from collections.abc import Sequence

from barstock.methods.cuts import Arc

Flat = tuple[float, float]
PIECES = 24
"""Chords an arc is taken as when looking for crossings and for its farthest points."""


def reach(a: Flat, b: Flat) -> float:
    """The distance between two points [mm]."""
    return math.dist(a, b)


def bulge(start: Flat, end: Flat, radius: float, *, long: bool = False) -> float | None:
    """The tan(included angle / 4) of the arc of `radius` [mm]; None if it cannot span its ends.

    >>> round(bulge((0, 0), (10, 0), 5), 6)
    1.0
    """
    half = reach(start, end) / 2
    if half == 0 or half > radius * (1 + 1e-9):
        return None
    # at half a circle the arc sine would make much of a rounding error
    angle = 2 * math.asin(half / radius) if half < radius * (1 - 1e-9) else math.pi
    return math.tan((2 * math.pi - angle if long else angle) / 4)


def chords(start: Flat, piece: Arc) -> list[Flat]:
    """Points along a piece, its end last (its start not among them)."""
    if piece.bulge == 0:
        return [piece.to]
    (x, y), radius, first, sweep = arc(start, piece)
    turns = [first + sweep * i / PIECES for i in range(1, PIECES)]
    return [*((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns), piece.to]


def arc(start: Flat, piece: Arc) -> tuple[Flat, float, float, float]:
    """The centre, radius [mm], angle at which it starts, and angle swept [radians] of an arc."""
    (x0, y0), (x1, y1), b = start, piece.to, piece.bulge
    # the centre lies off the chord's middle, to its left for a left turn under half a circle
    off = (1 - b * b) / (4 * b)
    cx, cy = (x0 + x1) / 2 - off * (y1 - y0), (y0 + y1) / 2 + off * (x1 - x0)
    return (cx, cy), math.dist((cx, cy), start), math.atan2(y0 - cy, x0 - cx), 4 * math.atan(b)


def distance(point: Flat, start: Flat, pieces: Sequence[Arc]) -> float:
    """The distance from a point to the nearest of an outline's pieces [mm]."""
    found, here = math.inf, start
    for piece in pieces:
        found = min(
            found,
            _to_arc(point, here, piece) if piece.bulge else _to_straight(point, here, piece.to),
        )
        here = piece.to
    return found


def _to_straight(p: Flat, a: Flat, b: Flat) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long if long else 0.0
    t = min(1.0, max(0.0, t))
    return math.dist(p, (a[0] + t * dx, a[1] + t * dy))


def _to_arc(p: Flat, start: Flat, piece: Arc) -> float:
    centre, radius, first, sweep = arc(start, piece)
    turn = math.atan2(p[1] - centre[1], p[0] - centre[0]) - first
    if (turn if sweep > 0 else -turn) % (2 * math.pi) <= abs(sweep):
        return abs(math.dist(p, centre) - radius)
    return min(math.dist(p, start), math.dist(p, piece.to))


def within(point: Flat, start: Flat, pieces: Sequence[Arc]) -> bool:
    """Does a point lie inside an outline (arcs as chords)?"""
    inside, here = False, start
    for piece in pieces:
        for there in chords(here, piece):
            (x0, y0), (x1, y1) = here, there
            if (y0 > point[1]) != (y1 > point[1]):
                inside ^= point[0] < x0 + (point[1] - y0) / (y1 - y0) * (x1 - x0)
            here = there
    return inside


def area(start: Flat, pieces: Sequence[Arc]) -> float:
    """Signed area, positive counter-clockwise, arcs as chords [mm2]."""
    points, here = [], start
    for piece in pieces:
        points += chords(here, piece)
        here = piece.to
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def bends(start: Flat, pieces: Sequence[Arc]) -> list[tuple[float, bool]]:
    """The radius of each arc [mm], and whether it is hollow (an inside curve of what is kept)."""
    ccw, found, here = area(start, pieces) > 0, [], start
    for piece in pieces:
        if piece.bulge:
            b = abs(piece.bulge)
            radius = reach(here, piece.to) * (1 + b * b) / (4 * b)
            found.append((radius, (piece.bulge > 0) != ccw))
        here = piece.to
    return found


def crossing(start: Flat, pieces: Sequence[Arc]) -> tuple[int, int] | None:
    """The first two pieces (by number) that cross or touch other than end to end, or None."""
    lines: list[tuple[int, Flat, Flat]] = []
    here = start
    for i, piece in enumerate(pieces):
        for point in chords(here, piece):
            lines.append((i, here, point))
            here = point
        here = piece.to
    for first, (i, a, b) in enumerate(lines):
        for second in range(first + 2, len(lines)):
            if first == 0 and second == len(lines) - 1:
                continue
            j, c, d = lines[second]
            if _cross(a, b, c, d):
                return (i, j)
    return None


def _cross(a: Flat, b: Flat, c: Flat, d: Flat) -> bool:
    def side(p: Flat, q: Flat, r: Flat) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0
