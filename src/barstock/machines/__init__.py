"""The machines of a shop, one file for each: what is done at it, its axes, its minutes.

A machine is found by its module's `MACHINE`, so that a new one is a new file here and nothing else.
What every one answers is in `machine_type`. How work is held at it the ways of holding say
themselves (see `planning/holding` and `proving/holding`): each names its machine.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from barstock.machines.machine_type import MachineType
from barstock.workshop.shop import Machine, MachineKind, Workshop

__all__ = ["MACHINES", "able", "machine_type"]


def _machines() -> dict[MachineKind, MachineType]:
    modules = (import_module(f"{__name__}.{found.name}") for found in iter_modules(__path__))
    machines: list[MachineType] = [m.MACHINE for m in modules if hasattr(m, "MACHINE")]
    return {machine.kind: machine for machine in machines}


MACHINES = _machines()


def machine_type(kind: MachineKind) -> MachineType:
    """What is known of machines of a kind."""
    return MACHINES[kind]


def able(shop: Workshop, *moves: str) -> Machine | None:
    """The first machine of a shop at which all these kinds of move are made, or None."""
    return next((m for m in shop.machines if MACHINES[m.kind].moves.issuperset(moves)), None)
