"""Every way of holding work answers what `Demands` asks. A way is one file in this folder, with a
`WAY`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Protocol

from barstock.proving.held_work import Done, Held
from barstock.proving.holding.obstacles import Obstacle
from barstock.proving.proof_record import Violation
from barstock.route import BodyKind, Holding
from barstock.solids.shapes import Solid
from barstock.workshop.shop import MachineKind


class Demands(Protocol):
    """A way of holding work, as the proof judges it.

    name: as the route calls it. machines: where work is held so. zeros: the axes, of "XYZ", whose
    zero must be found. touched: the bodies on which a zero may be found.
    """

    name: str
    machines: Collection[MachineKind]
    zeros: str
    touched: Collection[BodyKind]

    def opening(self, holding: Holding, work: Solid) -> float:
        """The width between the jaws on the placed work [mm]; 0 without jaws or
        between them none.
        """

    def check(
        self, held: Held, work: Solid, fresh: Solid, earlier: Sequence[Done]
    ) -> Iterator[Violation]:
        """The faults in how it is held: `held.work` at the start, `work` at the end,
        `fresh` cut.
        """

    def obstacles(self, held: Held) -> Sequence[Obstacle]:
        """The bodies that a cutter, its shank and its holder must keep clear of."""

    def contacts(self, holding: Holding, opening: float) -> Sequence[tuple[str, Solid]]:
        """The places where something presses on the work or carries it, each named."""
