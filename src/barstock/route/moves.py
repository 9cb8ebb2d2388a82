"""What a cutter or a hand tool does to the work: what is proven, and what is read at the bench."""

from __future__ import annotations

from typing import Literal

from barstock.drawing.build import Face
from barstock.route.record import Record
from barstock.workshop.shop import ToolKind


class Cutter(Record):
    """The tool of an operation with what the proof needs of it [mm, degrees]."""

    name: str
    kind: ToolKind
    diameter: float
    flute: float = 0.0
    reach: float = 0.0
    shank: float = 0.0
    point: float = 180.0
    holder: str = "collet"
    thread: str = ""


class Plunge(Record):
    """Straight down at x, y to the reading z (the tool's tip), from above the work.

    touch: for a countersink, z is below the reading at which the cone just touches the hole's edge.
    wide: diameter swept when it differs from the cutter's (a boring head set to size).
    follow: x, y are by eye only, within a millimetre: the drill finds the spot that is there.
    """

    kind: Literal["plunge"] = "plunge"
    x: float
    y: float
    z: float
    touch: bool = False
    wide: float = 0.0
    follow: bool = False


class Traverse(Record):
    """The cutter's axis along straight lines through `points`, its tip at reading z throughout."""

    kind: Literal["traverse"] = "traverse"
    points: tuple[tuple[float, float], ...]
    z: float


class Flush(Record):
    """Filed until level: all goes that stands proud of the surface which lies bare on `face` at
    `at`, distances inward from the work's extremes on the faces `from_u` and `from_v` [mm].
    """

    kind: Literal["flush"] = "flush"
    face: Face
    from_u: Face
    from_v: Face
    at: tuple[float, float]


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
    """

    kind: Literal["shape"] = "shape"
    face: Face
    from_u: Face
    from_v: Face
    outline: tuple[tuple[float, float, float], ...]
    inside_out: bool = False
    depth: float = 0.0
    most: float = 0.0


Move = Plunge | Traverse | SawOff | Shape | Flush
