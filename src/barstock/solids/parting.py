"""Cuts a solid with tools, and makes sure of it: where faces touch or lie in one another the CAD
kernel may lose metal, or keep what goes. Then the same cut is tried in other ways.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any

import numpy as np

from barstock.solids import kernel
from barstock.solids.construction import (
    FAR,
    AllOf,
    AnyOf,
    Block,
    Numbers,
    Placed,
    Round,
    less,
    pieces,
)
from barstock.solids.shapes import Placement, Solid, box, built, cone, nothing, profile

COARSE = 0.05  # mesh deflection of what is looked at [mm]
OFF = 0.002  # a corner this far off is where it should be: wider than what faces are taken for one
WIDER = (1e-5, 1e-4, 1e-3)  # faces so near each other are taken for one, in turn [mm]
TURNED = 0.61  # the seams of round tools are turned by this and by twice as much [rad]
DRAWN = 400  # places drawn by chance where a cut took nothing

Parted = tuple[Solid, Solid]


def part_off(work: Solid, *tools: Solid) -> Parted:
    """The body that `tools` leave of `work`, and what they take from it."""
    near = [tool for tool in tools if tool.near(work)]
    if not near:
        return work, nothing()
    best, least = (work, nothing()), math.inf
    for attempt in _attempts(work, near):
        try:
            found = attempt()
        except ArithmeticError:
            continue
        wrong = _wrong(work, near, *found)
        if wrong == 0.0:
            return found
        if wrong < least:
            best, least = found, wrong
    return best


def _attempts(work: Solid, tools: Sequence[Solid]) -> Iterator[Callable[[], Parted]]:
    yield partial(_at_once, work, tools, tools)
    yield partial(_one_by_one, work, tools, tools)
    yield partial(_one_by_one, work, tools, tools[::-1])
    simple = [piece for tool in tools for piece in pieces(tool.construction)]
    for turn in (TURNED, 2 * TURNED):
        if all(isinstance(piece, Placed) for piece in simple):
            turned = [_made(piece, turn) for piece in simple if isinstance(piece, Placed)]
            yield partial(_one_by_one, work, tools, turned)
            yield partial(_one_by_one, work, tools, turned[::-1])
    for within in WIDER:
        yield partial(_one_by_one, work, tools, tools, within)


def _at_once(work: Solid, tools: Sequence[Solid], cutters: Sequence[Solid]) -> Parted:
    left, taken = kernel.part_off(work.shape, [cutter.shape for cutter in cutters])
    return _known(work, tools, left, taken)


def _one_by_one(
    work: Solid, tools: Sequence[Solid], cutters: Sequence[Solid], within: float = 0.0
) -> Parted:
    left, taken = work.shape, []
    for cutter in cutters:
        left, gone = kernel.part_off(left, [cutter.shape], within)
        taken.append(gone)
    return _known(work, tools, left, kernel.compound(taken))


def _known(work: Solid, tools: Sequence[Solid], left: Any, taken: Any) -> Parted:
    gone = [tool.construction for tool in tools]
    rest = built(left, less(work.construction, gone))
    return rest, built(taken, AllOf((work.construction, AnyOf(tuple(gone)))))


def _made(piece: Placed, turn: float) -> Solid:
    """A simple piece made anew, the seam of a round one turned [rad]."""
    simple = piece.simple
    if isinstance(simple, Block):
        solid = box(simple.low, simple.high)
    elif isinstance(simple, Round):
        upright = (0.0, 0.0, 1.0)
        solid = cone((0.0, 0.0, 0.0), upright, simple.radius, simple.top, simple.height)
        c, s = math.cos(turn), math.sin(turn)
        solid = solid.moved(Placement(((c, -s, 0.0), (s, c, 0.0), upright)))
    else:
        ends = [((x, y, 0.0), bulge) for x, y, bulge in simple.pieces]
        solid = profile(ends[-1][0], ends, (0.0, 0.0, simple.height))
    return solid.moved(Placement(piece.frame.rows, piece.frame.shift))


def _wrong(work: Solid, tools: Sequence[Solid], left: Solid, taken: Solid) -> float:
    """By how much a cut is not what it should be: 0 where it is right."""
    slight = 1e-3 + 1e-6 * work.volume
    out = abs(left.volume + taken.volume - work.volume)
    if out > slight:
        a, b, c = (0.0 if s.empty else kernel.volume(s.shape, True) for s in (left, taken, work))
        out = abs(a + b - c)
    wrong = out if out > slight else 0.0
    if taken.empty:
        return wrong + float(_reaches(work, tools))
    room = AnyOf(tuple(one.construction for one in tools)).box
    return wrong + _astray(left, *room)  # what is taken lies in cells, whose faces are in the metal


def _astray(solid: Solid, low: Numbers, high: Numbers) -> float:
    """How far the skin of a solid within a room lies off where it should be by the solid's
    construction, beyond what is rounding: in the metal, or in the hollow.
    """
    points, corners = kernel.mesh(solid.shape, COARSE, (low.tolist(), high.tolist()))
    skin = points[corners]
    between = np.concatenate([skin.mean(axis=1), (skin[:, 0] + skin[:, 1]) / 2])
    worst = 0.0
    for places, off in ((points, OFF), (between, OFF + COARSE)):
        near = places[np.all((places > low) & (places < high), axis=1)]
        deep = np.abs(solid.deep(near))
        worst = max(worst, float(deep[deep < FAR].max(initial=0.0)) - off)
    return worst


def _reaches(work: Solid, tools: Sequence[Solid]) -> bool:
    """Is there metal of the work inside a tool?"""
    chance = np.random.default_rng(1)
    for tool in tools:
        (a, b), (c, d) = work.bounds, tool.bounds
        points = chance.uniform(np.maximum(a, c), np.minimum(b, d), (DRAWN, 3))
        if np.any((tool.deep(points) > OFF) & (work.deep(points) > OFF)):
            return True
    return False
