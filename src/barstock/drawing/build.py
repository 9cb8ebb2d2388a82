"""What the drawing says of a whole build: its parts, fits, pins and mechanism."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from barstock.drawing.faces import AXES as AXES
from barstock.drawing.faces import Face as Face
from barstock.drawing.faces import Vec as Vec
from barstock.drawing.mechanism_wanted import Mechanism
from barstock.drawing.part import Feature as Feature
from barstock.drawing.part import Part as Part
from barstock.quantities import Dimension, Unit
from barstock.reading.faults import Fault as Fault
from barstock.reading.faults import Place as Place


def within(whole: str, name: str) -> bool:
    """Is a name that of a whole, or of something in it? Names may have strokes of their own.

    >>> within("block", "block/1/4 hole/drill"), within("block/1", "block/1/4 hole")
    (True, True)
    >>> within("block", "block end/slot")
    False
    """
    return name == whole or name.startswith(f"{whole}/")


@dataclass(frozen=True)
class Pin:
    """A choice of the plan that the user pins, so that it stays.

    rule: "first", "together", "before", "never in the bar", "only in the bar", "vise", "tool",
    "up" or "broken". names: parts or operations ("part", "part/feature", "part/feature/step").
    value: the vise, tool or face. place: where it is written, None where it is only tried.
    """

    rule: str
    names: tuple[str, ...] = ()
    value: str = ""
    place: Place | None = None

    def concerns(self, part: str) -> bool:
        """Does the choice ask anything of a part?"""
        return any(within(part, name) for name in self.names)

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
        """The dimensions that the side goes by."""
        return (self.of, *self.less) if self.of else ()


@dataclass(frozen=True)
class Mating:
    """Two things that go together. least, most: the clearance wanted [mm]; most None: any. unit: of
    the build, in which it is told of."""

    name: str
    inside: Side
    outside: Side
    least: float
    most: float | None
    place: Place
    unit: Unit


@dataclass(frozen=True)
class Unread:
    """A part that cannot be read: for faults of its own, or because of another part, `of`.

    features: the names of those that are written.
    """

    name: str
    of: str = ""
    features: tuple[str, ...] = ()


@dataclass(frozen=True)
class Build:
    """A build folder's drawing side: every part with everything resolved.

    unread: parts that are written but cannot be read; what names them is left out.
    """

    name: str
    folder: Path
    parts: tuple[Part, ...]
    general: str = "ISO 2768-m"
    least_wall: float = 1.0
    pins: tuple[Pin, ...] = ()
    projection: str = "third angle"
    fits: tuple[Mating, ...] = ()
    mechanism: Mechanism | None = None
    unread: tuple[Unread, ...] = ()

    @property
    def fabrications(self) -> tuple[Part, ...]:
        """The parts that are joined from others."""
        return tuple(part for part in self.parts if part.joined)

    def part(self, name: str) -> Part:
        """The part of that name. Raises KeyError if there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)
