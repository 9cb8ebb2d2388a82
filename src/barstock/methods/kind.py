"""Every feature kind offers what `Kind` asks. A kind is one file in this folder with a module-level
`KIND`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

from barstock.drawing.build import Part, Vec
from barstock.drawing.other_hands import FeatureFields
from barstock.methods.cuts import Way
from barstock.quantities import Dimension
from barstock.solids.shapes import Solid


@dataclass(frozen=True)
class Drawn:
    """A dimension as placed on the sheet.

    start, end: the two points measured [mm, part frame]; view: "front" (x z), "top" (x y) or
    "side" (y z); style: "length", "diameter", "radius", "angle", "leader". prefix: "⌀", "R",
    "4 × ". hollow: measured between walls that something may go in between.
    """

    name: str
    dimension: Dimension
    view: str
    start: Vec
    end: Vec
    style: str = "length"
    prefix: str = ""
    suffix: str = ""
    hollow: bool = False


class Kind(Protocol):
    """A feature kind; one that is derived from it need not answer what does not concern it.

    round_holes: it makes round holes alike and nothing else, which screws and pins go into. walled:
    a hole that breaks out through its walls or floor is a slip, unless it says that it is meant.
    filed: the plan itself marks it out and files it, where 'finish: filed' says so.
    """

    name: str
    summary: str
    fields: type[FeatureFields[Any]]
    round_holes: bool = False
    walled: bool = False
    filed: bool = False

    def resolve(self, fields: Any, part: Part, ask: Any) -> Any:
        """Turn what was written into a resolved record (the feature's `spec`), all in mm; report
        faults through `ask`. Part is complete but for its features.
        """

    def removes(self, spec: Any, part: Part) -> Solid:
        """The solid the drawing says is taken away (may stand proud of the envelope)."""

    def may_remove(self, spec: Any, part: Part) -> Solid | None:
        """The solid that may also go (a tapping drill's extra depth and point), or None."""
        return None

    def drawn(self, spec: Any, part: Part) -> list[Drawn]:
        """The dimensions of it for the sheet."""

    def ways(self, spec: Any, part: Part) -> list[Way]:
        """The ways of making it, best first."""

    def breaks_into(self, spec: Any) -> tuple[str, ...]:
        """The features whose hollows it is meant to break into along its side."""
        return ()

    def needs_mate(self, spec: Any) -> bool:
        """Is it made with its mate clamped on, whatever is written of its finish?"""
        return False

    def amiss(self, spec: Any, part: Part, own: Solid) -> tuple[str, str] | None:
        """What is wrong with it among the other features, and how to mend it, or None.

        own: what it takes that none of the others does.
        """
        return None

    def room(self, spec: Any) -> tuple[float, float] | None:
        """Diameter and depth of the room for what stands in its hollow [mm], or None."""
        return None
