"""An outline as it lies on the table, and how a cutter goes round it by co-ordinates."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from barstock.drawing.build import Vec
from barstock.methods.cuts import Arc, ProfileCut
from barstock.methods.outline_shape import Flat, arc, area, chords, crossing, distance, within
from barstock.planning.tasks.pose import Lie

CUSP = 0.15  # left standing between two places of the cutter, to be filed [mm]; common practice
LEAVES = (1.0, 0.6, 0.3)  # outside the line, for the saw [mm]; common practice
NEAR = 0.002  # a cutter's side this near the line is on it [mm]
TRIES = 0.25  # how finely the way along a line is felt out [mm]
SHARES = (0.5, 0.4, 0.6, 0.25, 0.75, 0.1, 0.9, 0.0, 1.0)  # of a straight, where a start is sought
SHARP = 0.02  # a bend by more than this is a corner [radians]
OVERRUN = 1.0  # past the end of a line, where nothing is in the way [mm]


@dataclass(frozen=True)
class Traced:
    """An outline gone round counter-clockwise: what is kept lies on the left.

    numbers: of each piece as it is drawn, from 1: it runs from the point of that number to the
    next, or the other way.
    """

    start: Flat
    pieces: tuple[Arc, ...]
    numbers: tuple[int, ...]

    def away(self, p: Flat) -> float:
        """The distance of a place outside the line [mm]; negative inside."""
        far = distance(p, self.start, self.pieces)
        return -far if within(p, self.start, self.pieces) else far


def traced(cut: ProfileCut, lie: Lie) -> Traced:
    """The outline on the table, counter-clockwise: what is kept lies on the left."""
    u, v = (i for i in range(3) if i != cut.face.axis)

    def at(p: Flat) -> Flat:
        q = [0.0, 0.0, 0.0]
        q[u], q[v] = p
        x, y, _ = lie.at((q[0], q[1], q[2]))
        return (x, y)

    one, two = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    one[u], two[v] = 1.0, 1.0
    a, b = lie.pose.turn((one[0], one[1], one[2])), lie.pose.turn((two[0], two[1], two[2]))
    hand = 1.0 if a[0] * b[1] - a[1] * b[0] > 0 else -1.0
    # Bulges are counter-clockwise from the first axis to the second (see ProfileCut).
    pieces = tuple(Arc(at(p.to), p.bulge * hand) for p in cut.pieces)
    return counter_clockwise(at(cut.start), pieces)


def counter_clockwise(start: Flat, pieces: Sequence[Arc]) -> Traced:
    """An outline gone round with what is kept on the left."""
    if math.dist(pieces[-1].to, start) > 1e-6:
        pieces = (*pieces, Arc(start))
    numbers = range(1, len(pieces) + 1)
    if area(start, pieces) > 0:
        return Traced(start, tuple(pieces), tuple(numbers))
    points = [start, *(p.to for p in pieces)]
    back = [Arc(points[n - 1], -pieces[n - 1].bulge) for n in reversed(numbers)]
    return Traced(start, tuple(back), tuple(reversed(numbers)))


@dataclass(frozen=True)
class Lane:
    """A straight fed along by one slide: between two places of the cutter's centre."""

    number: int
    rough: tuple[Flat, Flat]
    fine: tuple[Flat, Flat]


@dataclass(frozen=True)
class Stepped:
    """An arc or leaning straight gone round place by place.

    exact: one place, where a cutter of that very radius makes the whole hollow.
    """

    number: int
    places: tuple[Flat, ...]
    arc: bool
    exact: bool


@dataclass(frozen=True)
class Round:
    """How an outline is gone round: lanes and stepped pieces in order; missed: pieces no cutter of
    this radius gets to, by number."""

    pieces: tuple[Lane | Stepped, ...]
    missed: tuple[int, ...]

    @property
    def filed(self) -> bool:
        """Is anything left to the file?"""
        return bool(self.missed) or any(isinstance(p, Stepped) and not p.exact for p in self.pieces)


def go_round(line: Traced, radius: float, light: float, sides: tuple[Flat, Flat]) -> Round:
    """How a cutter goes round an outline.

    light: left on straights for the last cut [mm]. sides: low and high corner of the work, whose
    own sides need no cut.
    """
    found: list[Lane | Stepped] = []
    missed: list[int] = []
    here = line.start
    for n, piece in zip(line.numbers, line.pieces, strict=True):
        if piece.bulge:
            one: Lane | Stepped | None = _arc(n, here, piece, radius, line)
        elif _on_side(here, piece.to, sides):
            here = piece.to
            continue
        else:
            one = _straight(n, here, piece.to, radius, light, line)
        if one is None:
            missed.append(n)
        else:
            found.append(one)
        here = piece.to
    return Round(tuple(found), tuple(missed))


def _on_side(a: Flat, b: Flat, sides: tuple[Flat, Flat]) -> bool:
    """Does a straight lie on one of the work's own sides?"""
    return any(
        abs(a[i] - side[i]) < 0.01 and abs(b[i] - side[i]) < 0.01 for i in (0, 1) for side in sides
    )


def _free(p: Flat, radius: float, line: Traced) -> bool:
    return line.away(p) >= radius - NEAR


def _straight(
    n: int, a: Flat, b: Flat, radius: float, light: float, line: Traced
) -> Lane | Stepped | None:
    long = math.dist(a, b)
    way = ((b[0] - a[0]) / long, (b[1] - a[1]) / long)
    if min(abs(way[0]), abs(way[1])) > 1e-6:
        count = max(1, math.ceil(long / spacing(radius)))
        places = [_beside(a, way, long * i / count, radius) for i in range(count + 1)]
        kept = tuple(p for p in places if _free(p, radius, line))
        return Stepped(n, kept, False, False) if kept else None
    runs = []
    for by in (radius + light, radius):
        tried = [long * share for share in SHARES]
        along = next((t for t in tried if _free(_beside(a, way, t, by), by, line)), None)
        if along is None:
            return None
        start, past = _beside(a, way, along, by), radius + OVERRUN
        behind = _as_far(start, (-way[0], -way[1]), by, line, along + past)
        runs.append((behind, _as_far(start, way, by, line, long - along + past)))
    return Lane(n, runs[0], runs[1])


