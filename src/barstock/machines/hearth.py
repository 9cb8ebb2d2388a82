"""The hearth: a torch over fire bricks, where work is brought to soldering temperature.

An order of magnitude, common practice: how much of a flame's heat gets into the work depends on
nozzle, bricks and hand.
"""

from __future__ import annotations

from math import inf

from barstock.workshop.shop import Hearth

IN_HEARTH, IN_THE_OPEN = (0.15, 0.35), (0.08, 0.20)
"""Share of the flame's heat that gets into the work, least and most: bricks packed round it, or
none. Common practice."""

PROPANE = 46.4e6
"""Net heat of burning propane [J/kg]. Handbook value, from memory."""

_EMISSIVITY = 0.7  # of steel with scale on it, EN 1993-1-2 clause 2.2, from memory
_RADIATED = 5.67e-8 * _EMISSIVITY  # Stefan's constant times it [W/m2K4]
_BRICKS_GIVE_BACK = 0.5  # of what is radiated; common practice


def power_of_gas(rate: float) -> float:
    """A torch's power from the propane it burns [W]; rate [g/h].

    >>> round(power_of_gas(500), -2)
    6400.0
    """
    return rate / 1000 / 3600 * PROPANE


def torch_power(hearth: Hearth) -> float:
    """The torch's power as the workshop gives it, else by its gas [W]; 0 for neither."""
    return hearth.power or power_of_gas(hearth.gas)


def heating_minutes(
    energy: float, surface: float, heat: float, power: float, *, bricks: bool = True
) -> tuple[float, float]:
    """Minutes, least and most, that a torch of that power [W] takes to bring work to a heat [C].

    energy: into the metal [J]; surface: of the work [m2]; bricks: are any packed round it? Infinite
    where the flame cannot keep up. On the way there half of what is lost at heat is lost on
    average.
    """
    loses = _RADIATED * surface * ((heat + 273) ** 4 - 293**4)
    loses *= _BRICKS_GIVE_BACK if bricks else 1.0
    least, most = (power * share for share in (IN_HEARTH if bricks else IN_THE_OPEN))
    soonest, latest = (
        energy / (into - loses / 2) / 60 if into > loses else inf for into in (most, least)
    )
    return soonest, latest
