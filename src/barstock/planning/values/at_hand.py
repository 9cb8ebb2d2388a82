"""The part, the shop and the machine that the readings of a setup are worked out for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from barstock.drawing.build import Part
from barstock.machines.dial import Dial
from barstock.workshop.shop import Machine, Workshop


@dataclass(frozen=True)
class Bench:
    """What a setup is worked out with. packings: see holding/hold.py; shifts: what the x and y
    readings of a setup are to grow by, by its id [mm].
    """

    part: Part
    workshop: Workshop
    machine: Machine
    finder: float
    packings: tuple[float, ...] = ()
    shifts: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    @property
    def dial(self) -> Dial:
        """How the machine's axes are read."""
        return Dial(self.machine)
