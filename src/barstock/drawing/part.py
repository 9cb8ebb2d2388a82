"""A part as drawn, and a fabrication, which is a part joined from others.

A part lies in its own frame: x along its length (the way the bar runs), y along its width, z along
its height; the origin is the left, front, bottom corner of the finished envelope, or of the overall
size of a whole. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import product
from typing import Any

from barstock.drawing.faces import AXES, Face, Vec
from barstock.drawing.other_hands import HandFinish, Source
from barstock.quantities import Dimension, Unit
from barstock.reading.faults import Place

FIXTURE = "fixture"
"""What a screw goes into where it holds a piece down on the fixture."""


@dataclass(frozen=True)
class Feature:
    """One feature of a part. `spec` is the resolved record of its kind (see methods/).

    by_hand: how it is made where the person has said that the plan is not to make it.
    """

    name: str
    kind: str
    spec: Any
    place: Place
    by_hand: HandFinish | None = None


@dataclass(frozen=True)
class Part:
    """One part of the build as drawn.

    section: name of the bar to use, as written ("1 x 3/4"); empty = the planner picks one.
    as_bought: faces that stay as the bar comes. unit: how this part's drawing is dimensioned.
    joined: of a fabrication, what it is joined from; its features are made after that.
    general: the general tolerance that holds for it, as its sheet states it; empty = the build's.
    round: cut from a round bar; width and height are then both its diameter, as the bar comes.
    no_filler: of a fixture's block, rectangles of its top where filler must not go, from its left
    and front [mm]. made: where it comes from, None where the plan makes it.
    unread: names of features that are written but cannot be read.
    """

    name: str
    material: str
    copies: int
    length: Dimension
    width: Dimension
    height: Dimension
    features: tuple[Feature, ...]
    place: Place
    unit: Unit = Unit.MM
    section: str = ""
    as_bought: frozenset[Face] = frozenset()
    title: str = ""
    joined: Joined | None = None
    general: str = ""
    round: bool = False
    no_filler: tuple[tuple[tuple[float, float], tuple[float, float]], ...] = ()
    made: Source | None = None
    unread: frozenset[str] = frozenset()

    @property
    def size(self) -> Vec:
        """Nominal length, width, height [mm]."""
        return (self.length.nominal, self.width.nominal, self.height.nominal)

    @property
    def sides(self) -> tuple[str, str, str]:
        """What its three overall sizes are called."""
        return ("length", "diameter", "diameter") if self.round else AXES

    @property
    def raw(self) -> tuple[Vec, Vec]:
        """Extremes before its own features are made, with what pieces stand proud by [mm]."""
        return self.joined.box if self.joined else ((0.0, 0.0, 0.0), self.size)

    def dimension(self, axis: int) -> Dimension:
        """The part's overall dimension along axis 0, 1 or 2."""
        return (self.length, self.width, self.height)[axis]


@dataclass(frozen=True)
class Piece:
    """A part as a piece of a fabrication.

    rows: its frame turned into that of the whole, the rows of the matrix; shift: its origin then.
    """

    name: str
    part: Part
    rows: tuple[Vec, Vec, Vec]
    shift: Vec
    place: Place

    def turn(self, v: Vec) -> Vec:
        """A direction of the piece as it lies in the whole."""
        a, b, c = (sum(row[i] * v[i] for i in range(3)) for row in self.rows)
        return (a, b, c)

    def at(self, p: Vec) -> Vec:
        """A point of the piece as it lies in the whole."""
        a, b, c = (t + s for t, s in zip(self.turn(p), self.shift, strict=True))
        return (a, b, c)

    def back(self, p: Vec) -> Vec:
        """A point of the whole as it lies in the piece."""
        d = [p[i] - self.shift[i] for i in range(3)]
        a, b, c = (sum(self.rows[i][j] * d[i] for i in range(3)) for j in range(3))
        return (a, b, c)

    @cached_property
    def box(self) -> tuple[Vec, Vec]:
        """The extremes of the piece in the whole."""
        ends = (self.at((0.0, 0.0, 0.0)), self.at(self.part.size))
        low = tuple(round(min(a, b), 9) for a, b in zip(*ends, strict=True))
        high = tuple(round(max(a, b), 9) for a, b in zip(*ends, strict=True))
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def looking(self, face: Face) -> Face:
        """The side of the whole that a face of the piece looks to."""
        way = self.turn(face.normal)
        return next(f for f in type(face) if sum(abs(f.normal[i] - way[i]) for i in range(3)) < 0.1)


