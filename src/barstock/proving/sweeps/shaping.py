"""The sweep of sawing and filing to a marked-out line."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Vec
from barstock.drawing.vectors import cross
from barstock.methods.cuts import Arc
from barstock.methods.outline_shape import distance
from barstock.proving.held_work import Done, Held
from barstock.proving.proof_record import Violation
from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.quantities import Length
from barstock.route import Shape
from barstock.solids.shapes import Solid, box, profile

PAST = 1.0  # how far a sweep stands above the work [mm]
SLACK = 0.02  # of what a file is to find at most [mm]


class Shaping(MoveSweep):
    """The sweep of sawing and filing to a line."""

    move = Shape

    def taken(self, move: Shape, held: Held, work: Solid) -> Iterator[Solid]:
        """The metal on the outer side of the line."""
        yield shaped(move, work.moved(held.placement.inverse())).moved(held.placement)

    def marked_from(self, move: Shape) -> tuple[Face, ...]:
        """The two sides that the line is marked out from."""
        return (move.from_u, move.from_v)

    def faults(self, move: Shape, held: Held, done: Done) -> Iterator[Violation]:
        """The faults of metal farther outside the line than the route says is left to file."""
        if not move.most or done.removed.empty:
            return
        back = held.placement.inverse()
        bounds = held.work.moved(back).bounds
        points, _ = done.removed.moved(back).mesh()
        line = [Arc((u, v), bulge) for u, v, bulge in move.outline]

        def inward(p: list[float], face: Face) -> float:
            return (bounds[face.sign > 0][face.axis] - p[face.axis]) * face.sign

        far = max(
            distance((inward(p, move.from_u), inward(p, move.from_v)), line[-1].to, line)
            for p in points.tolist()
        )
        if far > move.most + SLACK:
            yield Violation(
                f"{Length(far):.2f} is left to file, the route says {Length(move.most):g} at most",
                "mill nearer the line first",
            )

    def flipped(self, move: Shape, axis: str) -> Shape:
        """The same line marked out from the other side."""
        if axis == "z":
            return move
        face = "from_u" if axis == "x" else "from_v"
        return move.model_copy(update={face: getattr(move, face).opposite})

    def deeper(self, move: Shape, by: float) -> Shape:
        """The same line where it does not go right through."""
        return move.model_copy(update={"depth": move.depth - by}) if move.depth else move


def shaped(move: Shape, work: Solid) -> Solid:
    """The metal that the move takes away; all in the work frame.

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
    along = cross(u.opposite.normal, v.opposite.normal)
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


SWEEP = Shaping()
