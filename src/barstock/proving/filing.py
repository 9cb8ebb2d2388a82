"""Does filing take off no more than a file can, where a cutter was to leave it near the line?"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Vec
from barstock.methods.cuts import Arc
from barstock.methods.outline_shape import distance
from barstock.proving.held_work import Done, Held
from barstock.proving.proof_record import Violation
from barstock.route import Shape

SLACK = 0.02  # [mm]


def check(held: Held, done: Done) -> Iterator[Violation]:
    """Metal farther outside a line than the route says is left to file."""
    lying = held.work.moved(held.placement.inverse())
    for move in done.operation.moves:
        if not isinstance(move, Shape) or not move.most or done.removed.empty:
            continue
        points, _ = done.removed.moved(held.placement.inverse()).mesh()
        line = [Arc((u, v), bulge) for u, v, bulge in move.outline]
        bounds = lying.bounds

        def inward(p: list[float], face: Face, bounds: tuple[Vec, Vec] = bounds) -> float:
            return (bounds[face.sign > 0][face.axis] - p[face.axis]) * face.sign

        far = max(
            distance((inward(p, move.from_u), inward(p, move.from_v)), line[-1].to, line)
            for p in points.tolist()
        )
        if far > move.most + SLACK:
            yield Violation(
                f"{far:.2f} mm is left to file, the route says {move.most:g} mm at most",
                "mill nearer the line first",
            )
