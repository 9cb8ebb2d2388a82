"""Looking at solids from afar: where points land on the paper, and what stands before what."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from barstock.solids.shapes import Vec
from barstock.solids.skin import Patch, Points

Flats = NDArray[np.float64]


@dataclass(frozen=True)
class Eye:
    """The eye that looks on by parallel projection. around: degrees round to the right of straight
    in front; above: degrees.

    scale: mm on paper for one mm of the solid; shift: on paper [mm]. Paper x right, y down.
    """

    around: float
    above: float
    scale: float = 1.0
    shift: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def axes(self) -> NDArray[np.float64]:
        """The picture's axes as rows: right, down, toward the eye."""
        a, e = math.radians(self.around), math.radians(self.above)
        right = (math.cos(a), math.sin(a), 0.0)
        toward = (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))
        return np.array([right, np.cross(right, toward), toward])

    @property
    def toward(self) -> Vec:
        """The unit vector to the eye."""
        x, y, z = self.axes[2]
        return (float(x), float(y), float(z))

    def paper(self, points: Points) -> tuple[Flats, NDArray[np.float64]]:
        """The places where points (n, 3) land [mm on paper], and how near they are [mm of the
        solid].
        """
        seen = points @ self.axes.T
        return seen[:, :2] * self.scale + np.array(self.shift), seen[:, 2]

    def at(self, p: Vec) -> tuple[float, float]:
        """The place where one point lands [mm on paper]."""
        (x, y), *_ = self.paper(np.array([p]))[0]
        return (float(x), float(y))

    def fitted(self, points: Points, room: tuple[float, float, float, float]) -> Eye:
        """The same look, scaled and shifted so that all land in (left, top, right, bottom)."""
        flat = Eye(self.around, self.above).paper(points)[0]
        low, high = flat.min(axis=0), flat.max(axis=0)
        left, top, right, bottom = room
        scale = min((right - left) / (high[0] - low[0]), (bottom - top) / (high[1] - low[1]))
        middle = (low + high) / 2 * scale
        shift = ((left + right) / 2 - middle[0], (top + bottom) / 2 - middle[1])
        return Eye(self.around, self.above, float(scale), (float(shift[0]), float(shift[1])))


