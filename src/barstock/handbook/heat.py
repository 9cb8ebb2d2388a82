"""How bar materials grow, and how much heat they take, on the way to soldering temperature.

Carbon steel: EN 1993-1-2:2005 clauses 3.4.1.1 (elongation) and 3.4.1.2 (specific heat), typed from
a published copy of them; the specific heat of up to 600 C is carried on, which leaves out what
steel takes up in its change near 735 C. Austenitic stainless steel: annex C of the same, from
memory.
Copper alloys: mean coefficients from 20 to 300 C of free-cutting and cartridge brass, aluminium
bronze and free-machining copper as in AMES Web's chart "Linear thermal expansion coefficient of
copper and copper alloys" (read 2026-11-25), the others from memory; from there on they are taken
to rise as pure copper's does. Specific heats of copper alloys: handbook values from
memory, rising as copper's does (0.385 J/gK at 27 C, 0.427 at 627 C).
"""

from __future__ import annotations

from collections.abc import Iterator

from barstock.handbook.answer import Found
from barstock.handbook.materials import Material, material
from barstock.quantities import Unit

SOURCE = (
    "steels: EN 1993-1-2 clause 3.4.1 and annex C; copper alloys: mean coefficients from 20 to "
    "300 °C, AMES Web's chart of copper alloys and from memory, continued as copper's"
)

COLD = 20.0
"""Where growth and heat are counted from [C]."""

SPREAD = 0.05
"""How far a bar's growth may be off the figure here, by alloy and temper. Common practice."""

_RISE = 1.8e-4  # of copper's mean coefficient, and its specific heat, for a kelvin; from memory

# mean coefficient from 20 to 300 C [1e-6/K], specific heat at room temperature [J/gK]
_COPPER_ALLOYS: dict[str, tuple[float, float]] = {
    "brass": (20.5, 0.38),
    "soft brass": (19.9, 0.38),
    "phosphor bronze": (17.8, 0.38),
    "gunmetal": (18.0, 0.38),
    "aluminium bronze": (16.8, 0.42),
    "copper": (17.7, 0.385),
    "nickel silver": (16.5, 0.385),
}
_CAST_IRON = (10.5, 4.2e-3)  # mean coefficient at 20 C and its rise for a kelvin; from memory


SHOWN = (300.0, 650.0)
"""What `look` shows [C]."""


class NoFigureError(LookupError):
    """Raised where there is no figure of that material at that temperature."""


def elongation(name: str, temperature: float) -> float:
    """How much a length grows from 20 C to a temperature [C], as a share of it (mm/mm).

    Raises UnknownMaterialError, NoFigureError where it melts before or nothing is known.

    >>> round(elongation("mild steel", 650) * 1000, 3)
    9.248
    """
    row = _growing_material(name, temperature)
    rise = temperature - COLD
    if row.name in _COPPER_ALLOYS:
        mean = _COPPER_ALLOYS[row.name][0] * (1 + _RISE * (temperature - 300))
        return mean * 1e-6 * rise
    if "stainless" in row.name:
        return (16 + 4.79e-3 * temperature - 1.243e-6 * temperature**2) * rise * 1e-6
    if row.name == "cast iron":
        return (_CAST_IRON[0] + _CAST_IRON[1] * rise) * rise * 1e-6
    return _steel(temperature)


def mean_expansion(name: str, temperature: float) -> float:
    """Mean coefficient from 20 C to a temperature [1e-6/K]; raises as `elongation` does.

    >>> round(mean_expansion("copper", 300), 1)
    17.7
    """
    return elongation(name, temperature) / (temperature - COLD) * 1e6


def heat_taken(name: str, temperature: float) -> float:
    """Heat a gram takes from 20 C to a temperature [J/g]; raises as `elongation` does.

    >>> round(heat_taken("copper", 120), 1)
    38.8
    """
    row = _growing_material(name, temperature)
    rise = temperature - COLD
    if row.name in _COPPER_ALLOYS:
        return _COPPER_ALLOYS[row.name][1] * (1 + _RISE / 2 * rise) * rise
    if "stainless" in row.name:
        return _between((0.450, 2.8e-4, -2.91e-7, 1.34e-10), temperature)
    return _between((0.425, 7.73e-4, -1.69e-6, 2.22e-9), temperature)


def find(word: str, _: Unit) -> Iterator[Found]:
    """What `look` shows of a material on its way to soldering heat."""
    try:
        name = material(word).name
        hot = [(to, mean_expansion(name, to), heat_taken(name, to)) for to in SHOWN]
    except LookupError:
        return
    rows = [(f"mean expansion, 20 to {to:g} °C", f"{mean:.1f} µm per metre and kelvin")
            for to, mean, _ in hot]  # fmt: skip
    rows += [(f"heat from 20 to {to:g} °C", f"{heat:.0f} J/g") for to, _, heat in hot]
    yield Found(f"{name} when hot", tuple(rows), SOURCE, memory=True)


def _steel(temperature: float) -> float:
    """EN 1993-1-2 clause 3.4.1.1, for 20 to 750, 750 to 860 and 860 to 1200 C."""
    if temperature < 750:
        return 1.2e-5 * temperature + 0.4e-8 * temperature**2 - 2.416e-4
    return 1.1e-2 if temperature <= 860 else 2e-5 * temperature - 6.2e-3


def _between(powers: tuple[float, ...], temperature: float) -> float:
    """Integral of a specific heat given by the powers of the temperature, from 20 C [J/g]."""
    return sum(
        c / (n + 1) * (temperature ** (n + 1) - COLD ** (n + 1)) for n, c in enumerate(powers)
    )


def _growing_material(name: str, temperature: float) -> Material:
    row = material(name)
    if not temperature > COLD:
        raise NoFigureError(f"growth is counted from {COLD:g} °C; {temperature:g} °C is below it")
    metal = row.ferrous or row.name in _COPPER_ALLOYS
    if not metal or temperature > min(row.melts, 1200.0):
        raise NoFigureError(f"how {row.name} grows up to {temperature:g} °C is not known here")
    return row
