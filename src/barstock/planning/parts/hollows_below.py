"""How deep a hole need go, and may go, where other features leave a hollow under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, hypot, pi, sin

from barstock.drawing.build import Part, Vec
from barstock.drawing.vectors import plus
from barstock.handbook.threads import thread
from barstock.methods.cuts import HoleCut, LevelCut, ProfileCut, Way
from barstock.methods.joined_metal import Metal, metal_of
from barstock.methods.outline_shape import within
from barstock.planning.tasks.tooling import PAST

AIR = 10.0  # that a drill is not driven on through, once it is out [mm]; common practice
OUT = 0.5  # that it is driven out further than the last metal [mm]; common practice
FELT = 0.25  # how finely the way down is felt out [mm]
LEFT = 1.1  # between a drill's point and a hollow that it is not to reach [mm]; common practice
POINT = 0.32  # of its diameter that a drill's point is high at most; elementary geometry
AROUND = 8  # places about the axis that are looked at
ACROSS = 8  # distances from it likewise
RUN_OUT = 3.0  # pitches that a drill goes below a thread; common practice


def to_the_metal(cut: HoleCut, part: Part, others: Sequence[Way]) -> HoleCut:
    """The hole no deeper than the others leave metal for: what goes through a flange, and then
    through nothing but air as far as the part is long, is done once it is out; the drill before a
    thread, whose depth the drawing leaves open, keeps clear of a hollow below it.
    """
    cuts = [c for way in others for c in way.cuts]
    if not any(isinstance(c, LevelCut | ProfileCut) for c in cuts):
        return cut
    metal = _left_by(cuts, part)
    if cut.through:
        return _through_a_flange(cut, metal)
    if cut.drill_least and not cut.flat:
        return _clear_of_hollows(cut, metal, cuts)
    return cut


def through_a_piece(cut: HoleCut, part: Part, others: Sequence[Way]) -> list[HoleCut]:
    """A fabrication's hole right through, from either side, no deeper than its pieces leave metal
    for; the least deep first. None where there is metal nearly all the way.
    """
    if part.joined is None or not cut.through:
        return []
    # where a piece's own hole leads the drill, metal is taken to be there all the same
    pieces = metal_of(part.joined, holes=False)
    rest = _left_by([c for way in others for c in way.cuts], part)
    sides = [cut] if cut.countersink or cut.counterbore else [cut, _from_behind(cut)]
    found = [_through_a_flange(side, lambda p: pieces(p) and rest(p)) for side in sides]
    return sorted((way for way in found if not way.through), key=lambda way: way.depth)


def _from_behind(cut: HoleCut) -> HoleCut:
    """A hole right through, from the other side."""
    far = tuple(plus(p, cut.face.normal, -cut.depth) for p in cut.at)
    return replace(cut, face=cut.face.opposite, at=far)


def _through_a_flange(cut: HoleCut, metal: Metal) -> HoleCut:
    wide = cut.diameter / 2
    past = OUT + max(PAST["ream"], PAST["tap"])
    pitch = thread(cut.thread).pitch if cut.thread else 0.0
    further = max(RUN_OUT * pitch, wide if cut.finish == "reamed" else 0.0)
    air = max(AIR, past + further + POINT * cut.diameter)
    deep = 0.0
    for at in cut.at:
        for aside in ((0.0, 0.0), *_ring(wide)):
            deep = max(deep, _last_metal(cut, at, aside, metal))
            if cut.depth - deep < air:
                return cut
    if not deep:
        return cut
    drilled = deep + past + further if further else 0.0
    return replace(
        cut,
        through=False,
        flat=False,
        depth=deep + past,
        thread_depth=deep + past if cut.thread else 0.0,
        drill_depth=drilled,
    )


def _last_metal(cut: HoleCut, at: Vec, aside: tuple[float, float], metal: Metal) -> float:
    """How deep below its entry the last metal beside a hole's axis ends [mm]; 0 without any."""
    deep = cut.depth - FELT / 2
    while deep > 0.0:
        if metal(_below(cut, at, aside, deep)):
            return deep + FELT / 2
        deep -= FELT
    return 0.0


def _clear_of_hollows(cut: HoleCut, metal: Metal, cuts: Sequence[object]) -> HoleCut:
    """The tapping drill so deep that it leaves metal under its point, if that is deep enough."""
    radius, most = (cut.tap_drill or cut.diameter) / 2, cut.drill_depth
    end = most + 2 * POINT * radius + LEFT
    for at in cut.at:
        for far in (radius * n / ACROSS for n in range(ACROSS + 1)):
            if _inside_another(cut, at, far, cuts):
                continue
            for aside in _ring(far):
                air = _first_air(cut, at, aside, end, metal)
                if air <= cut.depth + FELT:
                    return cut
                most = min(most, air - LEFT - 2 * POINT * (radius - far))
    return replace(cut, drill_depth=most) if cut.drill_least <= most < cut.drill_depth else cut


def _first_air(
    cut: HoleCut, at: Vec, aside: tuple[float, float], end: float, metal: Metal
) -> float:
    """How deep below its entry, past its thread, a hollow is; no deeper than `end` [mm]."""
    deep = cut.depth
    while deep < end and metal(_below(cut, at, aside, deep)):
        deep += FELT / 5
    return deep


def _inside_another(cut: HoleCut, at: Vec, far: float, cuts: Sequence[object]) -> bool:
    """Is so far from the axis all within a smaller hole on it?"""
    u, v = (i for i in range(3) if i != cut.face.axis)
    return any(
        isinstance(c, HoleCut)
        and c.face.axis == cut.face.axis
        and any(hypot(p[u] - at[u], p[v] - at[v]) + far <= c.diameter / 2 for p in c.at)
        for c in cuts
    )


def _ring(far: float) -> list[tuple[float, float]]:
    """The places about an axis so far away; the axis itself where that is no way."""
    turns = (2 * pi * n / AROUND for n in range(AROUND if far else 1))
    return [(far * cos(t), far * sin(t)) for t in turns]


def _below(cut: HoleCut, at: Vec, aside: tuple[float, float], deep: float) -> Vec:
    """The place so deep below a hole's entry, beside its axis."""
    p = list(at)
    for axis, by in zip((i for i in range(3) if i != cut.face.axis), aside, strict=True):
        p[axis] += by
    p[cut.face.axis] -= cut.face.sign * deep
    return (p[0], p[1], p[2])


def _left_by(cuts: Sequence[object], part: Part) -> Metal:
    """Is metal left at a place of the part's box by level cuts and outlines?"""

    def left(p: Vec) -> bool:
        within_box = all(0.0 <= x <= size for x, size in zip(p, part.size, strict=True))
        return within_box and not any(_takes(cut, p) for cut in cuts)

    return left


def _takes(cut: object, p: Vec) -> bool:
    if isinstance(cut, LevelCut):
        return cut.clears(p)
    if isinstance(cut, ProfileCut):
        u, v = (i for i in range(3) if i != cut.face.axis)
        return not within((p[u], p[v]), cut.start, cut.pieces)
    return False
