"""The forms of screw threads. Lengths in mm.

Forms: ISO 68-1 and ASME B1.1 (60 degrees, height H = 0.866 pitch, the nut's thread 5/8 H deep, the
screw's 17/24 H), BS 93 (BA, 47.5 degrees, 0.6 pitch deep), BS 84 (Whitworth, 55 degrees, 0.6403
pitch deep).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from barstock.quantities import INCH

H = sqrt(3) / 2
"""Height of the sharp 60 degree thread, in pitches. ISO 68-1."""

DEEP = {60.0: 5 / 8 * H, 55.0: 0.640327, 47.5: 0.6}
"""Included angle -> depth of the nut's thread, in pitches."""

ROOT = {**DEEP, 60.0: 17 / 24 * H}
"""Included angle -> depth of the screw's thread, in pitches."""

FULL = {**DEEP, 60.0: 3 / 4 * H}
"""Included angle -> what tap drill charts call 100 %, in pitches."""

EFFECTIVE = {60.0: 3 / 8 * H, 55.0: 0.640327 / 2, 47.5: 0.3}
"""Included angle -> effective diameter's distance below the crest, in pitches."""


@dataclass(frozen=True)
class Thread:
    """A screw thread [mm, degrees].

    minor: basic minor diameter of the nut. tap_drill: usual tapping drill. clearance_*: hole for
    the screw to pass. source: standards of the row; memory: typed from memory.
    """

    name: str
    series: str
    major: float
    pitch: float
    angle: float
    minor: float
    tap_drill: float
    clearance_close: float
    clearance_medium: float
    clearance_free: float
    source: str
    memory: bool = True

    @property
    def tpi(self) -> float:
        """The number of threads an inch."""
        return INCH / self.pitch

    @property
    def effective(self) -> float:
        """Basic effective (pitch) diameter [mm]."""
        return self.major - 2 * EFFECTIVE[self.angle] * self.pitch

    @property
    def root(self) -> float:
        """Root diameter of the screw [mm]."""
        return self.major - 2 * ROOT[self.angle] * self.pitch
