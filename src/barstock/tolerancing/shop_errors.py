"""What a shop's zeros, stops, readings and cutters may be out by: the causes in a plan's chains.

stop, vise: as the workshop states them. reading: the readout's step, or half a division. The rest
are common practice and stand here.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from barstock.tolerancing.chains import Link

FINDER = 0.01
"""An edge finder finds an edge within this, either way [mm]; common practice."""
TOUCH = 0.01
"""A cutter is touched on within this, either way [mm]; common practice."""
CUTTER = 0.02
"""A cutter cuts within this of its nominal diameter, run-out included [mm]; common practice."""
SAWN = 0.5
"""A sawn end lies within this of its place [mm]; common practice."""
MARKED = 0.15
"""Marking out, and filing to the line, hold within this [mm]; common practice."""
FOLLOWS = 0.05
"""A drill brought to its spot by eye follows it within this [mm]; common practice."""

BLOCKS = 0.005
"""What a size felt with gauge blocks, pins or a plug may be out by [mm]; common practice."""
REAMED, DRILLED = "7", "12"
"""Grades that a bore comes out in above the tool's own size: a reamer is made for H7 (ISO 522), a
drill in a spotted hole holds H12 (common practice)."""


class CauseKind(StrEnum):
    """The kinds of cause that an error comes of."""

    BAR = "bar"
    SAWN = "sawn"
    STOP = "stop"
    SEAT = "seat"
    TILT = "tilt"
    EDGE = "edge"
    TOUCH = "touch"
    READING = "reading"
    CUTTER = "cutter"
    HOLE = "hole"
    LINE = "line"


@dataclass(frozen=True)
class Cause(Link):
    """A link that is an error alone. each: it falls anew on each copy, not once for the setup.

    setup, axis: where it arises. first: it is of the first copy, on which the zero was set. side:
    of a bar, the size that is out.
    """

    kind: CauseKind
    each: bool = True
    setup: str = ""
    axis: str = ""
    first: bool = False
    side: str = ""


def cause(
    words: str,
    error: float,
    kind: CauseKind,
    *,
    each: bool = True,
    setup: str = "",
    axis: str = "",
) -> Cause:
    """The link of an error of so much either way [mm]. words: its name, with what makes it one of
    its own.
    """
    return Cause(words, 0.0, -error, error, kind, each, setup, axis)
