"""A grip: how a setup holds the work, in numbers."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.route import Body
from barstock.workshop.shop import Vise


@dataclass(frozen=True)
class Grip:
    """What holds the work and where [mm].

    device: what the shop calls it. vise: the one that grips the work, or what the work is on; None
    where it is held without one. jaws: from where to where they stand along x; opening: between
    them. could: every packing that would do as well; least, most: between all that would do at all.
    """

    device: str
    packing: float
    parallels: tuple[float, ...] = ()
    parallels_out: bool = False
    vise: Vise | None = None
    grip: float = 0.0
    stick_up: float = 0.0
    jaws: tuple[float, float] = (0.0, 0.0)
    opening: float = 0.0
    could: frozenset[float] = frozenset()
    least: float = 0.0
    most: float = 0.0
    bodies: tuple[Body, ...] = ()
    end_free: bool = True
