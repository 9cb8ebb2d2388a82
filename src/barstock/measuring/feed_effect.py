"""How a dimension answers to feed: one wall or two, a slope, a diameter, a cone.

Each `Making` says how many mm the drawing's dimension changes for one mm of feed, and which way.
The factors are plane geometry: 2 where both sides move, 1 / cos of the tilt where the floor cut
level leans to the direction dimensioned, 2 tan of half the angle for a cone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, radians, tan


@dataclass(frozen=True)
class Making:
    """How a dimension answers to feed. gain: mm of dimension for one mm of feed; grows: cutting
    makes it larger, not smaller.

    where: what is fed, in the trade's words ("each wall").
    """

    name: str
    gain: float
    grows: bool
    where: str = ""

    @property
    def rate(self) -> float:
        """Change of the dimension for one mm of feed, with its sign."""
        return self.gain if self.grows else -self.gain


DEPTH = Making("depth", 1.0, True, "down")
"""A floor cut deeper below the face it is dimensioned from."""

HEIGHT = Making("height", 1.0, False, "down")
"""What stands under a face or floor that is cut down; a length of which one end is cut."""

WIDTH_ONE_WALL = Making("width", 1.0, True, "the one wall")
"""A slot or pocket widened at one wall only."""

WIDTH_TWO_WALLS = Making("width", 2.0, True, "each wall")
"""A slot or pocket widened at both walls alike, its middle staying where it is."""

BOTH_ENDS = Making("length", 2.0, False, "each end")
"""A symmetric part of which both ends, or both sides, are cut alike."""

TURNED = Making("diameter", 2.0, False, "in")
"""An outside diameter in the lathe."""

POSITION = Making("position", 1.0, True, "on")
"""A hole or wall placed from a face or line, on a trial cut before the final one."""

BORED = Making("diameter", 2.0, True, "out")
"""A bore, by the cross slide or the boring head's offset."""

BEVEL = Making("leg", 1.0, True, "down")
"""A bevel at 45 degrees by a cone cutter fed down, or on towards the edge."""


def halved(making: Making) -> Making:
    """The effect of feed where the drawing gives half the size, from the centre line.

    >>> halved(BOTH_ENDS).gain
    1.0
    """
    return replace(making, name=f"half {making.name}", gain=making.gain / 2)


def on_slope(making: Making, tilt: float) -> Making:
    """The effect of feed where the work is tilted [degrees] so that the leaning floor is cut level.

    The feed is square to the floor, the drawing's dimension square to the part.

    >>> round(on_slope(BOTH_ENDS, 1.5).gain, 5)  # across two leaning floors
    2.00069
    """
    if not -89 < tilt < 89:
        raise ValueError(f"a floor cannot be cut level at a tilt of {tilt:g} degrees")
    return replace(making, gain=making.gain / cos(radians(tilt)))


def countersunk(angle: float) -> Making:
    """The effect of feed on a countersink's top diameter; angle: included [degrees].

    >>> round(countersunk(90).gain, 9)
    2.0
    """
    if not 0 < angle < 180:
        raise ValueError(f"a countersink's angle is between 0 and 180 degrees, not {angle:g}")
    return Making("top diameter", 2 * tan(radians(angle / 2)), True, "down")


_USUAL = {
    "inside": WIDTH_TWO_WALLS,
    "one wall": WIDTH_ONE_WALL,
    "outside": HEIGHT,
    "both ends": BOTH_ENDS,
    "depth": DEPTH,
    "position": POSITION,
    "diameter": BORED,
    "turned": TURNED,
    "bevel": BEVEL,
}
SORTS = (*_USUAL, "countersink")
"""What can be closed in on, by the word that `usual` takes."""


def usual(of: str, angle: float = 90.0) -> Making | None:
    """The usual effect of feed on a dimension of that sort (SORTS), or on a `Check`'s.

    angle: of a countersink [degrees]. None for what no feed mends: a thread, an angle.

    >>> usual("inside").where, usual("thread")
    ('each wall', None)
    """
    return countersunk(angle) if of == "countersink" else _USUAL.get(of)
