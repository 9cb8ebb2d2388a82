"""Walls left by what takes the place of fixing screws, position errors at their worst.

Only holes of one face and the edges of the whole are weighed here, before anything is planned; the
proof measures every wall of the solid.
"""

from __future__ import annotations

from barstock.drawing.build import Part
from barstock.fabricating.joints import Finding
from barstock.fabricating.larger_thread import Round, walls
from barstock.methods.feature_cuts import hole_of


def walls_after(part: Part, least: float) -> tuple[Finding, ...]:
    """Walls thinner than least [mm] beside the holes that replace a fabrication's fixing screws."""
    joined = part.joined
    assert joined is not None
    replacing = {screw.replaced_by for screw in joined.screws}
    holes = {f.name: cut for f in part.features if (cut := hole_of(f, part)) is not None}
    found: list[Finding] = []
    for face in dict.fromkeys(cut.face for name, cut in holes.items() if name in replacing):
        u, v = (i for i in range(3) if i != face.axis)
        rounds = tuple(
            Round(name, (at[u], at[v]), cut.diameter)
            for name, cut in holes.items()
            if cut.face is face
            for at in cut.at
        )
        long, wide = part.size[u], part.size[v]
        outline = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
        found += [f for f in walls(rounds, outline, least) if f.about in replacing]
    return tuple(dict.fromkeys(found))
