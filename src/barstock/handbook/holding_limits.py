"""How firmly work must be held, and what stands about it: limits that plan and proof both go by.

All are common practice: no standard gives them. Who needs a margin on one adds it where it is used.
"""

from __future__ import annotations

THIN_GRIP = 1.0  # height that even thin work is gripped by [mm], common practice
LEAST_GRIP = 2.0  # height between the jaws [mm], by light cuts; common practice; or
GRIP_SHARE = 0.25  # this share of thinner work's own height, common practice
LEAST_LENGTH = 10.0  # of work along jaws, V or fence [mm], or
LENGTH_SHARE = 1 / 3  # this share of shorter work's own length, common practice
BLOCK_IN_JAWS = 5.0  # of a block's height that is between the jaws at least [mm], common practice
SPRINGS = 20.0  # times its thickness that work may lie hollow, common practice
OVERHANG = 5.0  # times its thickness that work is cut past the jaws' ends, common practice
SCREWS_APART = 5.0  # two screws nearer than this let the work turn [mm], common practice
INTO_BLOCK = 1.0  # a cutter may go this far into a fixture block [mm], common practice
STANDS_IN_V = 0.5  # of its diameter, or of its height where that is less, that standing work is
# held over at least, common practice
STRAPS_APART = 0.3  # of the work's longer side between two straps' noses, common practice
FINDER_ROOM = (
    1.0  # that a finder's tip wants besides to go between two things [mm], common practice
)
CLAMP_BEARS = 0.75  # of the width of a V-block's clamp that is over the work, or a third of short
# work's length, common practice
IN_SIGHT = 1.0  # of a side that an edge finder touches, clear of all else [mm], common practice
PAST_MIDDLE = 1.0  # that flat jaws reach past the middle of a round between them [mm], or
PAST_MIDDLE_SHARE = 0.3  # this share of a thin one's radius, common practice
PLATE_REACHES = 0.5  # share of standing work's height beside an angle plate, common practice
HOLDER_RADIUS = {"chuck": 20.0, "collet": 16.0, "arbor": 16.0, "hand": 0.0}
"""Of what holds a cutter, below the spindle [mm]; common practice."""


def least_grip(height: float, share: float = GRIP_SHARE) -> float:
    """The least height of work that is between the jaws [mm]: of a sheet, all there is.

    height: of the work; share: of it that will do where that is less.

    >>> least_grip(20.0), least_grip(6.0), least_grip(2.0), least_grip(0.8)
    (2.0, 1.5, 1.0, 0.8)
    """
    return min(height, max(THIN_GRIP, min(LEAST_GRIP, share * height)))


def least_length(length: float) -> float:
    """The least length of work that is held along jaws, V or fence [mm].

    length: of the work.

    >>> least_length(60.0), least_length(12.0)
    (10.0, 4.0)
    """
    return min(LEAST_LENGTH, length * LENGTH_SHARE)


def stands_in_v(across: float, tall: float) -> float:
    """The least height over which a round that stands in a V is held [mm].

    >>> stands_in_v(16.0, 50.0), stands_in_v(40.0, 8.0)
    (8.0, 4.0)
    """
    return max(THIN_GRIP, STANDS_IN_V * min(across, tall))


def jaws_over_round(across: float) -> float:
    """How far flat jaws reach past the middle of a round that lies between them at least [mm].

    >>> jaws_over_round(10.0), jaws_over_round(2.0)
    (1.0, 0.3)
    """
    return min(PAST_MIDDLE, PAST_MIDDLE_SHARE * across / 2)


def clamp_bears(wide: float, length: float) -> float:
    """The least length over which a V-block's clamp so wide bears on work so long [mm].

    >>> clamp_bears(10.0, 60.0), clamp_bears(10.0, 12.0)
    (7.5, 4.0)
    """
    return min(CLAMP_BEARS * wide, length * LENGTH_SHARE)
