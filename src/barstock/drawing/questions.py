"""How a feature kind asks the reader for what was written: parsed, with limits, faults placed.

`Ask` is handed to `Kind.resolve`. Each method reports its own faults (with file:line:column, part
and feature) and returns None where the value is missing or wrong, so that a kind can go on and
report everything in one run.

A field inside another is named by its path: "countersink.diameter", "bevel.left", "path.2.to",
"path.2.arc" (lists count from 0).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from barstock.drawing.build import Face
from barstock.quantities import Dimension


@dataclass(frozen=True)
class Spread:
    """How far apart the places of a row lie along an axis: `size` from one to the `steps`th after.

    name: "pitch", or "span" where that is what is given. count: of places.
    """

    name: str
    size: Dimension
    steps: int
    count: int


@dataclass(frozen=True)
class Located:
    """A place along one axis: `value` [mm from the part's origin], and what it was given from.

    given_from: a face's name or "centre". dimension: the distance from there, never negative (8
    from the bottom; 0 for plain "centre"). spread: of the row that it stands in, None where alone.
    """

    value: float
    given_from: str
    dimension: Dimension
    spread: Spread | None = None


@dataclass(frozen=True)
class Ring:
    """A pitch circle: its diameter, its centre, and where its first place lies [degrees]."""

    size: Dimension
    u: Located
    v: Located
    start: float


@dataclass(frozen=True)
class Point:
    """A place on a face: one `Located` for each of its two in-face axes; the circle it lies on."""

    u: Located
    v: Located
    ring: Ring | None = None


class Ask(Protocol):
    """The questions that `Kind.resolve` may ask of what was written."""

    def given(self, field: str) -> bool:
        """Was the field written?"""

    def size(self, field: str, *, needed: bool = True, positive: bool = True) -> Dimension | None:
        """The field as a dimension with limits (the general tolerance where it states none).

        Accepts "12.0 ±0.05", "8 H7", "1/4 +0/-.002", number/letter drills, ...
        """

    def length(self, field: str, *, needed: bool = True) -> float | None:
        """The field as a bare length [mm]."""

    def angle(self, field: str, leg: float, *, needed: bool = True) -> Dimension | None:
        """The field as an angle with limits [degrees]; leg: its shorter one [mm]."""

    def face(self, field: str, *, needed: bool = True) -> Face | None:
        """The field as a face name."""

    def points(self, field: str, face: Face, *, needed: bool = True) -> list[Point] | None:
        """The field as a position or a pattern on `face`.

        Each point is in the face's two in-face axes (top, bottom: x y; front, back: x z; left,
        right: y z) in mm from the part frame's origin.
        """

    def offset(self, field: str, axis: int, *, needed: bool = True) -> Located | None:
        """The field as a position along one axis only: {height: centre +2}, {bottom: 8}, ..."""

    def fault(self, field: str | None, what: str, mend: str = "", grade: str = "error") -> None:
        """Report a fault at the field (or at the feature where field is None)."""
