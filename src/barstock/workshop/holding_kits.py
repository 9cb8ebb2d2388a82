"""What a shop may own to hold work by besides its vises: a record for each, and nothing else.

A record says what it is called in workshop.yaml, what is asked there, and its sizes [mm] with what
each is. The sizes given here are the usual ones of a small mill's; common practice.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any, ClassVar


@dataclass(frozen=True)
class Size:
    """A size of a kit [mm]. name: the record's; called: in workshop.yaml; told: what it is."""

    name: str
    called: str
    usual: float
    told: str


def size(usual: float, told: str, called: str = "") -> Any:
    """A size of a kit, usually so large [mm]. called: in workshop.yaml, where not by its name."""
    return field(default=usual, metadata={"usual": usual, "told": told, "called": called})


@dataclass(frozen=True)
class Kit:
    """Base of what work is held by. written: its name in workshop.yaml; asked: about it there;
    several: may more than one be listed?"""

    written: ClassVar[str]
    asked: ClassVar[str]
    several: ClassVar[bool] = False

    @classmethod
    def sizes(cls) -> list[Size]:
        """Its sizes, in order."""
        return [
            Size(
                item.name,
                item.metadata["called"] or item.name.replace("_", " "),
                item.metadata["usual"],
                item.metadata["told"],
            )
            for item in fields(cls)
        ]


@dataclass(frozen=True)
class AnglePlate(Kit):
    """An angle plate, where it is not the usual one."""

    written = "angle plate"
    asked = "Is there one, to stand work upright against? Or its sizes."
    wide: float = size(100.0, "Of its upright limb.")
    high: float = size(100.0, "From the table to its top.")
    thick: float = size(12.0, "Its limb.")


@dataclass(frozen=True)
class VBlock(Kit):
    """A V-block with V's of 90 degrees, where it is not a usual one."""

    written = "V-block"
    asked = "Is there one, with its clamp, for round work? Or its sizes, or a list of several."
    several = True
    long: float = size(30.0, "Along the V.")
    wide: float = size(35.0, "Across the V.")
    high: float = size(35.0, "From one face with a V to the other.")
    large_v: float = size(24.0, "Its width at the face.", "large V")
    small_v: float = size(12.0, "That in the other face.", "small V")
    clamp: float = size(10.0, "Width of its clamp, in the middle of the V.")
    tall: float = size(12.0, "How far the clamp stands above the work.")


@dataclass(frozen=True)
class Clamps(Kit):
    """Straps to hold work down on the table, where they are not the usual ones."""

    written = "clamps"
    asked = "Are there straps to clamp work to the table? Or their sizes."
    wide: float = size(25.0, "Of a strap.")
    long: float = size(75.0, "A strap, from nose to heel.")
    thick: float = size(12.0, "A strap.")
    bears: float = size(8.0, "What of its nose lies on the work.")
    tall: float = size(30.0, "Strap, nut and stud above the work.")
    highest: float = size(75.0, "From the table to the top of the highest work they reach over.")


@dataclass(frozen=True)
class ClampBlock(Kit):
    """A toolmaker's clamp block, where it is not the usual one."""

    written = "clamp block"
    asked = "Is there one, to hold small work on end on the table? Or its sizes."
    inner: float = size(30.0, "Between its side walls.")
    reach: float = size(30.0, "From the face of its back to the yoke in front.")
    high: float = size(25.0, "From the table to its top.")
    wall: float = size(8.0, "Its back, walls and yoke.", "thick")
    screw: float = size(6.0, "Its screw across.")
    out: float = size(20.0, "How far the screw comes out of the yoke.")


KITS: tuple[type[Kit], ...] = tuple(Kit.__subclasses__())
