"""Is a thin wall left? The metal under freshly cut faces is sampled on the mesh."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barstock.proving.held_work import Held
from barstock.proving.proof_record import Violation
from barstock.proving.surface import Triangles, some, thickness
from barstock.quantities import Length
from barstock.solids.shapes import Solid, Vec

FINE = 0.05  # mesh deflection [mm]
MOST = 300  # triangles sampled at most
SPOTS = ((0.34, 0.33, 0.33), (0.9, 0.05, 0.05), (0.05, 0.9, 0.05), (0.05, 0.05, 0.9))
SLACK = 0.05  # a wall thinner by no more is as thick [mm]
TRIED = 200  # thin places looked at for metal that stays, at most
NEAR = 0.01  # a face within this of what was cut away is fresh [mm]

Box = tuple[Vec, Vec]
BEYOND = 0.01  # a place so far past a face is in the hollow there [mm]
Asked = Callable[[Vec], float]
Stays = Callable[[Vec], bool]


@dataclass(frozen=True)
class Wall:
    """Metal between two faces: how thick [mm], `where`, and a place in the hollow on each side."""

    thick: float
    where: Vec
    hollows: tuple[Vec, Vec]


def least(work: Solid, within: list[Box], stays: Stays = lambda _: True) -> Wall | None:
    """The thinnest metal under the skin inside any of the boxes.

    stays: whether the metal at a place counts.
    """
    points, corners = work.mesh(FINE)
    skin = points[corners]
    normal = np.cross(skin[:, 1] - skin[:, 0], skin[:, 2] - skin[:, 0])
    length = np.linalg.norm(normal, axis=1)
    picked = np.flatnonzero((length > 1e-9) & _inside(skin, within))
    picked = picked[some(len(picked), MOST)] if len(picked) else picked
    inward = np.tile(-normal[picked] / length[picked, None], (len(SPOTS), 1))
    places = np.concatenate([np.einsum("k,tkj->tj", np.array(w), skin[picked]) for w in SPOTS])
    deep = thickness(places, inward, skin)
    for n in np.argsort(deep)[:TRIED]:
        if not np.isfinite(deep[n]):
            break
        x, y, z = places[n] + inward[n] * deep[n] / 2
        if stays((float(x), float(y), float(z))):
            ends = (0.0, -BEYOND, deep[n] + BEYOND)
            at, *hollows = (_vec(places[n] + inward[n] * far) for far in ends)
            return Wall(float(deep[n]), at, (hollows[0], hollows[1]))
    return None


def _vec(place: NDArray[np.float64]) -> Vec:
    x, y, z = place.tolist()
    return x, y, z


def _inside(skin: Triangles, within: list[Box]) -> NDArray[np.bool_]:
    """Which triangles reach into one of the boxes."""
    inside = np.zeros(len(skin), dtype=bool)
    for low, high in within:
        inside |= np.all((skin.max(axis=1) >= low) & (skin.min(axis=1) <= high), axis=1)
    return inside


def check(
    held: Held, work: Solid, fresh: Solid, limit: float, asked: Asked, stays: Stays, drawn: Stays
) -> Iterator[Violation]:
    """The fault of a wall under `limit` [mm] left by this setup; only a warning where the drawing
    has it so.

    asked: the thinnest wall the drawing has near a place of the work [mm]; stays: whether it keeps
    the metal there, for what goes by a later cut is no wall; drawn: whether it has a hollow there.
    """
    boxes = [_grown(lump.bounds, NEAR) for lump in fresh.lumps()]
    back = held.placement.inverse()
    wall = least(work, boxes, lambda place: stays(back.apply(place)))
    if wall is None or wall.thick >= limit - SLACK:
        return
    at = back.apply(wall.where)
    so = all(drawn(back.apply(hollow)) for hollow in wall.hollows)
    if not so:
        has = asked(at)
        so = has < limit and wall.thick >= has - SLACK
    yield Violation(
        f"a wall only {Length(wall.thick):.2f} thick is left, {Length(limit):.3g} is the least"
        + ("; the drawing has it so" if so else ""),
        "cut it last and lightly" if so else "cut the far side later, or from the other face",
        where=at,
        severity="warning" if so else "error",
    )


def around(place: Vec, by: float) -> Box:
    """A box about a place, `by` [mm] each way."""
    return _grown((place, place), by)


def _grown(bounds: Box, by: float) -> Box:
    (a, b, c), (d, e, f) = bounds
    return (a - by, b - by, c - by), (d + by, e + by, f + by)
