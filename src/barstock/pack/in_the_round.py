"""The work after every operation as triangles, small enough for a telephone: one file a setup.

A file is, gzipped: the length of its head in four bytes (little end first), the head (JSON), then
int16 points of faces and of lines (x, y, z; mm = low + (n + 32767) * step) and uint16 corners of
triangles. A face or line that several operations leave alike is there once, and named by number.
"""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barstock.pack.fresh_faces import freshly_cut
from barstock.pack.holding_picture import vise
from barstock.proving.held_work import Done
from barstock.proving.step_by_step import Worked
from barstock.proving.upright_run import Run
from barstock.route import Cutter
from barstock.solids.shapes import Solid
from barstock.solids.skin import Patch, Points, edges, patches

COARSE, TURN = 0.1, 0.3
"""How far triangles may lie off the work [mm], and turn from one to the next [radians]."""
MOST = 65534
"""Steps along the longest side, which two bytes count from -32767 to 32767."""
ABOVE = 12.0
"""Of a cutter shown above its flutes, or above the work [mm]."""

Held = tuple[str, Sequence[Patch], Sequence[Points]]


@dataclass
class _Store:
    """Faces and lines, alike ones once; whole numbers of `step` from `low` [mm]."""

    low: NDArray[Any]
    step: float
    faces: dict[bytes, int] = field(default_factory=dict)
    lines: dict[bytes, int] = field(default_factory=dict)
    shapes: list[tuple[int, int, int]] = field(default_factory=list)
    points: list[bytes] = field(default_factory=list)
    corners: list[bytes] = field(default_factory=list)
    lengths: list[int] = field(default_factory=list)

    def face(self, patch: Patch) -> int:
        points = self._whole(patch.points)
        corners = patch.corners.astype("<u2").tobytes()
        key = points + b"|" + corners
        if key not in self.faces:
            self.faces[key] = len(self.faces)
            self.shapes.append((len(patch.points), len(patch.corners), int(patch.flat)))
            self.points.append(points)
            self.corners.append(corners)
        return self.faces[key]

    def line(self, points: Points) -> int:
        key = self._whole(points)
        if key not in self.lines:
            self.lines[key] = len(self.lines)
            self.lengths.append(len(points))
        return self.lines[key]

    def _whole(self, points: Points) -> bytes:
        counted = np.clip(np.round((points - self.low) / self.step), 0, MOST) - (MOST // 2)
        return bytes(counted.astype("<i2").tobytes())


def in_the_round(worked: Worked) -> bytes:
    """The file of a setup, step by step: the work before it and after each operation, its cutter,
    the vise.
    """
    before = _skin(worked.before)
    held = _held(worked, before)
    every = [p.points for p in before] + [p.points for _, skin, _ in held for p in skin]
    points = np.concatenate(every)
    low = points.min(axis=0)
    store = _Store(low, float((points.max(axis=0) - low).max()) / MOST)
    steps = [_step(store, worked.before, before, ())]
    if worked.sawn is not None:
        skin = _skin(worked.sawn)
        ends = [len(p.points) > 0 and _across(p, before) for p in skin]
        steps.append(_step(store, worked.sawn, skin, ends))
    for done in worked.done:
        skin = _skin(done.after)
        fresh = freshly_cut(skin, patches(done.removed, COARSE, TURN))
        steps.append(_step(store, done.after, skin, fresh) | _cutting(done))
    head = {
        "low": low.tolist(),
        "step": store.step,
        "steps": steps,
        "held": [
            {"of": of, "faces": [store.face(p) for p in skin], "lines": _lines(store, lines)}
            for of, skin, lines in held
        ],
        "faces": store.shapes,
        "lines": store.lengths,
    }
    told = json.dumps(head, separators=(",", ":")).encode()
    told += b" " * (-len(told) % 4)
    body = b"".join([*store.points, *store.lines, *store.corners])
    return gzip.compress(len(told).to_bytes(4, "little") + told + body, 9, mtime=0)


def _skin(solid: Solid) -> list[Patch]:
    return patches(solid, COARSE, TURN)


def _lines(store: _Store, lines: Iterable[Points]) -> list[int]:
    return [store.line(line) for line in lines]


def _held(worked: Worked, skin: Sequence[Patch]) -> list[Held]:
    if worked.sawn is not None:
        return []
    low, high = worked.before.bounds
    bodies = vise(worked.setup.holding, low, high, worked.opening, skin).bodies
    return [(b.of, _skin(b.solid), edges(b.solid, COARSE, TURN)) for b in bodies]


def _step(
    store: _Store, solid: Solid, skin: Sequence[Patch], fresh: Sequence[bool]
) -> dict[str, Any]:
    new = list(fresh) or [False] * len(skin)
    return {
        "faces": [store.face(p) for p, is_new in zip(skin, new, strict=True) if not is_new],
        "fresh": [store.face(p) for p, is_new in zip(skin, new, strict=True) if is_new],
        "lines": _lines(store, edges(solid, COARSE, TURN)),
    }


def _across(patch: Patch, before: Sequence[Patch]) -> bool:
    """Is a face square to the bar, and not one of its own ends?"""
    x = patch.points[:, 0]
    ends = [f(p.points[:, 0]) for p in before for f in (np.min, np.max)]
    return bool(np.ptp(x) < 1e-6 and min(abs(x[0] - end) for end in ends) > 1e-3)


def _cutting(done: Done) -> dict[str, Any]:
    """The cutter at the end of its last run, and the places its axis goes through [mm]."""
    if not done.runs:
        return {}
    runs = sorted(done.runs, key=lambda run: -run.tip)
    stands = [(*spot, run.tip) for run in runs for spot in (run.start, run.end)]
    return {
        "cutter": _cutter(done.operation.cutter, runs, done.before.bounds[1][2]),
        "stands": [[round(n, 3) for n in stand] for stand in stands],
    }


def _cutter(cutter: Cutter, runs: Sequence[Run], top: float) -> list[tuple[float, float]]:
    """The cutter's outline from its tip up: radius and height at each corner [mm]."""
    last = runs[-1]
    wide, nose = max(run.radius for run in runs), last.nose
    flute = max(cutter.flute, nose + 0.1)
    shank = cutter.shank / 2 or wide
    tall = max(flute + ABOVE, top - last.tip + ABOVE)
    outline = [(0.0, 0.0), (wide, nose), (wide, flute), (shank, flute), (shank, tall)]
    return [(round(r, 3), round(z, 3)) for r, z in outline]
