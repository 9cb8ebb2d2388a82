"""What the drawing says: builds, parts and features, every length in millimetres.

A part lies in its own frame: x along its length (the way the bar runs), y along its width, z along
its height; the origin is the left, front, bottom corner of the finished envelope.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from barstock.drawing.faces import AXES as AXES
from barstock.drawing.faces import Face as Face
from barstock.drawing.faces import Vec as Vec
from barstock.drawing.mechanism_wanted import Mechanism
from barstock.quantities import Dimension, Unit
from barstock.reading.faults import Fault as Fault
from barstock.reading.faults import Place as Place

if TYPE_CHECKING:
    from barstock.drawing.fabrication import Joined


@dataclass(frozen=True)
class Feature:
    """One feature of a part. `spec` is the resolved record of its kind (see methods/)."""

    name: str
    kind: str
    spec: Any
    place: Place


@dataclass(frozen=True)
class Part:
    """One part of the build as drawn.

    section: name of the bar to use, as written ("1 x 3/4"); empty = the planner picks one.
    as_bought: faces that stay as the bar comes. unit: how this part's drawing is dimensioned.
    joined: of a fabrication, what it is joined from; its features are made after that.
    general: the general tolerance that holds for it, as its sheet states it; empty = the build's.
    round: cut from a round bar; width and height are then both its diameter, as the bar comes.
    no_filler: of a fixture's block, rectangles of its top where filler must not go, from its left
    and front [mm].
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
class Pin:
    """A choice of the plan that is to stay.

    rule: "first", "together", "before", "never in the bar", "only in the bar", "vise", "tool",
    "up" or "broken". names: parts or operations ("part", "part/feature", "part/feature/step").
    value: the vise, tool or face. place: where it is written, None where it is only tried.
    """

    rule: str
    names: tuple[str, ...] = ()
    value: str = ""
    place: Place | None = None

    def concerns(self, part: str) -> bool:
        """Does it ask anything of a part?"""
        return any(name.split("/")[0] == part for name in self.names)

    def __str__(self) -> str:
        named = " and ".join(self.names)
        return {
            "first": f"{named} first",
            "together": f"{named} in one setup",
            "before": " before ".join(self.names),
            "vise": f"{named} held in the {self.value}",
            "tool": f"{named} by the {self.value}",
            "up": f"{named} with the {self.value} up",
            "broken": f"the {self.value} is not to be used",
            "pose": f"{named} held as {self.value}",
        }.get(self.rule, f"{named} {self.rule}")


@dataclass(frozen=True)
class Side:
    """One of the two things of a fit, by dimensions of the drawing ("part/feature/dimension").

    of: the dimension, less others taken off it; or size, of a thing bought. coat: paint or plating
    on one wall [mm]. places: where each name is written, `of` first.
    """

    of: str = ""
    less: tuple[str, ...] = ()
    size: Dimension | None = None
    coat: Dimension | None = None
    places: tuple[Place, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The dimensions it goes by."""
        return (self.of, *self.less) if self.of else ()


@dataclass(frozen=True)
class Mating:
    """Two things that go together. least, most: the clearance wanted [mm]; most None: any."""

    name: str
    inside: Side
    outside: Side
    least: float
    most: float | None
    place: Place


@dataclass(frozen=True)
class Build:
    """A build folder's drawing side: every part with everything resolved."""

    name: str
    folder: Path
    parts: tuple[Part, ...]
    general: str = "ISO 2768-m"
    least_wall: float = 1.0
    pins: tuple[Pin, ...] = ()
    projection: str = "third angle"
    fits: tuple[Mating, ...] = ()
    mechanism: Mechanism | None = None

    @property
    def fabrications(self) -> tuple[Part, ...]:
        """Those of the parts that are joined from others."""
        return tuple(part for part in self.parts if part.joined)

    def part(self, name: str) -> Part:
        """The part of that name; KeyError if there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)
