"""Works out the heat that brings the work to soldering temperature, and whether the torch is of the
size for it.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.fabricating.growth import LAG
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import Piece
from barstock.handbook.heat import heat_taken
from barstock.handbook.materials import material
from barstock.machines.hearth import heating_minutes
from barstock.route import TorchCan

FLUX_LASTS = 10.0
"""Minutes a flux stands hot before it is spent. Common practice."""

_SPREAD_OUT = 2.0  # surface of a fabrication against that of a cube of its mass; common practice


@dataclass(frozen=True)
class Warming:
    """The warming of work to heat. energy: into the metal [J]; power: of the torch [W]; minutes:
    least and most (infinite where the flame cannot keep up); can: common practice.
    """

    energy: float
    power: float
    minutes: tuple[float, float]
    can: TorchCan
    findings: tuple[Finding, ...]


def warming(
    pieces: tuple[Piece, ...],
    heat: float,
    power: float,
    *,
    hearth: bool = True,
    fixture: Piece | None = None,
) -> Warming:
    """Bring pieces to heat [C] with a torch of that power [W], and a fixture to `LAG` [K] less.

    Raises UnknownMaterialError, NoFigureError, ValueError for a torch without power.
    """
    if power <= 0:
        raise ValueError(f"a torch of {power:g} W gives no heat")
    warmed = [(piece, heat) for piece in pieces] + ([(fixture, heat - LAG)] if fixture else [])
    energy = sum(piece.mass * heat_taken(piece.material, to) for piece, to in warmed)
    volume = sum(piece.mass / material(piece.material).density for piece, _ in warmed)  # [cm3]
    surface = _SPREAD_OUT * 6 * volume ** (2 / 3) / 1e4  # [m2]
    minutes = heating_minutes(energy, surface, heat, power, bricks=hearth)
    can = _can(minutes)
    return Warming(energy, power, minutes, can, _findings(can, minutes, power, hearth))


def _can(minutes: tuple[float, float]) -> TorchCan:
    if minutes[1] <= FLUX_LASTS:
        return TorchCan.YES
    return TorchCan.MARGINAL if minutes[0] <= FLUX_LASTS else TorchCan.NO


def _findings(
    can: TorchCan, minutes: tuple[float, float], power: float, hearth: bool
) -> tuple[Finding, ...]:
    if can is TorchCan.YES:
        return ()
    bricks = "" if hearth else "pack fire bricks round the work, "
    if can is TorchCan.MARGINAL:
        what = f"at {power / 1000:.1f} kW the heat may take longer than the flux lasts"
        mend = bricks + "warm the fixture through first, or use a larger burner"
        return (Finding(Mistake.TORCH, "torch", what, mend, stops=False),)
    soonest = minutes[0]
    took = "does not bring" if soonest == float("inf") else f"takes {soonest:.0f} minutes to bring"
    what = f"{power / 1000:.1f} kW {took} this mass to heat; the flux lasts {FLUX_LASTS:g} minutes"
    mend = bricks + "use a larger burner or a second one, or join in smaller parts"
    return (Finding(Mistake.TORCH, "torch", what, mend),)
