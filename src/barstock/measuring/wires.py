"""Threads measured over three wires: effective (pitch) diameter from a micrometer reading, and
back.

M = E + W (1 + cosec(a / 2)) - (P / 2) cot(a / 2): W the wire, P the pitch, a the thread's angle.
Source: Machinery's Handbook, Measuring Screw Threads, three-wire method; the lead angle's small
correction is left out, as there for single-start threads. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, tan

from barstock.handbook.thread_form import EFFECTIVE, H, Thread
from barstock.measuring.gauging import Gauging, GaugingError

ROUNDED = {60.0: 0.0, 55.0: 0.137329, 47.5: 2 / 11}
"""Included angle -> radius of the rounded crest, in pitches. ISO 68-1, BS 84, BS 93."""


def best_wire(thread: Thread) -> float:
    """The wire that touches the flanks on the pitch line [mm]: P / 2 / cos(a / 2).

    With it an error of the flank angle does not count.

    >>> from barstock.handbook.threads import thread
    >>> round(best_wire(thread("M6")), 5)
    0.57735
    """
    return thread.pitch / 2 / cos(_half(thread))


def wire_range(thread: Thread) -> tuple[float, float]:
    """The thinnest and the thickest wire that can be used [mm].

    The thinnest still stands above the crests and touches the straight flank, the thickest still
    touches the flank below the crest.

    >>> from barstock.handbook.threads import thread
    >>> [round(w, 4) for w in wire_range(thread("M6"))]
    [0.5052, 1.0104]
    """
    half = _half(thread)
    out = EFFECTIVE[thread.angle] - ROUNDED[thread.angle] * (1 - sin(half))
    inward = H / 4 if thread.angle == 60 else out
    proud = (2 * EFFECTIVE[thread.angle] + 0.5 / tan(half)) / (1 + 1 / sin(half))
    deep = (0.5 - 2 * tan(half) * inward) / cos(half)
    thick = (0.5 + 2 * tan(half) * out) / cos(half)
    return max(proud, deep) * thread.pitch, thick * thread.pitch


@dataclass(frozen=True)
class ThreeWires(Gauging):
    """The effective diameter of a thread, read over three wires.

    wire: diameter [mm]. Raises GaugingError for one that does not seat on the flanks.

    >>> from barstock.handbook.threads import thread
    >>> m6 = thread("M6")
    >>> round(ThreeWires(m6, wire=0.577).reading(m6.effective), 4)  # 5.3505 + 1.731 - 0.86603
    6.2155
    """

    thread: Thread
    wire: float

    def __post_init__(self) -> None:
        low, high = wire_range(self.thread)
        if not low <= self.wire <= high:
            what = f"a {self.wire:g} mm wire does not seat on {self.thread.name}"
            raise GaugingError(f"{what}; {_advised(self.thread)}")

    def _over(self) -> float:
        half = _half(self.thread)
        return self.wire * (1 + 1 / sin(half)) - self.thread.pitch / 2 / tan(half)

    def reading(self, dimension: float) -> float:
        return dimension + self._over()

    def dimension(self, reading: float) -> float:
        return reading - self._over()


def _half(thread: Thread) -> float:
    return radians(thread.angle / 2)


def _advised(thread: Thread) -> str:
    low, high = wire_range(thread)
    return f"take {low:.3f} to {high:.3f}, best {best_wire(thread):.3f} mm"
