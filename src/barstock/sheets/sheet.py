"""A drawing on paper: strokes, filled shapes and lettering in mm from the bottom left corner."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from barstock.solids.strokes import Flat, Segment, Stroke


class Layer(StrEnum):
    """The layers of a sheet, by what a line means (ISO 128-2 types of line)."""

    VISIBLE = "visible"
    HIDDEN = "hidden"
    CENTRE = "centre"
    DIMENSION = "dimension"
    TEXT = "text"
    FRAME = "frame"
    TREATED = "treated"


WIDTH = {
    Layer.VISIBLE: 0.5,
    Layer.HIDDEN: 0.25,
    Layer.CENTRE: 0.18,
    Layer.DIMENSION: 0.18,
    Layer.TEXT: 0.25,
    Layer.FRAME: 0.35,
    Layer.TREATED: 0.5,
}
"""Widths of line [mm], ISO 128-2 line group 0.5 (fine lines one step finer)."""

DASHES: dict[Layer, tuple[float, ...]] = {
    Layer.HIDDEN: (2.4, 0.9),
    Layer.CENTRE: (6.0, 0.8, 0.6, 0.8),
    Layer.TREATED: (6.0, 1.2, 0.6, 1.2),
}
"""Dash, gap, ... [mm] of the broken types of line. Lengths chosen for small parts."""

ADVANCE = 0.602
"""Width of a letter in the drawing's fixed-width fount, as a share of its size."""
SIZE_OF_CAPITAL = 0.73
"""Height of a capital as a share of the fount's size."""


@dataclass(frozen=True)
class Mark:
    """A stroke on a layer."""

    stroke: Stroke
    layer: Layer


@dataclass(frozen=True)
class Patch:
    """A filled shape, an arrowhead for one."""

    corners: tuple[Flat, ...]
    layer: Layer = Layer.DIMENSION


@dataclass(frozen=True)
class Text:
    """Lettering: `at` is the middle of its base line's "start", "middle" or "end".

    height: of a capital [mm]. turn: anticlockwise [degrees].
    """

    words: str
    at: Flat
    height: float = 2.5
    anchor: str = "middle"
    turn: float = 0.0
    layer: Layer = Layer.TEXT

    @property
    def size(self) -> float:
        """The size of the fount [mm]."""
        return self.height / SIZE_OF_CAPITAL

    @property
    def length(self) -> float:
        """The length of the lettering along the base line [mm]."""
        return width_of(self.words, self.height)


def width_of(words: str, height: float = 2.5) -> float:
    """The length that lettering of that height of capital runs [mm]."""
    return len(words) * ADVANCE * height / SIZE_OF_CAPITAL


Ink = Mark | Patch | Text


@dataclass(frozen=True)
class Sheet:
    """One part's drawing. width, height: of the paper [mm]; scale: drawn size over true size."""

    title: str
    width: float
    height: float
    scale: float
    ink: tuple[Ink, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """All the words that are lettered on it."""
        return tuple(one.words for one in self.ink if isinstance(one, Text))

    def strokes(self, layer: Layer) -> tuple[Stroke, ...]:
        """The strokes of a layer."""
        return tuple(m.stroke for m in self.ink if isinstance(m, Mark) and m.layer is layer)


def line(a: Flat, b: Flat, layer: Layer) -> Mark:
    """A straight mark."""
    return Mark(Segment(a, b), layer)


@dataclass(frozen=True)
class Area:
    """An upright rectangle on the paper [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Distance from left to right [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Distance from bottom to top [mm]."""
        return self.top - self.bottom

    @property
    def centre(self) -> Flat:
        """The middle of the area."""
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, by: float) -> Area:
        """The area larger on every side."""
        return Area(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: Area) -> bool:
        """Do the two areas overlap?"""
        across = self.left < other.right and other.left < self.right
        return across and self.bottom < other.top and other.bottom < self.top

    def within(self, other: Area) -> bool:
        """Does the area lie inside the other?"""
        across = other.left <= self.left and self.right <= other.right
        return across and other.bottom <= self.bottom and self.top <= other.top


def around(points: list[Flat]) -> Area:
    """The least area that holds all points."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Area(min(xs), min(ys), max(xs), max(ys))


def extent(ink: Ink) -> Area:
    """The room that a piece of ink takes; lettering must stand level or upright."""
    if isinstance(ink, Mark):
        return around(list(ink.stroke.points))
    if isinstance(ink, Patch):
        return around(list(ink.corners))
    (x, y), n, h = ink.at, ink.length, ink.height
    before = {"start": 0.0, "middle": n / 2, "end": n}[ink.anchor]
    if ink.turn:
        return Area(x - h, y - before, x + 0.3 * h, y + n - before)
    return Area(x - before, y - 0.3 * h, x + n - before, y + h)
