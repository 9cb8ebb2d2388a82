"""Finds where fillets of filler are left along the edges of a joint."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from barstock.drawing.build import Vec
from barstock.drawing.part import Form, Joined, Joint
from barstock.methods.joined_metal import metal_of
from barstock.methods.pieces_meeting import meeting

ALONG = (0.1, 0.3, 0.5, 0.7, 0.9)  # of an edge, looked at for the corner that a fillet lies in

Run = tuple[Vec, Vec]
"""The two corners of the square bar that a fillet lies in [mm]."""


def fillet_runs(joined: Joined, joint: Joint) -> Iterator[Run]:
    """The runs of fillet along each edge where one piece stands on the other: an inside corner.
    None of a spigot, whose fillet runs round, nor where the faces end flush.
    """
    met = meeting(joint, joined)
    if met is None or joint.form is Form.SPIGOT or not joint.fillet:
        return
    metal, leg = metal_of(joined), joint.fillet
    n = met.normal.axis
    level = (met.low[n] + met.high[n]) / 2
    for a in (i for i in range(3) if i != n):
        b = 3 - n - a
        for side, way in product((-1, 1), repeat=2):
            edge = (met.high if side > 0 else met.low)[a]

            def at(
                out: float, up: float, share: float, a: int = a, b: int = b, edge: float = edge
            ) -> Vec:
                p = [0.0, 0.0, 0.0]
                p[a], p[n] = edge + out, level + up
                p[b] = met.low[b] + share * (met.high[b] - met.low[b])
                return (p[0], p[1], p[2])

            half = leg / 2
            corners = [
                metal(at(-side * half, way * half, share))
                and metal(at(side * half, -way * half, share))
                and not metal(at(side * half, way * half, share))
                for share in ALONG
            ]
            if any(corners):
                ends = (at(0.0, 0.0, 0.0), at(side * leg, way * leg, 1.0))
                low, high = (
                    tuple(pick(e[i] for e in ends) for i in range(3)) for pick in (min, max)
                )
                yield (low[0], low[1], low[2]), (high[0], high[1], high[2])
