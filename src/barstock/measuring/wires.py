"""Threads over three wires: pitch (effective) diameter from a micrometer reading, and back.

M = E + W (1 + cosec(a / 2)) - (P / 2) cot(a / 2), W the wire, P the pitch, a the thread's angle.
Source: Machinery's Handbook, Measuring Screw Threads, three-wire method; the lead angle's small
correction is left out, as there for single-start threads. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import cos, radians, sin, tan

from barstock.measuring.gauging import Gauging, GaugingError, above_zero


class Form(Enum):
    """A form of thread: (included angle [degrees], pitch diameter below major, straight flank
    outside and inside the pitch line), lengths in pitches.

    ISO: ISO 68-1, H = 0.8660 P, crest at 3/8 H, root at 1/4 H. UN: ASME B1.1, alike. WHITWORTH:
    BS 84, depth 0.6403 P, rounded 0.1373 P. BA: BS 93, depth 0.6 P, rounded 2/11 P. The straight
    flank of a rounded form ends at half the depth less r (1 - sin(a / 2)).
    """

    ISO = ("ISO", 60.0, 0.649519, 0.324760, 0.216506)
    UN = ("UN", 60.0, 0.649519, 0.324760, 0.216506)
    WHITWORTH = ("Whitworth", 55.0, 0.640327, 0.246248, 0.246248)
    BA = ("BA", 47.5, 0.6, 0.191413, 0.191413)

    def __init__(self, label: str, angle: float, below: float, out: float, in_: float) -> None:
        self.label = label
        self.angle = angle
        self.below = below
        self.flank = (out, in_)


def pitch_diameter(form: Form, major: float, pitch: float) -> float:
    """Basic pitch diameter of a thread [mm] from its major diameter and pitch [mm].

    >>> round(pitch_diameter(Form.ISO, 6, 1), 3)
    5.35
    """
    return major - form.below * pitch


def best_wire(form: Form, pitch: float) -> float:
    """The wire that touches the flanks on the pitch line [mm]: P / 2 / cos(a / 2).

    With it the flank angle's own error does not count.

    >>> round(best_wire(Form.ISO, 1), 5)
    0.57735
    """
    above_zero(pitch=pitch)
    return pitch / 2 / cos(radians(form.angle / 2))


def wire_range(form: Form, pitch: float) -> tuple[float, float]:
    """The thinnest and thickest wire that can be used [mm].

    The thinnest still stands above the crests and touches the straight flank, the thickest still
    touches the flank below the crest.

    >>> [round(w, 4) for w in wire_range(Form.ISO, 1)]
    [0.5052, 1.0104]
    """
    above_zero(pitch=pitch)
    half = radians(form.angle / 2)
    out, in_ = form.flank
    proud = (form.below + 0.5 / tan(half)) / (1 + 1 / sin(half))
    deep = (0.5 - 2 * tan(half) * in_) / cos(half)
    return max(proud, deep) * pitch, (0.5 + 2 * tan(half) * out) / cos(half) * pitch


@dataclass(frozen=True)
class ThreeWires(Gauging):
    """The pitch diameter of a thread, read over three wires.

    form; pitch, wire [mm]. Raises GaugingError for a wire that does not seat on the flanks.

    >>> way = ThreeWires(Form.ISO, pitch=1, wire=0.577)
    >>> round(way.reading(5.35), 4)  # 5.35 + 3 x 0.577 - 0.86603
    6.215
    """

    form: Form
    pitch: float
    wire: float

    def __post_init__(self) -> None:
        low, high = wire_range(self.form, self.pitch)
        if not low <= self.wire <= high:
            raise GaugingError(
                f"a {self.wire:g} mm wire does not seat on a {self.form.label} thread of "
                f"{self.pitch:g} mm pitch; take {low:.3f} to {high:.3f}, best "
                f"{best_wire(self.form, self.pitch):.3f} mm"
            )

    def _over(self) -> float:
        half = radians(self.form.angle / 2)
        return self.wire * (1 + 1 / sin(half)) - self.pitch / 2 / tan(half)

    def reading(self, dimension: float) -> float:
        return dimension + self._over()

    def dimension(self, reading: float) -> float:
        return reading - self._over()


def nearest_wire(form: Form, pitch: float, owned: tuple[float, ...]) -> float:
    """The wire owned that is nearest to the best one and seats [mm]. Raises GaugingError.

    >>> nearest_wire(Form.ISO, 1, (0.455, 0.62, 0.725))
    0.62
    """
    low, high = wire_range(form, pitch)
    able = [w for w in owned if low <= w <= high]
    if not able:
        raise GaugingError(
            f"no wire owned seats on a {form.label} thread of {pitch:g} mm pitch; "
            f"buy {low:.3f} to {high:.3f}, best {best_wire(form, pitch):.3f} mm"
        )
    return min(able, key=lambda w: abs(w - best_wire(form, pitch)))
