"""A proof says: violations, the work after each setup, and each part against its drawing."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from barstock.drawing.build import Vec
from barstock.quantities import Length, Unit
from barstock.solids.shapes import Placement, Solid

Severity = Literal["error", "warning"]
About = Literal["shape", "holding", "cutter", "proof", "time"]
"""What a fault lies in: what is cut where, how the work is held, what it is cut with, that the
proof itself broke off, or that it took too long."""


@dataclass(frozen=True)
class Violation:
    """One thing that would go wrong at the machine, or come out wrong.

    where: [mm, work frame] or None. what: what happens, with figures; mend: what to change. about:
    what it lies in.
    """

    what: str
    mend: str = ""
    part: str = ""
    setup: str = ""
    operation: str = ""
    feature: str = ""
    where: Vec | None = None
    severity: Severity = "error"
    about: About = "shape"

    def at(self, part: str, setup: str = "", operation: str = "") -> Violation:
        """The same violation, saying where in the route it happens (what is already said stays)."""
        return replace(
            self,
            part=self.part or part,
            setup=self.setup or setup,
            operation=self.operation or operation,
        )

    def __str__(self) -> str:
        step = self.operation.removeprefix(f"{self.part}/").removeprefix(f"{self.feature}/")
        spots = [s for s in (self.part, self.feature, step or self.setup) if s]
        place = f" at ({Length(*self.where, between=', '):.2f})" if self.where else ""
        mend = f"; {self.mend}" if self.mend else ""
        return f"{' / '.join(spots)}{place}: {self.what}{mend}"


@dataclass(frozen=True)
class Stage:
    """The work after a setup, as held: `solid` and the metal just cut away, `fresh`, both in the
    table frame; `placement` takes the work frame there. opening: what the jaws are open [mm]."""

    part: str
    setup: str
    solid: Solid
    fresh: Solid
    placement: Placement
    opening: float = 0.0


@dataclass(frozen=True)
class PartProof:
    """One part as it comes out.

    deviation: worst distance between the finished and the drawn surface [mm]; left, gouged: volume
    of metal left on and of metal wrongly cut away [mm3]. features: worst deviation of each [mm].
    taken: the person makes the part, and it is taken as drawn; nothing of it is proved. unit: of
    its drawing, in which it is told of.
    """

    part: str
    deviation: float = 0.0
    left: float = 0.0
    gouged: float = 0.0
    features: dict[str, float] = field(default_factory=dict)
    violations: tuple[Violation, ...] = ()
    stages: tuple[Stage, ...] = ()
    finished: Solid | None = None
    taken: bool = False
    unit: Unit = Unit.MM

    @property
    def ok(self) -> bool:
        """Is there nothing that stops the work?"""
        return not any(v.severity == "error" for v in self.violations)


@dataclass(frozen=True)
class Proof:
    """The whole route, proved part by part."""

    parts: tuple[PartProof, ...]

    @property
    def violations(self) -> tuple[Violation, ...]:
        """The violations of all parts, in the order of the parts."""
        return tuple(v for part in self.parts for v in part.violations)

    @property
    def stages(self) -> dict[str, Stage]:
        """The work after each setup, by the setup's id."""
        return {stage.setup: stage for part in self.parts for stage in part.stages}

    @property
    def ok(self) -> bool:
        """Does the route make every part as drawn, safely held?"""
        return all(part.ok for part in self.parts)
