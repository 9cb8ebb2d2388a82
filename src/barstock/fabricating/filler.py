"""Works out how much filler a joint takes: gap and fillet, and the length of rod that holds it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi

from barstock.fabricating.joints import Joint
from barstock.handbook.brazing import brazing_alloy
from barstock.quantities import Length

RODS = (0.5, 0.7, 1.0, 1.5, 2.0, 2.5, 3.0)
"""Diameters that silver brazing rod and wire is commonly sold in [mm]. Common practice."""

ALLOWANCE = 1.5
"""Rod to have for what the joint holds: some stays on the faces, some in the flux. Common
practice."""


@dataclass(frozen=True)
class Filler:
    """Filler of a joint. gap, fillet: volumes [mm3]; rod: its diameter [mm]; length: of rod, with
    the allowance, up to the next 5 mm; mass: of that length [g]."""

    joint: str
    alloy: str
    gap: float
    fillet: float
    rod: float
    length: float
    mass: float


def filler(joint: Joint, alloy: str, rod: float, gap: float | None = None) -> Filler:
    """The filler of a joint, its gap at the widest or as given [mm]; rod: diameter [mm].

    The gap is line x depth x gap; the fillet is hollow, a square of its leg less a quarter circle.
    Raises CadmiumError, UnknownAlloyError, ValueError for a rod that is none.
    """
    if rod <= 0:
        raise ValueError(
            f"a rod of {Length(rod):g} is none; they are sold from {Length(RODS[0]):g}"
        )
    fills = brazing_alloy(alloy)
    inside = joint.line * joint.depth * (joint.gap_most if gap is None else gap)
    fillet = joint.line * fillet_area(joint.fillet)
    section = pi / 4 * rod**2
    length = 5.0 * ceil((inside + fillet) * ALLOWANCE / section / 5 - 1e-9)
    mass = length * section * fills.density / 1000
    return Filler(joint.name, fills.name, inside, fillet, rod, length, mass)


def fillet_area(leg: float) -> float:
    """The section of a hollow fillet [mm2]: between two faces and the quarter circle that meets
    both.

    >>> round(fillet_area(1.0), 4)
    0.2146
    """
    return leg**2 * (1 - pi / 4)