class Form(StrEnum):
    """The forms in which two pieces meet in a joint."""

    LAP = "lap"
    BUTT = "butt"
    TEE = "tee"
    SPIGOT = "spigot"
    SCARF = "scarf"


@dataclass(frozen=True)
class Joint:
    """Where two pieces are soldered to each other.

    fillers: names in the handbook, the first is preferred. gap: designed,
    at 20 C. fillet: leg of the fillet left at its edge [mm]. cut_by: features that may cut into it.
    """

    name: str
    pieces: tuple[str, str]
    form: Form
    fillers: tuple[str, ...]
    gap: Dimension
    place: Place
    fillet: float = 0.0
    cut_by: frozenset[str] = frozenset()


@dataclass(frozen=True)
class ScrewHole:
    """A hole of a piece that a fixing screw goes through or into."""

    piece: str
    feature: Feature


@dataclass(frozen=True)
class FixingScrew:
    """Screws that hold pieces together, or on the fixture, until they are joined.

    through: the holes of pieces from the head on; none where it comes through the fixture. into:
    the tapped hole, None for one in the fixture. material: of the screw. replaced_by: the feature
    made in its place afterwards, "" where its hole stays. left_in: soldered in and drilled out.
    length: under the head, as the user chose it, else 0 [mm].
    """

    name: str
    thread: str
    through: tuple[ScrewHole, ...]
    into: ScrewHole | None
    place: Place
    material: str = "steel"
    replaced_by: str = ""
    left_in: bool = False
    length: float = 0.0

    @property
    def fixes(self) -> bool:
        """Does the screw hold a piece to the fixture?"""
        return self.into is None or not self.through

    @property
    def holes(self) -> tuple[ScrewHole, ...]:
        """All the screw's holes in pieces, from the head on."""
        return (*self.through, self.into) if self.into else self.through


@dataclass(frozen=True)
class Fixture:
    """The block a fabrication is screwed to for its heats.

    under: the face of the whole that lies on it, or from where it comes up between the pieces
    screwed to its sides. part: the user's own; None: barstock designs one. bar: that it is made
    from, any if "".
    """

    under: Face
    material: str
    part: Part | None
    place: Place
    bar: str = ""


@dataclass(frozen=True)
class Joined:
    """All that a fabrication is before it is machined as one.

    one_joint_a_heat: the careful order. heats: the user's own order of joints, barstock's if empty;
    made: copies that have the first of them already. solid: the same thing as a part cut from one
    bar, to compare with.
    """

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    screws: tuple[FixingScrew, ...] = ()
    fixture: Fixture | None = None
    flux: str = "FH10"
    one_joint_a_heat: bool = False
    heats: tuple[tuple[str, ...], ...] = ()
    made: tuple[int, ...] = ()
    solid: Part | None = None

    def piece(self, name: str) -> Piece:
        """The piece of that name. Raises KeyError if there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(name)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts that its pieces are made as, each once, and its fixture's block."""
        parts = [piece.part for piece in self.pieces]
        if self.fixture is not None and self.fixture.part is not None:
            parts.append(self.fixture.part)
        return tuple({part.name: part for part in parts}.values())

    @property
    def metals_known(self) -> bool:
        """Is every piece of a metal that is known? Else its joining cannot be judged."""
        return all(piece.part.material for piece in self.pieces)

    @property
    def box(self) -> tuple[Vec, Vec]:
        """The extremes of all pieces as joined, what is left over on ends with them."""
        boxes = [piece.box for piece in self.pieces]
        low = [min(box[0][i] for box in boxes) for i in range(3)]
        high = [max(box[1][i] for box in boxes) for i in range(3)]
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def all_turns() -> list[tuple[Vec, Vec, Vec]]:
    """The 24 ways a piece can lie square in the whole, as rows of matrices."""
    units = [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)]
    found: list[tuple[Vec, Vec, Vec]] = []
    for order in ((0, 1, 2), (1, 2, 0), (2, 0, 1), (0, 2, 1), (2, 1, 0), (1, 0, 2)):
        even = order in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
        for signs in product((1.0, -1.0), repeat=3):
            if (signs[0] * signs[1] * signs[2] > 0) is even:
                rows = [tuple(s * v for v in units[i]) for i, s in zip(order, signs, strict=True)]
                a, b, c = ((r[0], r[1], r[2]) for r in rows)
                found.append((a, b, c))
    return found
