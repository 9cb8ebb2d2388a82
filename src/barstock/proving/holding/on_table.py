"""Demands on all work that is held on the table itself, without a vise."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection, Iterator, Sequence

from barstock.drawing.build import Vec
from barstock.proving.held_work import Done, Held
from barstock.proving.holding.obstacles import Obstacle, floor, standing
from barstock.proving.placing import SKIN, stacked
from barstock.proving.proof_record import Violation
from barstock.route import Body, BodyKind, Holding
from barstock.solids.shapes import Solid, box
from barstock.workshop.shop import MachineKind

LEAST_BEARING = 30.0  # of a strap on the work [mm2]; common practice
MEND = "hold the work by other places, or stop the cut higher"


class OnTable(ABC):
    """Work held on the table by straps."""

    name: str
    machines = frozenset({MachineKind.MILL})
    zeros = "XYZ"
    touched: Collection[BodyKind] = frozenset()

    @abstractmethod
    def faults(self, held: Held, work: Solid, fresh: Solid) -> Iterator[Violation]:
        """The faults in how it rests, stands against something and is pressed down."""

    def opening(self, holding: Holding, work: Solid) -> float:
        """There are no jaws, so the width is 0."""
        return 0.0

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held."""
        h = held.setup.holding
        if not h.of(BodyKind.BOARD):
            yield from stacked(h, h.packing)
        yield from self.faults(held, work, fresh)

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The table and all that stands on it, but for a board, which may be cut into; a strap
        with the packing under its heel."""
        bodies = [b for b in held.setup.holding.bodies if b.kind is not BodyKind.BOARD]
        return [floor("the table", MEND), *(standing(b, named(b), MEND) for b in bodies)]

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """There are none at which fillets are looked for."""
        return ()


def named(body: Body) -> str:
    """The words for a body on the table."""
    strap = f"the strap over the {body.over}" if body.over else "a strap across the front"
    if body.kind is BodyKind.NUT:
        return f"the nut of {strap}"
    if body.kind is BodyKind.STRAP:
        return strap
    return f"a {body.name}" if body.kind is BodyKind.PARALLEL else f"the {body.name}"


def foot(work: Solid, bodies: Sequence[Body], rest: float) -> list[tuple[Vec, Vec]]:
    """The areas where the work touches each of what it lies on, at the height `rest` [mm]."""
    touching = (column(work, body, rest - SKIN, rest + SKIN) for body in bodies)
    return [found.bounds for found in touching if not found.empty]


def column(work: Solid, body: Body, low: float, high: float) -> Solid:
    """The metal of the work that stands over a body, between two heights."""
    return work.common(box((*body.low[:2], low), (*body.high[:2], high)))


def about_middle(spans: Sequence[tuple[Vec, Vec]], work: Solid) -> bool:
    """Do these reach to both sides of the work's middle, along and across the table?"""
    low, high = work.bounds
    return bool(spans) and all(
        min(a[i] for a, _ in spans) < (low[i] + high[i]) / 2 < max(b[i] for _, b in spans)
        for i in (0, 1)
    )
