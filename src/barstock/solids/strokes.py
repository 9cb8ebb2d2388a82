"""Flat strokes of a drawing: straight pieces, arcs, free curves; joined, freed of repeats."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

Flat = tuple[float, float]
NEAR = 2e-3
"""Strokes nearer than this lie on one another [mm]."""


@dataclass(frozen=True)
class Segment:
    """A straight piece of a drawing."""

    start: Flat
    end: Flat

    @property
    def points(self) -> tuple[Flat, ...]:
        """The points along it."""
        return (self.start, self.end)

    def moved(self, scale: float, shift: Flat) -> Segment:
        """The piece enlarged about the origin, then shifted."""
        return Segment(_moved(self.start, scale, shift), _moved(self.end, scale, shift))


@dataclass(frozen=True)
class Arc:
    """Part of a circle, counter-clockwise from `start` over `sweep` [degrees]; 360 is a circle."""

    centre: Flat
    radius: float
    start: float = 0.0
    sweep: float = 360.0

    @property
    def points(self) -> tuple[Flat, ...]:
        """The points along it, at most 10 degrees apart."""
        n = max(2, math.ceil(self.sweep / 10))
        return tuple(self.at(self.start + self.sweep * i / n) for i in range(n + 1))

    def at(self, angle: float) -> Flat:
        """The point at an angle [degrees]."""
        turn = math.radians(angle)
        x, y = self.centre
        return (x + self.radius * math.cos(turn), y + self.radius * math.sin(turn))

    def moved(self, scale: float, shift: Flat) -> Arc:
        """The arc enlarged about the origin, then shifted."""
        return Arc(_moved(self.centre, scale, shift), self.radius * scale, self.start, self.sweep)


@dataclass(frozen=True)
class Chain:
    """A free curve as points joined by straight pieces."""

    points: tuple[Flat, ...]

    def moved(self, scale: float, shift: Flat) -> Chain:
        """The curve enlarged about the origin, then shifted."""
        return Chain(tuple(_moved(p, scale, shift) for p in self.points))


Stroke = Segment | Arc | Chain


def _moved(p: Flat, scale: float, shift: Flat) -> Flat:
    return (p[0] * scale + shift[0], p[1] * scale + shift[1])


def stroke(points: list[Flat]) -> Stroke:
    """The simplest stroke through points along a curve: straight, arc, or the points themselves.

    >>> stroke([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)])
    Segment(start=(0.0, 0.0), end=(2.0, 2.0))
    """
    first, last = points[0], points[-1]
    span = math.dist(first, last)
    far = max(points, key=lambda p: math.dist(p, first))
    if span < NEAR < math.dist(far, first) and all(_off(p, first, far) < NEAR for p in points):
        return Segment(first, far)  # a circle seen on edge
    if span > NEAR and all(_off(p, first, last) < NEAR / 4 for p in points):
        low = min(points, key=lambda p: _along(p, first, last))
        return Segment(low, max(points, key=lambda p: _along(p, first, last)))
    return _arc(points) or Chain(tuple(points))


def _along(p: Flat, a: Flat, b: Flat) -> float:
    return (p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])


def _off(p: Flat, a: Flat, b: Flat) -> float:
    cross = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return abs(cross) / math.dist(a, b)


def _arc(points: list[Flat]) -> Arc | None:
    n = len(points) - 1
    if n < 4:
        return None
    (ax, ay), (bx, by), (cx, cy) = points[0], points[n // 3], points[2 * n // 3]
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(d) < 1e-9:
        return None
    a, b, c = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    centre = (
        (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d,
        (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d,
    )
    radius = math.dist(centre, points[0])
    if radius > 1e4 or any(abs(math.dist(centre, p) - radius) > NEAR for p in points):
        return None
    turns = [math.degrees(math.atan2(p[1] - centre[1], p[0] - centre[0])) for p in points]
    sweep = sum((b - a + 180) % 360 - 180 for a, b in pairwise(turns))
    if abs(sweep) > 359.5:
        return Arc(centre, radius)
    return Arc(centre, radius, turns[0] if sweep > 0 else turns[-1], abs(sweep))


Span = tuple[float, float]
_Carrier = tuple[object, ...]


def tidy(strokes: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """The strokes with pieces that lie on one another drawn once, and runs joined."""
    return _drawn(strokes, (), _union)


def less(strokes: Iterable[Stroke], over: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """The strokes, tidied, without what lies under `over`."""
    return _drawn(strokes, over, _minus)


def _drawn(
    strokes: Iterable[Stroke],
    over: Iterable[Stroke],
    combine: Callable[[list[Span], list[Span]], list[Span]],
) -> tuple[Stroke, ...]:
    covers: dict[_Carrier, list[Span]] = {}
    for one in over:
        carrier, spans, _ = _laid(one)
        covers.setdefault(carrier, []).extend(spans)
    found: dict[_Carrier, tuple[list[Span], Stroke]] = {}
    for one in strokes:
        carrier, spans, like = _laid(one)
        found.setdefault(carrier, ([], like))[0].extend(spans)
    drawn: list[Stroke] = []
    for carrier, (spans, like) in found.items():
        for low, high in combine(spans, covers.get(carrier, [])):
            drawn += _taken(like, low, high)
    return tuple(drawn)


def _laid(one: Stroke) -> tuple[_Carrier, list[Span], Stroke]:
    """What a stroke lies on, where along it, and a stroke to measure that from."""
    if isinstance(one, Segment):
        (ax, ay), (bx, by) = one.points
        length = math.dist(one.start, one.end)
        dx, dy = (bx - ax) / length, (by - ay) / length
        if dx < -1e-6 or (abs(dx) <= 1e-6 and dy < 0):
            dx, dy = -dx, -dy
        offset = ay * dx - ax * dy
        low, high = sorted((ax * dx + ay * dy, bx * dx + by * dy))
        base = Segment((-offset * dy, offset * dx), (-offset * dy + dx, offset * dx + dy))
        return ("line", _grid(dx), _grid(dy), _grid(offset)), [(low, high)], base
    if isinstance(one, Arc):
        start = one.start % 360
        end = start + one.sweep
        spans = [(start, end)] if end <= 360 else [(start, 360.0), (0.0, end - 360)]
        x, y = one.centre
        return ("arc", _grid(x), _grid(y), _grid(one.radius)), spans, one
    ends = sorted(tuple(map(_grid, p)) for p in (one.points[0], one.points[-1]))
    middle = tuple(map(_grid, one.points[len(one.points) // 2]))
    return ("chain", *ends, middle), [(0.0, 1.0)], one


def _grid(value: float) -> int:
    return round(value / NEAR)


def _union(spans: list[Span], _: list[Span]) -> list[Span]:
    joined: list[Span] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + NEAR:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return joined


def _minus(spans: list[Span], over: list[Span]) -> list[Span]:
    left = _union(spans, [])
    for low, high in _union(over, []):
        parts = [((a, min(b, low)), (max(a, high), b)) for a, b in left]
        left = [span for pair in parts for span in pair if span[1] - span[0] > NEAR]
    return left


def _taken(like: Stroke, low: float, high: float) -> list[Stroke]:
    if high - low < NEAR:
        return []
    if isinstance(like, Segment):
        (x, y), (ex, ey) = like.points
        dx, dy = ex - x, ey - y
        return [Segment((x + dx * low, y + dy * low), (x + dx * high, y + dy * high))]
    if isinstance(like, Arc):
        return [Arc(like.centre, like.radius, low, high - low)]
    return [like]
