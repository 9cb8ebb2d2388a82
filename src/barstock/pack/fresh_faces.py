"""Which faces of the work a setup has just cut."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from barstock.solids.skin import Patch

NEAR = 0.06
"""A face this near the skin of what was cut away lies on it [mm]."""
MOST = 12
"""Places tried on each face."""


def freshly_cut(work: Sequence[Patch], gone: Sequence[Patch]) -> list[bool]:
    """For each face of the work: was the metal in front of it cut away here?

    gone: the faces of what was cut away; where they lie on a face of the work they face it.
    """
    if not gone:
        return [False] * len(work)
    triangles = np.concatenate([patch.triangles for patch in gone])
    normals = np.concatenate([patch.normals for patch in gone])
    low, high = triangles.min(axis=1) - NEAR, triangles.max(axis=1) + NEAR
    found = []
    for patch in work:
        corners = patch.triangles
        areas = np.linalg.norm(
            np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
        )
        largest = np.argsort(-areas)[:MOST]
        hits = 0.0
        for i in largest:
            spot = corners[i].mean(axis=0)
            boxed = np.all((low <= spot) & (spot <= high), axis=1)
            facing = boxed & (normals @ patch.normals[i] < -0.9)
            hits += areas[i] * _on(spot, triangles[facing], normals[facing])
        found.append(bool(hits > 0.5 * areas[largest].sum()))
    return found


def _on(
    spot: NDArray[np.float64], triangles: NDArray[np.float64], normals: NDArray[np.float64]
) -> bool:
    """Does the point lie on one of the triangles?"""
    if not len(triangles):
        return False
    a, b, c = triangles.transpose(1, 0, 2)
    off = np.abs(np.einsum("ij,ij->i", spot - a, normals))
    sides = [
        np.einsum("ij,ij->i", np.cross(q - p, spot - p), normals)
        / np.maximum(np.linalg.norm(q - p, axis=1), 1e-9)
        for p, q in ((a, b), (b, c), (c, a))
    ]
    return bool(np.any((off < NEAR) & (np.minimum.reduce(sides) > -NEAR)))
