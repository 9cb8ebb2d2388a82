"""A work as it is held, and what an operation did to it."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from barstock.proving.placing import Datum
from barstock.proving.upright_run import Run
from barstock.route import Operation, Setup
from barstock.solids.shapes import Placement, Solid


@dataclass(frozen=True)
class Held:
    """A work in a setup, before anything is cut there; `work` is in the table frame."""

    setup: Setup
    work: Solid
    placement: Placement
    zero: Datum
    opening: float


@dataclass(frozen=True)
class Done:
    """An operation done: the work before and after, and what went; all in the table frame.

    tools: the swept space; frame: from the table frame to the part's.
    """

    setup: Setup
    operation: Operation
    runs: tuple[Run, ...]
    before: Solid
    after: Solid
    removed: Solid
    tools: tuple[Solid, ...]
    frame: Placement = field(default_factory=Placement)

    @cached_property
    def swept(self) -> list[Solid]:
        """The swept space in the part's frame."""
        return [tool.moved(self.frame) for tool in self.tools]

    @cached_property
    def chips(self) -> Solid:
        """The metal that went, in the part's frame."""
        return self.removed.moved(self.frame)
