"""Work held for hand work, or to be sawn: there is nothing about it that a cutter might meet."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from barstock.proving.held_work import Done, Held
from barstock.proving.holding.obstacles import Obstacle
from barstock.proving.proof_record import Violation
from barstock.route import BodyKind, Holding
from barstock.solids.shapes import Solid
from barstock.workshop.shop import MachineKind


class Unmachined:
    """A way of holding work of which nothing is demanded, for no cutter turns there."""

    zeros = ""
    touched = frozenset[BodyKind]()

    def __init__(self, name: str, machines: Collection[MachineKind]) -> None:
        self.name, self.machines = name, machines

    def opening(self, holding: Holding, work: Solid) -> float:
        """The jaws are where the work is, however wide."""
        return 0.0

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """There are no faults: a hand's work is judged by what it leaves."""
        yield from ()

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """There are none that a cutter might meet."""
        return ()

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """There are none that are known of."""
        return ()
