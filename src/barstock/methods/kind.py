"""What every feature kind offers. A kind is one file in this folder with a module-level `KIND`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

from pydantic import BaseModel

from barstock.drawing.build import Part, Vec
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
    """A feature kind. round_holes: it makes round holes alike and nothing else, which screws and
    pins go into."""

    name: str
    summary: str
    round_holes: bool
    fields: type[BaseModel]

    def resolve(self, fields: Any, part: Part, ask: Any) -> Any:
        """Turn what was written into a resolved record (the feature's `spec`), all in mm; report
        faults through `ask`. Part is complete but for its features."""

    def removes(self, spec: Any, part: Part) -> Solid:
        """The solid the drawing says is taken away (may stand proud of the envelope)."""

    def may_remove(self, spec: Any, part: Part) -> Solid | None:
        """What may also go (a tapping drill's extra depth and point), or None."""

    def drawn(self, spec: Any, part: Part) -> list[Drawn]:
        """Dimensions for the sheet."""

    def ways(self, spec: Any, part: Part) -> list[Way]:
        """The ways of making it, best first."""
