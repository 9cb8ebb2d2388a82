"""Heat to bring the work to soldering temperature, and whether the torch is of the size."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from barstock.joining.model import Finding, Piece


class Can(StrEnum):
    """Whether a torch can."""

    YES = "yes"
    MARGINAL = "marginal"
    NO = "no"


@dataclass(frozen=True)
class Warming:
    """energy: into the metal [J]; power: the torch's [W]; seconds: (least, most) by the share of
    the flame that reaches the work; can: order of magnitude, common practice."""

    energy: float
    power: float
    seconds: tuple[float, float]
    can: Can
    findings: tuple[Finding, ...]


def warming(
    pieces: tuple[Piece, ...],
    heat: float,
    power: float,
    *,
    fixture: Piece | None = None,
    hearth: bool = True,
) -> Warming:
    """Bring pieces (and a fixture) to heat [C] with a torch of so much power [W]."""
    raise NotImplementedError
