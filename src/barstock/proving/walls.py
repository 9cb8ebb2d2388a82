"""Is a thin wall left? Metal under freshly cut faces, sampled on the mesh."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from barstock.proving.cutting import Held
from barstock.proving.record import Violation
from barstock.proving.surface import Points, some, thickness
from barstock.solids.shapes import Solid, Vec

FINE = 0.05  # mesh deflection [mm]
MOST = 300  # triangles sampled at most
SPOTS = ((0.34, 0.33, 0.33), (0.9, 0.05, 0.05), (0.05, 0.9, 0.05), (0.05, 0.05, 0.9))
NEAR = 0.01  # a face within this of what was cut away is fresh [mm]


def least(work: Solid, fresh: Solid | None = None) -> tuple[float, Vec | None]:
    """Thinnest metal under the skin (near `fresh` only, if given) [mm], and where."""
    points, corners = work.mesh(FINE)
    if not len(corners):
        return np.inf, None
    skin = points[corners]
    normal = np.cross(skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0])
    length = np.linalg.norm(normal, axis=1)
    keep = length > 1e-9
    if fresh is not None:
        keep &= _near(skin.mean(axis=1), fresh)
    picked = np.flatnonzero(keep)
    picked = picked[some(len(picked), MOST)]
    inward = np.tile(-normal[picked] / length[picked, None], (len(SPOTS), 1))
    centre = np.concatenate([np.einsum("k,tkj->tj", np.array(w), skin[picked]) for w in SPOTS])
    deep = thickness(centre, inward, skin)
    if not len(deep) or not np.isfinite(deep.min()):
        return np.inf, None
    x, y, z = centre[deep.argmin()]
    return float(deep.min()), (float(x), float(y), float(z))


def _near(points: Points, fresh: Solid) -> Points:
    near = np.zeros(len(points), dtype=bool)
    for lump in fresh.lumps():
        low, high = (np.array(corner) for corner in lump.bounds)
        near |= np.all((points >= low - NEAR) & (points <= high + NEAR), axis=1)
    return near


def check(held: Held, work: Solid, fresh: Solid, limit: float, drawn: float) -> Iterator[Violation]:
    """A wall under `limit` [mm] left by this setup; only a warning where the drawing has it so.

    drawn: the thinnest wall of the part as drawn [mm].
    """
    if fresh.empty:
        return
    wall, where = least(work, fresh)
    if where is None or wall >= limit - 0.01:
        return
    asked = drawn < limit and wall >= drawn - 0.05
    yield Violation(
        f"a wall only {wall:.2f} mm thick is left, {limit:g} mm is the least"
        + ("; the drawing has it so" if asked else ""),
        "cut it last and lightly" if asked else "cut the far side later, or from the other face",
        where=held.placement.inverse().apply(where),
        severity="warning" if asked else "error",
    )
