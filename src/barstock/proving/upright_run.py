"""The space that a cutter sweeps whose axis stands upright, in the table frame."""

from __future__ import annotations

import math
from dataclasses import dataclass

from barstock.route import Cutter
from barstock.solids.shapes import Solid, cone, cylinder, prism, profile
from barstock.workshop.shop import ToolKind

Spot = tuple[float, float]
UP = (0.0, 0.0, 1.0)
FLAT = (ToolKind.REAMER, ToolKind.TAP, ToolKind.BORING_HEAD, ToolKind.SLITTING_SAW)
SAME = 1e-6


@dataclass(frozen=True)
class Run:
    """A run of a cutter's axis from `start` to `end` (the same for a plunge) with its tip at height
    `tip`.

    radius: cutting [mm]; nose: height of the conical point, 0 for a flat end; reads: the reading.
    """

    cutter: Cutter
    start: Spot
    end: Spot
    tip: float
    radius: float
    plunge: bool

    @property
    def nose(self) -> float:
        """The height of the conical point [mm]."""
        if self.cutter.kind in FLAT or self.cutter.point >= 179.99:
            return 0.0
        return self.radius / math.tan(math.radians(self.cutter.point / 2))

    def radius_at(self, z: float) -> float:
        """The widest radius the cutting end has anywhere below table height z [mm], 0 if none."""
        if z <= self.tip:
            return 0.0
        return self.radius * min(1.0, (z - self.tip) / self.nose) if self.nose else self.radius

    def solid(self, top: float) -> Solid:
        """The swept space from the tip up to `top` (a slitting saw: as thick as it is)."""
        if self.cutter.kind is ToolKind.SLITTING_SAW:
            top = self.tip + self.cutter.flute
        neck = self.tip + self.nose
        if top <= neck:
            top = neck + 1.0
        body = self.stadium(self.radius, neck, top)
        return body.fuse(*self._noses()) if self.nose else body

    def stadium(self, radius: float, low: float, high: float) -> Solid:
        """The space within `radius` of the axis's path, between two heights."""
        (ax, ay), (bx, by) = self.start, self.end
        length = math.dist(self.start, self.end)
        if length < SAME:
            return cylinder((ax, ay, low), UP, radius, high - low)
        rx, ry = (by - ay) / length * radius, -(bx - ax) / length * radius
        sides = [
            ((bx + rx, by + ry, low), 0.0),
            ((bx - rx, by - ry, low), 1.0),
            ((ax - rx, ay - ry, low), 0.0),
            ((ax + rx, ay + ry, low), 1.0),
        ]
        return profile((ax + rx, ay + ry, low), sides, (0.0, 0.0, high - low))

    def _noses(self) -> list[Solid]:
        (ax, ay), (bx, by) = self.start, self.end
        r, z, top = self.radius, self.tip, self.tip + self.nose
        ends = [cone((ax, ay, z), UP, 0.0, r, self.nose)]
        length = math.dist(self.start, self.end)
        if length >= SAME:
            rx, ry = (by - ay) / length * r, -(bx - ax) / length * r
            wedge = [(ax, ay, z), (ax + rx, ay + ry, top), (ax - rx, ay - ry, top)]
            ends += [
                cone((bx, by, z), UP, 0.0, r, self.nose),
                prism(wedge, (bx - ax, by - ay, 0.0)),
            ]
        return ends

    def gap(self, low: Spot, high: Spot) -> float:
        """The least distance in plan from the axis's path to a rectangle [mm], 0 if it crosses."""
        (ax, ay), (bx, by) = self.start, self.end
        if _crosses(self.start, self.end, low, high):
            return 0.0
        ends = [
            math.hypot(max(low[0] - x, 0, x - high[0]), max(low[1] - y, 0, y - high[1]))
            for x, y in (self.start, self.end)
        ]
        corners = [(low[0], low[1]), (low[0], high[1]), (high[0], low[1]), high]
        length2 = (bx - ax) ** 2 + (by - ay) ** 2
        for cx, cy in corners:
            t = ((cx - ax) * (bx - ax) + (cy - ay) * (by - ay)) / length2 if length2 else 0.0
            t = min(1.0, max(0.0, t))
            ends.append(math.hypot(ax + t * (bx - ax) - cx, ay + t * (by - ay) - cy))
        return min(ends)


def _crosses(a: Spot, b: Spot, low: Spot, high: Spot) -> bool:
    enter, leave = 0.0, 1.0
    for i in (0, 1):
        d = b[i] - a[i]
        if abs(d) < SAME:
            if not low[i] <= a[i] <= high[i]:
                return False
            continue
        t0, t1 = sorted(((low[i] - a[i]) / d, (high[i] - a[i]) / d))
        enter, leave = max(enter, t0), min(leave, t1)
    return enter <= leave
