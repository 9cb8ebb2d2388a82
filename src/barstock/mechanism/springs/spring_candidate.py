"""This module judges a spring that may do.

It tells what share of each limit the spring uses, and what room it keeps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

from barstock.mechanism.springs.compression_spring import Compression
from barstock.mechanism.springs.extension_spring import Extension
from barstock.mechanism.springs.torsion_spring import Torsion

Made = TypeVar("Made", Compression, Extension, Torsion)


@dataclass(frozen=True)
class Choice(Generic[Made]):
    """A Choice is a spring that may do.

    load: at rest [N, N mm]; bump: at full travel [N, N mm]. uses: each limit by name, and what
    share of it is used; 1 is all. clears: each clearance by name [mm]; below 0 there is no room.
    """

    spring: Made
    grade: str
    strength: float
    load: float
    bump: float
    uses: dict[str, float]
    clears: dict[str, float]

    @property
    def worst(self) -> str:
        """Return the name of the limit that it comes nearest to."""
        return max(self.uses, key=lambda name: self.uses[name])

    @property
    def use(self) -> float:
        """Return the share of that limit that it uses."""
        return self.uses[self.worst]

    @property
    def short(self) -> float:
        """Return what is missing, in shares of limits and in wires of room.

        It is 0 where the spring will do.
        """
        short = sum(max(0.0, -room) for room in self.clears.values()) / self.spring.wire
        return short + max(0.0, self.use - 1)

    @property
    def will_do(self) -> bool:
        """Tell whether it keeps within all limits and clearances."""
        return self.short <= 1e-9

    @property
    def hindrances(self) -> list[str]:
        """Name the limits and clearances that it does not keep."""
        over = [name for name, use in self.uses.items() if use > 1]
        return over + [name for name, room in self.clears.items() if room < 0]


AnyChoice = Choice[Compression] | Choice[Extension] | Choice[Torsion]


@dataclass(frozen=True)
class Choices:
    """Choices are what there is to choose from.

    found: the best first; hindrance: limit -> how often it alone or with others stood in the way;
    nearest: what came nearest where none will do.
    """

    found: tuple[AnyChoice, ...]
    hindrance: dict[str, int]
    nearest: AnyChoice | None