def _beside(a: Flat, way: Flat, along: float, by: float) -> Flat:
    """So far along a straight and `by` to its right."""
    return (a[0] + way[0] * along + way[1] * by, a[1] + way[1] * along - way[0] * by)


def _as_far(start: Flat, way: Flat, by: float, line: Traced, most: float) -> Flat:
    """The farthest place on a way that the cutter gets to, feeling its way."""

    def at(t: float) -> Flat:
        return (start[0] + way[0] * t, start[1] + way[1] * t)

    good = 0.0
    while good < most and _free(at(min(most, good + TRIES)), by, line):
        good = min(most, good + TRIES)
    bad = min(most, good + TRIES)
    while bad - good > NEAR / 4:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if _free(at(middle), by, line) else (good, middle)
    return at(good)


def _arc(n: int, a: Flat, piece: Arc, radius: float, line: Traced) -> Stepped | None:
    (x, y), own, first, sweep = arc(a, piece)
    hollow = piece.bulge < 0
    path = own - radius if hollow else own + radius
    if path < -0.005:
        return None
    if path < 0.005:
        return Stepped(n, ((x, y),), True, True) if _free((x, y), radius, line) else None
    # Between two places on a circle of radius `path`, the cusp is measured on the outline's circle.
    turn = abs(sweep)
    count = max(1, math.ceil(turn / _turn(own, path, radius)))
    places = [
        (x + path * math.cos(t), y + path * math.sin(t))
        for t in (first + sweep * i / count for i in range(count + 1))
    ]
    kept = tuple(p for p in places if _free(p, radius, line))
    return Stepped(n, kept, True, False) if kept else None


def spacing(radius: float) -> float:
    """Along a straight, between places of a cutter that leave cusps of CUSP [mm]."""
    return 2 * math.sqrt(2 * radius * CUSP - CUSP**2)


def _turn(own: float, path: float, radius: float) -> float:
    """Angle between places on a circle that leave cusps of CUSP [radians].

    Half way between two places the cutter's side lies CUSP off the outline's circle: the triangle
    of the circle's centre, the cutter's and that point has the sides path, radius and own +/- CUSP.
    """
    side = own + CUSP if path > own else own - CUSP
    cosine = (path**2 + side**2 - radius**2) / (2 * path * side)
    return 2 * math.acos(max(-1.0, min(1.0, cosine)))


def tightest(line: Traced, radius: float) -> float:
    """The metal a cutter leaves in the outline's sharp hollow corners: farthest from
    a side [mm].
    """
    ways = _ways(line)
    left = 0.0
    for (_, arriving), (leaving, _) in pairwise([ways[-1], *ways]):
        turn = math.remainder(leaving - arriving, 2 * math.pi)
        if turn < -SHARP:
            left = max(left, radius * (1 - math.cos(turn / 2)))
    return left


def _ways(line: Traced) -> list[tuple[float, float]]:
    """The direction in which each piece leaves and arrives [radians]."""
    found, here = [], line.start
    for piece in line.pieces:
        chord = math.atan2(piece.to[1] - here[1], piece.to[0] - here[0])
        half = 2 * math.atan(piece.bulge)
        found.append((chord - half, chord + half))
        here = piece.to
    return found


def sawn(cut: ProfileCut) -> tuple[float, tuple[Flat, ...]]:
    """Where the saw goes: how far outside the line [mm], and the corners of that line.

    In the part's two axes on the face; arcs as chords.
    """
    line = counter_clockwise(cut.start, cut.pieces)
    points: list[Flat] = []
    here = line.start
    for piece in line.pieces:
        points += chords(here, piece)
        here = piece.to
    for leave in LEAVES:
        corners = _grown(points, leave)
        if crossing(corners[-1], [Arc(p) for p in corners]) is None:
            return leave, tuple(corners)
    return 0.0, tuple(points)


def _grown(points: Sequence[Flat], by: float) -> list[Flat]:
    """A closed line of straights, counter-clockwise, moved outward; sharp corners are cut off."""
    grown: list[Flat] = []
    ring = [points[-1], *points, points[0]]
    normals = []
    for (ax, ay), (bx, by_) in pairwise(ring):
        long = math.dist((ax, ay), (bx, by_)) or 1.0
        normals.append(((by_ - ay) / long, -(bx - ax) / long))
    for (x, y), (ux, uy), (vx, vy) in zip(points, normals, normals[1:], strict=False):
        cosine = ux * vx + uy * vy
        if cosine > -0.6:
            k = by / (1 + cosine)
            grown.append((x + k * (ux + vx), y + k * (uy + vy)))
        else:
            grown += [(x + by * ux, y + by * uy), (x + by * vx, y + by * vy)]
    return grown


def edges_left(cut: ProfileCut, size: Vec) -> set[tuple[int, int]]:
    """The part's own sides that the outline reaches, as (axis, -1 or +1): sawing leaves them."""
    u, v = (i for i in range(3) if i != cut.face.axis)
    found, here = set(), cut.start
    for piece in cut.pieces:
        for p in (here, *chords(here, piece)):
            for axis, at in ((u, p[0]), (v, p[1])):
                if at < 0.05:
                    found.add((axis, -1))
                if at > size[axis] - 0.05:
                    found.add((axis, 1))
        here = piece.to
    return found
