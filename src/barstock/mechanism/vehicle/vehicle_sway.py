"""This module finds how stiff a vehicle stands on its springs, and how it sways.

Its wheels stay on the rail and its springs as they are laden: closed contacts stay closed, open
ones open.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from barstock.mechanism.vehicle.contact_forces import Array
from barstock.mechanism.vehicle.vehicle_at_rest import Standing
from barstock.mechanism.vehicle.vehicle_lean import leaning
from barstock.mechanism.vehicle.vehicle_model import PITCH, ROLL, Link, Model

NAMES = ("bounce", "roll", "pitch")

MASSLESS = 1e-12
"""A motion has no mass whose 1/w2 is less than this share of the slowest motion's."""

PUSHING = 1e-9
"""A link carries something that pushes with more than this share of the greatest load."""


@dataclass(frozen=True)
class Mode:
    """A Mode is one way of swaying. frequency [Hz]; name: what the body does most in it."""

    name: str
    frequency: float


@dataclass(frozen=True)
class Sway:
    """A Sway is a vehicle's stiffness and its modes, the slowest first.

    heave: rate of the whole [N/mm]; roll, pitch: stiffness, with the lean taken off [N m/°].
    """

    heave: float
    roll: float
    pitch: float
    modes: tuple[Mode, ...]


def sway(model: Model, laden: Standing) -> Sway:
    """Work out the stiffness and the modes of a vehicle about where it stands."""
    import numpy as np
    from scipy.linalg import eigh

    stiff = stiffness(model, laden)
    free = _free(model, laden)
    k = free.T @ stiff @ free
    m = free.T @ (model.mass_matrix() / 1000) @ free  # kg to N s2/mm
    # levers weigh nothing: 1/w2 is sought, 0 for what has no mass
    values, shapes = eigh(m, k)
    modes = []
    for value, shape in zip(values[::-1], (free @ shapes).T[::-1], strict=True):
        if value <= MASSLESS * values[-1]:
            continue
        modes.append(Mode(_named(model, shape), 1 / (2 * pi * sqrt(value))))
    flexible = np.linalg.inv(k)
    return Sway(
        1 / _give(free, flexible, 0),
        pi / 180 / 1000 / _give(free, flexible, ROLL),
        pi / 180 / 1000 / _give(free, flexible, PITCH),
        tuple(modes),
    )


def stiffness(model: Model, laden: Standing) -> Array:
    """Return the stiffness of the links that push, less what leaning takes off [N/mm, N mm]."""
    import numpy as np

    found = np.zeros((model.count, model.count))
    for link in _pushing(model, laden):
        if link.rate is not None:
            row = model.vector(link.row)
            found += link.rate * np.outer(row, row)
    forces = np.array([laden.links[link.kind, link.name] for link in model.links])
    loads = np.array([laden.loads[box] for box in model.wheels])
    return found - leaning(model).matrix(np.append(forces, loads))


def _free(model: Model, laden: Standing) -> Array:
    """Return what may still move with wheels on the rail and hard contacts closed."""
    from scipy.linalg import null_space

    rows = [model.vector({n: 1.0}) for n in model.wheels.values()]
    rows += [model.vector(link.row) for link in _pushing(model, laden) if link.rate is None]
    return null_space(rows)


def _pushing(model: Model, laden: Standing) -> list[Link]:
    """List the links that carry something where the vehicle stands."""
    least = PUSHING * max(laden.loads.values())
    return [link for link in model.links if laden.links[link.kind, link.name] > least]


def _give(free: Array, flexible: Array, coordinate: int) -> float:
    """Return what the coordinate gives under a force of one."""
    row = free[coordinate]
    return float(row @ flexible @ row)


def _named(model: Model, shape: Array) -> str:
    """Name the motion by which of bounce, roll and pitch holds most of its energy.

    The body that does it is named too.
    """
    matrix = model.mass_matrix()
    shares = [
        (float(shape[i] * matrix[i, i] * shape[i]), NAMES[i - body.first], body.name)
        for body in model.bodies
        for i in range(body.first, body.first + 3)
    ]
    _, name, body = max(shares)
    return f"{name} of {body}" if body else name