class Plate:
    """A grid over the paper that keeps, for every cell, the nearest face and how near it is."""

    def __init__(self, eye: Eye, width: float, height: float, cell: float) -> None:
        """Make an empty grid. width, height, cell: [mm on paper]."""
        self.eye, self.cell = eye, cell
        shape = (math.ceil(height / cell), math.ceil(width / cell))
        self.near = np.full(shape, -np.inf)
        self.label = np.full(shape, -1, dtype=np.int16)

    def lay(self, patch: Patch, labels: Sequence[int]) -> None:
        """Put a face's triangles on, each under its label. All faces of a body are to be laid."""
        flat, near = self.eye.paper(patch.points)
        flat = (flat / self.cell - 0.5)[patch.corners]
        (ax, ay), (bx, by), (cx, cy) = flat.transpose(1, 2, 0)
        area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
        rows, columns = self.near.shape
        low = np.maximum(np.ceil(flat.min(axis=1)), 0).astype(int)
        high = np.minimum(flat.max(axis=1), (columns - 1, rows - 1)).astype(int)
        # those that look away (paper y runs down) are behind others; many cover no cell's middle
        drawn = (area < -1e-9) & (low <= high).all(axis=1)
        for n in np.flatnonzero(drawn).tolist():
            window = (*low[n].tolist(), *high[n].tolist())
            self._triangle(flat[n].tolist(), near[patch.corners[n]], area[n], window, labels[n])

    def _triangle(
        self,
        corners: list[list[float]],
        near: NDArray[np.float64],
        area: float,
        window: tuple[int, int, int, int],
        label: int,
    ) -> None:
        """window: left, top, right, bottom of the cells it may cover."""
        (ax, ay), (bx, by), (cx, cy) = corners
        left, top, right, bottom = window
        x = np.arange(left, right + 1)[None, :]
        y = np.arange(top, bottom + 1)[:, None]
        v = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / area
        w = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / area
        here = near[0] + v * (near[1] - near[0]) + w * (near[2] - near[0])
        room = (slice(top, bottom + 1), slice(left, right + 1))
        front = (v >= -1e-6) & (w >= -1e-6) & (v + w <= 1 + 1e-6) & (here > self.near[room])
        self.near[room][front] = here[front]
        self.label[room][front] = label

    def first_seen(self, spots: Sequence[Vec]) -> Vec:
        """The first spot that nothing hides, else the first."""
        return next((spot for spot in spots if self.sees(spot, on_skin=True)), spots[0])

    def first_bare(self, spots: Sequence[Vec]) -> Vec:
        """The first spot with nothing before or behind it, else the last."""
        return next((spot for spot in spots if self._depth(spot)[0] == -np.inf), spots[-1])

    def sees(self, spot: Vec, on_skin: bool = False) -> bool:
        """Does nothing hide the spot? on_skin: and does it lie on something laid here?"""
        laid, near = self._depth(spot)
        slack = 1.0 / self.eye.scale
        return bool(laid <= near + slack and (not on_skin or laid >= near - slack))

    def _depth(self, spot: Vec) -> tuple[float, float]:
        """How near the nearest face before or behind a spot is, and the spot itself."""
        flat, near = self.eye.paper(np.array([spot]))
        x, y = (flat[0] / self.cell).astype(int)
        rows, columns = self.near.shape
        laid = self.near[y, x] if 0 <= x < columns and 0 <= y < rows else -np.inf
        return float(laid), float(near[0])

    @cached_property
    def _far(self) -> NDArray[np.float64]:
        """The least near of each cell and its neighbours; ask only once all faces are laid."""
        padded = np.pad(self.near, 1, constant_values=-np.inf)
        rows, columns = self.near.shape
        around = [padded[i : i + rows, j : j + columns] for i in range(3) for j in range(3)]
        return np.asarray(np.minimum.reduce(around))

    def visible(self, line: Points) -> list[Flats]:
        """The parts of a line in space that nothing hides, each a few points on paper."""
        flat, near = self.eye.paper(line)
        steps = np.hypot(*np.diff(flat, axis=0).T)
        along = np.concatenate(([0.0], np.cumsum(steps)))
        if along[-1] < self.cell:
            return []
        t = np.unique(np.concatenate((np.arange(0.0, along[-1], self.cell), along)))
        xy = np.stack([np.interp(t, along, flat[:, i]) for i in (0, 1)], axis=1)
        depth = np.interp(t, along, near) + 0.5 * self.cell / self.eye.scale
        rows, columns = self.near.shape
        column = np.clip((xy[:, 0] / self.cell).astype(int), 0, columns - 1)
        row = np.clip((xy[:, 1] / self.cell).astype(int), 0, rows - 1)
        shown = depth >= self._far[row, column]
        corner = np.isin(t, along)
        found = []
        for low, high in _runs(shown):
            if t[high - 1] - t[low] > 3 * self.cell:
                kept = corner[low:high].copy()
                kept[[0, -1]] = True
                found.append(xy[low:high][kept])
        return found


def _runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Start and end of each run of True."""
    edge = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(np.int8), [0]))))
    return list(zip(edge[::2].tolist(), edge[1::2].tolist(), strict=True))


def silhouettes(patch: Patch, toward: Vec) -> list[Points]:
    """The lines where a round face turns away from the eye."""
    if patch.flat:
        return []
    facing = patch.normals @ np.array(toward) > 0
    # along the seam of a round face the same point comes twice
    points, where = np.unique(np.round(patch.points, 6), axis=0, return_inverse=True)
    seen: dict[tuple[int, int], bool] = {}
    found = []
    for corners, front in zip(where.reshape(-1)[patch.corners].tolist(), facing, strict=True):
        for a, b in ((0, 1), (1, 2), (2, 0)):
            ends = (min(corners[a], corners[b]), max(corners[a], corners[b]))
            if seen.setdefault(ends, front) != front:
                found.append(points[list(ends)])
    return found
