"""Cutting the work by the route's numbers and nothing else: the bar, its pieces, each operation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.drawing.build import Face, Vec
from barstock.proving.held_work import Done, Held
from barstock.proving.holding import way_of
from barstock.proving.placing import FAR, datum, place
from barstock.proving.sweep import runs
from barstock.route import BarPiece, Flush, Operation, SawOff, Setup, Shape
from barstock.solids.shapes import Placement, Solid, box, cylinder, profile

SPOT = 0.05  # what of a surface a file is tried against [mm]
PAST = 1.0  # how far a sweep stands above the work [mm]


def raw(bar: BarPiece) -> Solid:
    """The bar as it comes, in its own work frame."""
    if bar.shape == "round":
        r = bar.width / 2
        return cylinder((0.0, r, r), (1.0, 0.0, 0.0), r, bar.length)
    return box((0.0, 0.0, 0.0), (bar.length, bar.width, bar.height))


def hold(setup: Setup, work: Solid) -> Held:
    """Put the work in the machine and find the zeros.

    Raises ValueError where it cannot be held so.
    """
    placement = place(work, setup.holding)
    placed = work.moved(placement)
    opening = way_of(setup.holding).opening(setup.holding, placed)
    return Held(setup, placed, placement, datum(setup, placed), opening)


def perform(held: Held, work: Solid, operation: Operation) -> Done:
    """Do one operation on the placed `work`.

    Raises ValueError where a move means nothing on this work.
    """
    passes = runs(operation, held.zero, work)
    top = work.bounds[1][2] + PAST
    tools = [run.solid(top) for run in passes]
    for move in operation.moves:
        if isinstance(move, Shape | Flush):
            lying = work.moved(held.placement.inverse())
            away = shaped(move, lying) if isinstance(move, Shape) else flushed(move, lying)
            tools.append(away.moved(held.placement))
    after, removed = work.part_off(*tools)
    if after.empty:
        raise ValueError("it leaves nothing of the work")
    back = held.placement.inverse()
    return Done(held.setup, operation, tuple(passes), work, after, removed, tuple(tools), back)


def shaped(move: Shape, work: Solid) -> Solid:
    """What sawing or filing to a marked-out line takes away; all in the work frame.

    Bulges turn counter-clockwise with u to the right and v upward.
    Raises ValueError if the face cannot be marked out from those two.
    """
    u, v, w = move.from_u, move.from_v, move.face
    if len({u.axis, v.axis, w.axis}) < 3:
        raise ValueError(f"{w} cannot be marked out from {u} and {v}")
    low, high = list(work.bounds[0]), list(work.bounds[1])
    outer, sign = (high if w.sign > 0 else low)[w.axis], w.sign
    span = sorted((outer + sign * PAST, outer - sign * move.depth))
    if move.depth == 0.0:
        span = [low[w.axis] - PAST, high[w.axis] + PAST]
    along = _cross(_inward(u), _inward(v))
    base = span[0] if along[w.axis] > 0 else span[1]

    def point(a: float, b: float) -> Vec:
        p = [base, base, base]
        for face, inward in ((u, a), (v, b)):
            p[face.axis] = (high if face.sign > 0 else low)[face.axis] - face.sign * inward
        return (p[0], p[1], p[2])

    pieces = [(point(a, b), bulge) for a, b, bulge in move.outline]
    height = span[1] - span[0]
    inside = profile(
        pieces[-1][0], pieces, (along[0] * height, along[1] * height, along[2] * height)
    )
    if move.inside_out:
        return inside
    low, high = [n - PAST for n in low], [n + PAST for n in high]
    low[w.axis], high[w.axis] = span
    return box((low[0], low[1], low[2]), (high[0], high[1], high[2])).cut(inside)


def flushed(move: Flush, work: Solid) -> Solid:
    """What filing flush takes away: all beyond the surface that lies bare at the move's spot.

    Raises ValueError where there is no metal at that spot.
    """
    low, high = list(work.bounds[0]), list(work.bounds[1])
    axis, sign = move.face.axis, move.face.sign
    near, far = [n - PAST for n in low], [n + PAST for n in high]
    for face, inward in zip((move.from_u, move.from_v), move.at, strict=True):
        if face.axis == axis:
            raise ValueError(f"nothing is measured from the {face} along the {move.face} face")
        at = (high if face.sign > 0 else low)[face.axis] - face.sign * inward
        near[face.axis], far[face.axis] = at - SPOT, at + SPOT
    under = work.common(box((near[0], near[1], near[2]), (far[0], far[1], far[2])))
    if under.empty:
        raise ValueError(f"there is no surface on the {move.face} where it is to be filed level")
    level = under.bounds[1 if sign > 0 else 0][axis]
    near, far = [n - PAST for n in low], [n + PAST for n in high]
    near[axis], far[axis] = sorted((level, (high if sign > 0 else low)[axis] + sign * PAST))
    return box((near[0], near[1], near[2]), (far[0], far[1], far[2]))


def _inward(face: Face) -> Vec:
    n = face.normal
    return (-n[0], -n[1], -n[2])


def _cross(a: Vec, b: Vec) -> Vec:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


@dataclass(frozen=True)
class Sawn:
    """A piece sawn from its bar: `solid` in the part's frame, `shift` taking the bar's frame there.

    ends: x of its sawn left and right ends in the part's frame [mm].
    """

    solid: Solid
    shift: Placement
    ends: tuple[float, float]


def saw(bar: BarPiece, work: Solid, sawing: SawOff | None) -> list[Sawn]:
    """The pieces of a bar, alike ones once. Without sawing the whole bar is the piece.

    Raises ValueError if the bar is too short.
    """
    sawing = sawing or SawOff(each=bar.length, pieces=1, kerf=0.0)
    needed = sawing.first + sawing.pieces * (sawing.each + sawing.kerf) - sawing.kerf
    if needed > bar.length + 1e-6:
        raise ValueError(
            f"{sawing.pieces} pieces of {sawing.each:g} mm need {needed:g} mm of bar, "
            f"{bar.id} is {bar.length:g} mm long"
        )
    found: dict[tuple[float, ...], Sawn] = {}
    x, y, z = bar.start
    for left, lying in _lengths(work, sawing):
        shift = Placement(shift=(x - left, y, z))
        piece = lying.moved(shift)
        like = tuple(round(n, 3) for n in (piece.volume, *piece.bounds[0], *piece.bounds[1]))
        found.setdefault(like, Sawn(piece, shift, (x, x + sawing.each)))
    return list(found.values())


def sawn_apart(work: Solid, sawing: SawOff) -> list[Solid]:
    """The pieces of a bar where they lie, with the kerfs between them."""
    return [piece for _, piece in _lengths(work, sawing)]


def _lengths(work: Solid, sawing: SawOff) -> Iterator[tuple[float, Solid]]:
    """Each length sawn off, and where its left end is in the bar's frame [mm]."""
    for i in range(sawing.pieces):
        left = sawing.first + i * (sawing.each + sawing.kerf)
        piece = work.common(box((left, -FAR, -FAR), (left + sawing.each, FAR, FAR)))
        if not piece.empty:
            yield left, piece
