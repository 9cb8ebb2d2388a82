"""Angles set by sine bar and read by dial indicator.

Source of every formula: the right-angled triangle, as in any trade handbook's section on the sine
bar (height = centres x sin angle). Lengths in mm, angles in degrees, errors in seconds of arc.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, degrees, radians, sin, tan

from barstock.measuring.stacks import Stack, StackError, stack

SECONDS = 3600.0


class AngleError(ValueError):
    """Raised for an angle or height that the device cannot take; says what it can."""


@dataclass(frozen=True)
class SineSetting:
    """A sine bar as it can be set. angle: wanted [degrees]; stack: blocks under one roller [mm];

    made: angle they give [degrees]; error: made less wanted [seconds of arc].
    """

    angle: float
    stack: Stack
    made: float
    error: float


def sine_height(angle: float, centres: float) -> float:
    """Height of blocks under one roller for an angle [mm].

    angle: 0 to 90 [degrees]. centres: distance of the rollers' centres [mm]. Raises AngleError.

    >>> sine_height(30, 100)
    50.0
    """
    if not 0 <= angle <= 90:
        raise AngleError(f"a sine bar takes 0 to 90 degrees, not {angle:g}")
    return round(_bar(centres) * sin(radians(angle)), 9)


def sine_angle(height: float, centres: float) -> float:
    """Angle that blocks of this height [mm] under one roller give [degrees]. Raises AngleError.

    >>> round(sine_angle(50, 100), 9)
    30.0
    """
    if not 0 <= height <= _bar(centres):
        raise AngleError(f"{height:g} mm of blocks do not go under a {centres:g} mm sine bar")
    return degrees(asin(height / centres))


def sine_error(angle: float, height: float, centres: float) -> float:
    """How far blocks of this height [mm] set the bar from the angle wanted [seconds of arc].

    Positive: the bar stands steeper. Raises AngleError.

    >>> round(sine_error(30, 50.01, 100), 1)  # 10 µm too many
    23.8
    """
    return (sine_angle(height, centres) - angle) * SECONDS


def sine_setting(
    angle: float,
    centres: float,
    sizes: Sequence[float],
    *,
    protectors: tuple[float, float] | None = None,
) -> SineSetting:
    """The nearest setting of a sine bar to an angle with the blocks owned.

    angle [degrees], centres [mm], sizes of the blocks [mm]. Raises AngleError, StackError.

    >>> s = sine_setting(3, 100, [1.003, 1.03, 1.2, 2, 3])  # sin 3° x 100 = 5.2336 mm
    >>> s.stack.blocks, round(s.made, 4), round(s.error)
    ((2.0, 1.2, 1.03, 1.003), 2.9997, -1)
    """
    height = sine_height(angle, centres)
    if height == 0:
        return SineSetting(angle, Stack(0.0, ()), 0.0, 0.0)
    return _set(angle, centres, stack(height, sizes, protectors=protectors))


def rise(angle: float, travel: float) -> float:
    """What an indicator over a tilted face shows when the table is moved along it [mm].

    angle: of the face to the table [degrees]; travel: of the table [mm]. The check of a tilting
    table or a tilted vise: face tan angle. Raises AngleError.

    >>> round(rise(1.5, 40), 3)
    1.047
    """
    if not -90 < angle < 90:
        raise AngleError(f"a face at {angle:g} degrees cannot be passed under an indicator")
    return travel * tan(radians(angle))


def _bar(centres: float) -> float:
    if centres <= 0:
        raise AngleError("a sine bar's centres are some mm above zero apart")
    return centres


def _set(angle: float, centres: float, built: Stack) -> SineSetting:
    if built.made > centres:
        raise StackError(f"no stack of this set goes under a {centres:g} mm sine bar there")
    made = sine_angle(built.made, centres)
    return SineSetting(angle, built, made, (made - angle) * SECONDS)
