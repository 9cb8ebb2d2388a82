"""What a cutter or a hand tool does to the work: what is proven, and what is read at the bench."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from barstock.drawing.build import Face
from barstock.route.holdings import Side
from barstock.route.record import Record
from barstock.workshop.shop import ToolKind


class Does(StrEnum):
    """The purposes of a move of the cutter, or of a line sawn and filed to."""

    ROUGH = "rough"
    FLOOR = "floor"
    WALL = "wall"
    CLEAN_UP = "clean up"
    FINISH = "finish"
    BEVEL = "bevel"
    SLIT = "slit"
    ROUGH_SIDE = "rough side"
    SIDE = "side"
    STRAIGHT = "straight"
    ARC = "arc"
    SPOT = "spot"
    DRILL = "drill"
    REAM = "ream"
    TAP = "tap"
    FLAT = "flat"
    COUNTERSINK = "countersink"
    COUNTERBORE = "counterbore"
    BORE = "bore"
    SAW = "saw"
    FILE = "file"
    FILE_EDGE = "file edge"
    FILE_LEFT = "file what is left"


class Cutter(Record):
    """The tool of an operation with what the proof needs of it [mm, degrees].

    plunges: it may be fed straight down into solid metal.
    """

    name: str
    kind: ToolKind
    diameter: float
    flute: float = 0.0
    reach: float = 0.0
    shank: float = 0.0
    point: float = 180.0
    holder: str = "collet"
    thread: str = ""
    plunges: bool = False


class Plunge(Record):
    """A tool fed straight down at x, y to the reading z (the tool's tip), from above the work.

    through: it comes out of the far side. tip: of a blind tap, whose full thread is to end at z,
    the reading that the end of a bottoming tap goes to. point: of an outline, where the side or arc
    begins that the cutter stands beside; 0 elsewhere.
    touch: for a countersink, z is below the reading at which the cone just touches the hole's edge.
    wide: diameter swept when it differs from the cutter's (a boring head set to size).
    follow: x, y are by eye only, within a millimetre: the drill finds the spot that is there.
    """

    kind: Literal["plunge"] = "plunge"
    does: Does
    x: float
    y: float
    z: float
    through: bool = False
    tip: float | None = None
    point: int = 0
    touch: bool = False
    wide: float = 0.0
    follow: bool = False


class Traverse(Record):
    """A cutter whose axis goes along straight lines through `points`, its tip at reading z
    throughout.

    wall: which side's wall is cut. point: of an outline, where the side begins; 0 elsewhere.
    """

    kind: Literal["traverse"] = "traverse"
    does: Does
    wall: Side | None = None
    point: int = 0
    points: tuple[tuple[float, float], ...]
    z: float


class FileLevel(Record):
    """Metal filed until level: all goes that stands proud of the surface which lies bare on `face`
    at `at`, distances inward from the work's extremes on the faces `from_u` and `from_v` [mm].
    proud: how much that is [mm].
    """

    kind: Literal["file level"] = "file level"
    face: Face
    from_u: Face
    from_v: Face
    at: tuple[float, float]
    proud: float = 0.0


class FileSquare(Record):
    """An end filed square to the sides: all goes that is farther than `leaves` [mm] from the work's
    other end. to_length: that makes the length; else it is filed until it is clean all over.
    """

    kind: Literal["file square"] = "file square"
    face: Face
    leaves: float
    to_length: bool = False


class SawOff(Record):
    """Sawing a bar across: `pieces` lengths of `each` mm from its left end, kerf between them.

    first: length sawn off and thrown away before the first.
    """

    kind: Literal["saw off"] = "saw off"
    each: float
    pieces: int
    kerf: float
    first: float = 0.0


class Shape(Record):
    """Sawn or filed to a marked-out line: all outside the closed outline goes, right through.

    face: the face marked out. The line is marked from the work's extremes on the faces `from_u` and
    `from_v` (e.g. left and bottom): points are distances inward from them (u, v) [mm].
    bulge = tan(included angle / 4) of the piece arriving at that point; 0 is straight.
    inside_out True: the inside of the outline goes instead.
    depth: 0 = right through, else how deep below the face.
    most: where the work is near the line already, the most that may be filed away [mm]; 0: no
    matter.
    marked: the line marked out, where the outline is sawn so far outside it (`leave` [mm]).
    """

    kind: Literal["shape"] = "shape"
    does: Does
    face: Face
    from_u: Face
    from_v: Face
    outline: tuple[tuple[float, float, float], ...]
    inside_out: bool = False
    depth: float = 0.0
    most: float = 0.0
    marked: tuple[tuple[float, float, float], ...] = ()
    leave: float = 0.0


Move = Plunge | Traverse | SawOff | Shape | FileLevel | FileSquare
