"""Readings as a machine's own axis shows them: a readout's figures, or turns and divisions.

A handwheel is set to half a division by eye (common practice), always coming from the same side,
so that the backlash of screw and nut lies always on the same side too.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log10

from barstock.workshop.shop import Axis

PLAIN = 0.01
"""What an axis of which nothing is said can be set to [mm]."""


class AxisError(ValueError):
    """Raised for a reading beyond the axis; says how far it goes."""


def least_step(axis: Axis) -> float:
    """The least difference the axis can be set to [mm]: the readout's, or half a division.

    >>> least_step(Axis(200, per_turn=2, divisions=100))
    0.01
    """
    if axis.readout:
        return axis.readout
    if axis.per_turn and axis.divisions:
        return axis.per_turn / axis.divisions / 2
    return PLAIN


@dataclass(frozen=True)
class Turns:
    """A handwheel's place from its zero. sign: 1 or -1; whole turns and divisions beyond them."""

    sign: int
    turns: int
    divisions: float

    @property
    def figures(self) -> tuple[str, ...]:
        """The figures of the place and the words between them, by turns."""
        if not (self.turns or self.divisions):
            return ("0",)
        whole, half = int(self.divisions), self.divisions % 1
        div = f"{whole or ''}½" if half else f"{whole}"
        sign = "−" if self.sign < 0 else "+"
        if not self.turns:
            return (f"{sign}{div}", "div")
        return (f"{sign}{self.turns}", "turn" if self.turns == 1 else "turns", div, "div")

    def __str__(self) -> str:
        return " ".join(self.figures)


def turns(reading: float, axis: Axis) -> Turns:
    """The place of the handwheel nearest to a reading from its zero [mm]. Raises AxisError.

    >>> str(turns(12.35, Axis(200, per_turn=2, divisions=100)))
    '+6 turns 17½ div'
    """
    if not (axis.per_turn and axis.divisions):
        raise AxisError("the axis has no handwheel; give per_turn and divisions in workshop.yaml")
    divisions = round(abs(reading) / axis.per_turn * axis.divisions * 2) / 2
    whole, rest = divmod(divisions, axis.divisions)
    return Turns(-1 if reading < 0 and divisions else 1, int(whole), rest)


def wheel(axis: Axis) -> bool:
    """Is the axis read by the divisions of its handwheel?"""
    return not axis.readout and bool(axis.per_turn and axis.divisions)


def dial(reading: float, axis: Axis) -> str:
    """A reading [mm] as the axis shows it: figures of a readout, or turns and divisions from zero.

    Raises AxisError for a reading beyond the axis's travel.

    >>> from barstock.quantities import Unit
    >>> dial(12.345, Axis(200, readout=0.005))
    '+12.345'
    >>> dial(-25.4, Axis(250, readout=0.0127, unit=Unit.INCH))
    '-1.0000'
    >>> dial(12.35, Axis(200, per_turn=2, divisions=100))
    '+6 turns 17½ div'
    """
    return " ".join(shown(reading, axis))


def shown(reading: float, axis: Axis) -> tuple[str, ...]:
    """A reading [mm] as the axis shows it: its figures and the words between them, by turns.

    Raises AxisError for a reading beyond the axis's travel.

    >>> shown(12.35, Axis(200, per_turn=2, divisions=100))
    ('+6', 'turns', '17½', 'div')
    """
    if abs(reading) > axis.travel:
        raise AxisError(f"{reading:g} mm is beyond the axis; it travels {axis.travel:g} mm")
    if wheel(axis):
        return turns(reading, axis).figures
    step = least_step(axis)
    place = round(reading / step) * step / axis.unit.scale
    return (f"{place + 0.0:+.{_places(axis)}f}",)


def approach(start: float, target: float, axis: Axis, side: int = 1) -> str:
    """How to come from one reading to another [mm] always from the same side, in words.

    side: 1 where the wheel ends turning towards greater readings, -1 towards smaller. Against that
    side, one goes past by twice the backlash, at least half a turn (common practice), then comes
    back. A readout needs none of this: it shows the slide itself. Raises AxisError.

    >>> axis = Axis(200, per_turn=2, divisions=100, backlash=0.1)
    >>> approach(0, 3.5, axis)
    'on to +1 turn 75 div'
    >>> approach(10, 3.5, axis)
    'back past it to +1 turn 25 div, then on to +1 turn 75 div'
    """
    if not wheel(axis):
        return f"to {dial(target, axis)}"
    if (target - start) * side >= 0:
        return f"on to {dial(target, axis)}"
    past = target - side * max(axis.per_turn / 2, 2 * axis.backlash)
    return f"back past it to {turns(past, axis)}, then on to {dial(target, axis)}"


def distance(mm: float, axis: Axis) -> str:
    """A distance still to go [mm] in the axis's own figures: divisions of the wheel, or a length.

    >>> distance(0.25, Axis(200, per_turn=2, divisions=100))
    '12½ div'
    >>> distance(2.25, Axis(200, per_turn=2, divisions=100))
    '1 turn 12½ div'
    >>> distance(0.25, Axis(200, readout=0.005))
    '0.250 mm'
    """
    if wheel(axis):
        place = turns(abs(mm), axis)
        return str(place).lstrip("+") if place.turns or place.divisions else "0 div"
    return f"{abs(mm) / axis.unit.scale:.{_places(axis)}f} {axis.unit.sign}"


def _places(axis: Axis) -> int:
    """Decimals that show the axis's step fully: 0.005 -> 3, 0.01 -> 2."""
    return max(0, ceil(-log10(least_step(axis) / axis.unit.scale) - 1e-9))
