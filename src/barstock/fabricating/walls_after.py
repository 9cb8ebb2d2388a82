"""Walls left by what takes the place of fixing screws, position errors at their worst.

Only holes of one face and the edges of the whole are weighed here, before anything is planned; the
proof measures every wall of the solid.
"""

from __future__ import annotations

from barstock.drawing.build import Part
from barstock.fabricating.joints import Finding
from barstock.fabricating.larger_thread import Round, walls


def walls_after(part: Part, least: float) -> tuple[Finding, ...]:
    """Walls thinner than least [mm] beside the holes that replace a fabrication's fixing screws."""
    joined = part.joined
    assert joined is not None
    replacing = {screw.replaced_by for screw in joined.screws}
    holes = [f for f in part.features if f.kind == "hole"]
    found: list[Finding] = []
    for face in dict.fromkeys(f.spec.face for f in holes if f.name in replacing):
        u, v = (i for i in range(3) if i != face.axis)
        rounds = tuple(
            Round(f.name, (at[u], at[v]), f.spec.bore.diameter)
            for f in holes
            if f.spec.face is face
            for at in f.spec.at
        )
        long, wide = part.size[u], part.size[v]
        outline = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
        found += [f for f in walls(rounds, outline, least) if f.about in replacing]
    return tuple(dict.fromkeys(found))
