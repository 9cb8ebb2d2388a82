"""How much filler a joint takes: gap and fillet, and the length of rod that holds it."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Joint


@dataclass(frozen=True)
class Filler:
    """Filler of a joint. gap, fillet: volumes [mm3]; rod: its diameter [mm]; length: of rod with
    the allowance [mm]; mass [g]."""

    joint: str
    alloy: str
    gap: float
    fillet: float
    rod: float
    length: float
    mass: float


def filler(joint: Joint, alloy: str, rod: float, gap: float | None = None) -> Filler:
    """Filler of a joint at its widest, or with the gap given [mm]."""
    raise NotImplementedError
