"""Outlines that are their part's own sides but for vees in them: each flank is a leaning floor."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from barstock.drawing.build import Face, Part
from barstock.methods.cuts import Arc, LevelCut
from barstock.methods.outline_shape import Flat
from barstock.methods.places import in_face, unit, vec

ON_SIDE = 0.01  # a corner so near a side of the part is on it [mm]
TRUE = 1e-3  # vees so near a right angle have one [radians]
Vee = tuple[Face, Flat, Flat, Flat]
"""The face it opens to, and its three corners; the root is the second."""


def vee_cuts(face: Face, start: Flat, pieces: Sequence[Arc], part: Part) -> tuple[LevelCut, ...]:
    """The leaning floors by which an outline seen on `face` is milled; none where it has other than
    vees that an end mill goes into.

    One of a right angle is cut whole with the work tilted once: one flank is the floor, the other
    the wall. Of a wider one each flank is cut in turn, as far as over the root.
    """
    found: list[LevelCut] = []
    for vee in _vees(face, start, pieces, part):
        if vee is None or _angle(vee) < math.pi / 2 - TRUE:
            return ()
        found += _flanks(face, vee, part)
    return tuple(found)


def _vees(face: Face, start: Flat, pieces: Sequence[Arc], part: Part) -> Iterator[Vee | None]:
    """The vees of an outline; None for what of it is something else."""
    corners = [start, *(piece.to for piece in pieces[:-1])]
    sides = [_sides(face, corner, part) for corner in corners]
    if any(piece.bulge for piece in pieces) or sum(len(on) > 1 for on in sides) != 4:
        yield None
        return
    first = next(n for n, on in enumerate(sides) if len(on) > 1)
    turned = [*range(first, len(corners)), *range(first), first]
    run: list[int] = []
    for n, m in pairwise(turned):
        if sides[n] & sides[m]:
            continue
        run += [n, m] if not run or run[-1] != n else [m]
        if not sides[m]:
            continue
        opens = sides[run[0]] & sides[m]
        if len(run) == 3 and len(opens) == 1:
            yield (*opens, corners[run[0]], corners[run[1]], corners[run[2]])
        else:
            yield None
        run = []


def _sides(face: Face, corner: Flat, part: Part) -> frozenset[Face]:
    """The part's sides that a corner of an outline lies on."""
    found = set()
    for axis, at in zip(in_face(face.axis), corner, strict=True):
        if abs(at) < ON_SIDE:
            found.add(Face.of(axis, -1))
        if abs(at - part.size[axis]) < ON_SIDE:
            found.add(Face.of(axis, 1))
    return frozenset(found)


def _flanks(face: Face, vee: Vee, part: Part) -> Iterator[LevelCut]:
    """The cuts of a vee of a right angle or wider."""
    opens, near, root, far = vee
    both = [_flank(face, opens, edge, root, part) for edge in (near, far)]
    yield from both if _angle(vee) > math.pi / 2 + TRUE else both[:1]


def _angle(vee: Vee) -> float:
    """The angle between a vee's flanks [radians]."""
    _, near, root, far = vee
    first, second = (math.atan2(p[1] - root[1], p[0] - root[0]) for p in (near, far))
    turn = abs(first - second)
    return min(turn, 2 * math.pi - turn)


def _flank(face: Face, opens: Face, edge: Flat, root: Flat, part: Part) -> LevelCut:
    """A flank as a floor, from its edge down to the root, where its wall is."""
    u, v = in_face(face.axis)
    long = math.dist(edge, root)
    run = vec({u: (root[0] - edge[0]) / long, v: (root[1] - edge[1]) / long})
    up = opens.normal
    rise = sum(a * b for a, b in zip(run, up, strict=True))
    lean = math.degrees(math.asin(-rise))
    square = [n - rise * r for n, r in zip(up, run, strict=True)]
    size = math.hypot(*square)
    normal = (square[0] / size, square[1] / size, square[2] / size)
    return LevelCut(
        face=opens,
        origin=vec({u: edge[0], v: edge[1]}),
        run=run,
        across=unit(face.axis),
        normal=normal,
        run_length=long,
        across_length=part.size[face.axis],
        walls=frozenset({"run+"}),
        lean=lean,
    )
