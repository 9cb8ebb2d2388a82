"""What sort of size a dimension is, and between which two ends it runs.

Feature kinds say both when they name what is to be checked; everything that measures, judges or
prints a dimension goes by them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from barstock.drawing.faces import AXES, Face


class CheckSort(StrEnum):
    """What sort of size a dimension is, and so what measures it."""

    OUTSIDE = "outside"
    INSIDE = "inside"
    DEPTH = "depth"
    POSITION = "position"
    THREAD = "thread"
    ANGLE = "angle"
    DIAMETER = "diameter"
    COUNTERSINK = "countersink"
    BEVEL = "bevel"
    RADIUS = "radius"


class EndKind(StrEnum):
    """What a dimension runs from or to."""

    # of the part
    FACE = "face"
    SQUARED_END = "squared end"
    FILED_FACE = "filed face"
    CENTRE_LINE = "centre line"
    # of a feature
    WALL = "wall"
    NEAR_WALL = "near wall"
    END = "end"
    NEAR_END = "near end"
    ROUND_END = "round end"  # the centre that it is round about
    FLOOR = "floor"
    SURFACE = "surface"  # a wall or floor that is given by where it lies
    MIDDLE = "middle"
    FLAT = "flat"
    PEAK = "peak"
    CORNER = "corner"
    CUTTER = "cutter"  # its own form, which nothing measures
    # of a hole
    HOLE = "hole"  # its centre
    NEXT_HOLE = "next hole"
    LAST_HOLE = "last hole"
    MOUTH = "mouth"  # the face or floor that it starts on
    FULL_DIAMETER = "full diameter"
    FULL_THREAD = "full thread"
    TAPPING_DRILL = "tapping drill"
    COUNTERBORE = "counterbore"
    RIM = "rim"  # of a countersink
    CONE = "cone"


DATUM_FACES = (EndKind.FACE, EndKind.SQUARED_END, EndKind.FILED_FACE)


@dataclass(frozen=True)
class End:
    """One end of a dimension. face: which one it is, or of two floors that lean, the end of the
    part where they are measured. axis: of the part, which the dimension runs along."""

    kind: EndKind
    face: Face | None = None
    axis: int | None = None

    @property
    def is_face(self) -> bool:
        """Is the end a face of the part?"""
        return self.kind in DATUM_FACES

    @property
    def along(self) -> str:
        """The name of the axis that the dimension runs along, "" where it is not said."""
        axis = self.face.axis if self.face else self.axis
        return "" if axis is None else AXES[axis]


Runs = tuple[End, End]


def between(one: EndKind, other: EndKind) -> Runs:
    """The two ends from one to the other, where a feature has no more than these.

    >>> [end.kind.value for end in between(EndKind.WALL, EndKind.WALL)]
    ['wall', 'wall']
    """
    return End(one), End(other)


def from_face(face: Face, to: EndKind) -> Runs:
    """The two ends of a dimension from a face of the part.

    >>> from_face(Face.TOP, EndKind.FLOOR)[0].along
    'height'
    """
    return End(EndKind.FACE, face), End(to)


def over(axis: int, kind: EndKind = EndKind.FACE) -> Runs:
    """The two ends of a dimension over all of the part along an axis.

    >>> [end.face.value for end in over(0, EndKind.SQUARED_END)]
    ['left', 'right']
    """
    return End(kind, Face.of(axis, -1)), End(kind, Face.of(axis, 1))
