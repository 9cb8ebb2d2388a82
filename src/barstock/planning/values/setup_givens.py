"""The givens of a setup: the part, the shop and the machine that its readings are
worked out for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from barstock.drawing.build import Part
from barstock.machines.dial import Dial
from barstock.workshop.shop import Machine, MachineKind, Workshop


@dataclass(frozen=True)
class SetupGivens:
    """The givens that a setup is worked out with. machine: that is stood at, None for none;
    packings: those preferred; shifts: what the x and y readings of a setup are to grow by, by its
    id [mm].
    """

    part: Part
    workshop: Workshop
    machine: Machine | None = None
    packings: tuple[float, ...] = ()
    shifts: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    def at(self, kind: MachineKind) -> SetupGivens:
        """The same givens at the shop's machine of a kind."""
        return replace(self, machine=self.workshop.machine(kind))

    @property
    def finder(self) -> float:
        """The diameter of the edge finder's tip [mm]."""
        return self.workshop.finder

    @property
    def dial(self) -> Dial:
        """The dials of the machine's axes."""
        return Dial(self.machine)
