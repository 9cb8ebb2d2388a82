"""A plan as it reads in the other unit, for a device that is switched to it.

What a wheel is graduated in stays as it is: only readouts can be switched.
"""

from __future__ import annotations

import re
from dataclasses import replace
from math import inf

from barstock.drawing.build import Build
from barstock.measuring.handwheel import dial
from barstock.quantities import Unit, show
from barstock.route import Route, Setup, Step
from barstock.workshop.shop import Axis, Machine, Workshop

_FIGURE = re.compile(r"([+−-]?)(\d+\.\d+)( (?:mm|in)\b)?")


def in_unit(
    route: Route, build: Build, workshop: Workshop, unit: Unit
) -> tuple[Route, Build, Workshop]:
    """Route, drawing and shop with lengths and readouts in `unit`."""
    parts = tuple(replace(part, unit=unit) for part in build.parts)
    machines = {m.name: m for m in workshop.machines}
    setups = tuple(setup_in(s, machines.get(s.machine), unit) for s in route.setups)
    return (
        route.model_copy(update={"setups": setups}),
        replace(build, parts=parts),
        replace(workshop, machines=tuple(switched(m, unit) for m in workshop.machines)),
    )


def switched(machine: Machine, unit: Unit) -> Machine:
    """The machine with its readouts switched to the unit."""

    def shown(axis: Axis | None) -> Axis | None:
        return replace(axis, unit=unit) if axis is not None and axis.readout else axis

    return replace(machine, x=shown(machine.x), y=shown(machine.y), z=shown(machine.z))


def setup_in(setup: Setup, machine: Machine | None, unit: Unit) -> Setup:
    """The setup as it is read with the machine's readouts switched to the unit."""
    if machine is None:
        return setup
    operations = tuple(
        o.model_copy(update={"steps": tuple(_step(s, machine, unit) for s in o.steps)})
        for o in setup.operations
    )
    return setup.model_copy(update={"operations": operations})


def _step(step: Step, machine: Machine, unit: Unit) -> Step:
    told = {}
    for key, text in step.dial.items():
        axis = getattr(machine, key.partition(" ")[0].lower(), None) if key else None
        told[key] = reading_in(text, axis, unit) if isinstance(axis, Axis) else text
    return step.model_copy(update={"dial": told})


def reading_in(text: str, axis: Axis, unit: Unit) -> str:
    """A dialled text in the unit; figures of a handwheel stay.

    >>> reading_in("-4.000 – +36.720", Axis(200, readout=0.005), Unit.INCH)
    '-0.1575 – +1.4457'
    >>> reading_in("+6 turns 17½ div", Axis(200, per_turn=2, divisions=100), Unit.INCH)
    '+6 turns 17½ div'
    """
    if not axis.readout or axis.unit is unit or "turn" in text:
        return text
    shown = replace(axis, unit=unit, travel=inf)

    def other(figure: re.Match[str]) -> str:
        value = float(figure[2]) * axis.unit.scale
        if figure[3]:
            return show(value, unit)
        return dial(-value if figure[1] in ("−", "-") else value, shown)

    return _FIGURE.sub(other, text)
