"""How long a search may go on: so many steps, so many seconds, or as long as it likes.

Steps end it at the same place on any machine, however busy; seconds are for who waits for it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf
from time import monotonic

A_SECOND = 150_000
"""Steps that a usual machine does in a second; a step is a state that the search reaches."""
MOVE = 0.1
"""What a move of the annealing counts for [steps]."""


@dataclass
class Allowance:
    """What a search may use, and what it has used. steps: done so far."""

    seconds: float | None = None
    most_steps: float | None = None
    steps: float = 0.0
    begun: float = field(default_factory=monotonic)

    @property
    def elapsed(self) -> float:
        """The time since it began [s]."""
        return monotonic() - self.begun

    @property
    def used(self) -> float:
        """The share of it that is used; more than 1 where it is over."""
        time = self.elapsed / self.seconds if self.seconds else 0.0
        return max(time, self.steps / self.most_steps if self.most_steps else 0.0)

    @property
    def left(self) -> float:
        """The time that is left [s]; infinite where steps alone count."""
        return self.seconds - self.elapsed if self.seconds else inf
