"""Areas of a grid are drawn here as outlines, and hatched."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from barstock.solids.strokes import Flat

Mask = NDArray[np.bool_]
Ring = list[Flat]


def outlines(mask: Mask, cell: float, slack: float) -> list[Ring]:
    """The closed outlines round the True cells (holes turn the other way) within `slack` [mm]."""
    mask, left, top = _cropped(mask)
    steps = _cracks(mask)
    rings = []
    while steps:
        start, ends = next(iter(steps.items()))
        ring, here, before = [start], start, None
        while True:
            ends = steps[here]
            step = ends.pop(_sharpest(here, before, ends) if len(ends) > 1 else 0)
            if not ends:
                del steps[here]
            before, here = here, step
            if here == start:
                break
            ring.append(here)
        if len(ring) > 3:
            rings.append(
                [((x + left) * cell, (y + top) * cell) for x, y in _simple(ring, slack / cell)]
            )
    return [ring for ring in rings if len(ring) > 2]


def _cropped(mask: Mask) -> tuple[Mask, int, int]:
    """The part of the mask that holds all its True cells, and where its corner lies."""
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    if not len(rows):
        return mask[:0, :0], 0, 0
    top, left = int(rows[0]), int(columns[0])
    return mask[top : rows[-1] + 1, left : columns[-1] + 1], left, top


def _cracks(mask: Mask) -> dict[tuple[int, int], list[tuple[int, int]]]:
    """Steps along the cell borders, the True cell on the right hand (y down)."""
    padded = np.pad(mask, 1)
    steps: dict[tuple[int, int], list[tuple[int, int]]] = {}
    inside = padded[1:-1, 1:-1]
    for dy, dx, ax, ay, bx, by in (
        (-1, 0, 0, 0, 1, 0),
        (1, 0, 1, 1, 0, 1),
        (0, -1, 0, 1, 0, 0),
        (0, 1, 1, 0, 1, 1),
    ):
        rows, columns = mask.shape
        beside = padded[1 + dy : 1 + dy + rows, 1 + dx : 1 + dx + columns]
        for y, x in np.argwhere(inside & ~beside).tolist():
            steps.setdefault((x + ax, y + ay), []).append((x + bx, y + by))
    return steps


def _sharpest(
    here: tuple[int, int], before: tuple[int, int] | None, ends: list[tuple[int, int]]
) -> int:
    """Where two cells meet at a corner, keep to the same cell."""
    if before is None:
        return 0
    dx, dy = here[0] - before[0], here[1] - before[1]
    turns = [dx * (y - here[1]) - dy * (x - here[0]) for x, y in ends]
    return turns.index(max(turns))


def _simple(ring: list[tuple[int, int]], slack: float) -> list[tuple[int, int]]:
    """The ring with fewer points, none of those left out further off than `slack`."""
    points = np.array(ring, dtype=float)
    far = int(np.argmax(np.hypot(*(points - points[0]).T)))
    keep = {0, far}
    spans = [(0, far), (far, len(ring))]
    closed = np.vstack((points, points[:1]))
    while spans:
        a, b = spans.pop()
        if b - a < 2:
            continue
        between = closed[a + 1 : b] - closed[a]
        dx, dy = closed[b] - closed[a]
        length = math.hypot(dx, dy)
        off = (
            np.abs(between[:, 0] * dy - between[:, 1] * dx) / length
            if length
            else np.hypot(*between.T)
        )
        worst = int(np.argmax(off))
        if off[worst] > slack:
            middle = a + 1 + worst
            keep.add(middle)
            spans += [(a, middle), (middle, b)]
    return [ring[i] for i in sorted(keep)]


def hatching(mask: Mask, cell: float, angle: float, apart: float) -> list[tuple[Flat, Flat]]:
    """The parallel lines at `angle` [degrees, y down] over the True cells, `apart` [mm] apart."""
    rows, columns = mask.shape
    if not mask.any():
        return []
    ys, xs = np.nonzero(mask)
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    across = (ys * c - xs * s) * cell
    along = (xs * c + ys * s) * cell
    found: list[tuple[Flat, Flat]] = []
    t = np.arange(along.min() - cell, along.max() + 2 * cell, cell)
    for n in range(math.ceil(across.min() / apart), math.floor(across.max() / apart) + 1):
        off = n * apart
        x, y = t * c - off * s, t * s + off * c
        column, row = np.round(x / cell).astype(int), np.round(y / cell).astype(int)
        here = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        here[here] = mask[row[here], column[here]]
        edge = np.flatnonzero(np.diff(np.concatenate(([0], here.astype(np.int8), [0]))))
        for a, b in zip(edge[::2], edge[1::2], strict=True):
            if b - a > 2:
                ends = [(float(x[i]) + cell / 2, float(y[i]) + cell / 2) for i in (a, b - 1)]
                found.append((ends[0], ends[1]))
    return found
