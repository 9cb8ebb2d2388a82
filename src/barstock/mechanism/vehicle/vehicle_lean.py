"""This module says how what leans is heavier on the side it leans to.

A body that rolls or pitches moves its centre aside by its height above where it is held; what a
bogie carries moves by the height of its pivot, what an axle carries by the wheels' radius. Each way
of leaning pushes with a moment for every unit it leans by: its own mass's, and the carried loads'.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.drawing.vehicle import SIDES
from barstock.mechanism.vehicle.contact_forces import Array
from barstock.mechanism.vehicle.vehicle_model import PITCH, ROLL, Model
from barstock.reading.amounts import G


@dataclass(frozen=True)
class Leaning:
    """A Leaning is the ways in which a vehicle leans.

    A way's row . coordinates is by how much it leans [1]. Its moment [N mm] is own + carried .
    forces, the forces of all links, then of the wheels. sideways: 1 for the ways that a push to the
    right leans the vehicle, as far as forces go.
    """

    ways: Array
    own: Array
    carried: Array
    sideways: Array

    def matrix(self, forces: Array) -> Array:
        """Return what leaning adds to the forces on the coordinates for each of them."""
        return self.ways.T @ (self._moments(forces)[:, None] * self.ways)

    def push(self, q: Array, forces: Array, lean: float = 0.0) -> Array:
        """Return the forces on the coordinates from what leans or is pushed sideways [N mm, N].

        lean: the push to the right, as a share of the weight.
        """
        return self.ways.T @ (self._moments(forces) * (self.ways @ q + lean * self.sideways))

    def _moments(self, forces: Array) -> Array:
        return self.own + self.carried @ forces[: self.carried.shape[1]]


def leaning(model: Model) -> Leaning:
    """Work out how a vehicle leans."""
    import numpy as np

    names = [(link.kind, link.name) for link in model.links]
    forces = [*names, *(("wheel", name) for name in model.wheels)]
    ways, own, carried, sideways = [], [], [], []

    def add(row: dict[int, float], moment: float, height: float, on: set[tuple[str, str]]) -> None:
        ways.append(model.vector(row))
        own.append(moment)
        carried.append([height * (force in on) for force in forces])

    for body in model.bodies:
        bogie = next((b for b in model.vehicle.bogies if b.name == body.name), None)
        on = {("pivot", body.name), *(("bearer", f"{body.name} {side}") for side in SIDES)}
        height = bogie.pivot - model.vehicle.wheel if bogie else 0.0
        for way in (ROLL, PITCH):
            add({body.first + way: 1.0}, G * body.mass * body.lever, height, on)
            sideways.append(float(way == ROLL))
    for axle in model.vehicle.axles:
        left, right = (model.wheels[box] for box in axle.boxes)
        across = {left: 1 / model.tread, right: -1 / model.tread}
        add(across, 0.0, model.vehicle.wheel, {("wheel", box) for box in axle.boxes})
        sideways.append(1.0)
    return Leaning(*(np.array(each) for each in (ways, own, carried, sideways)))
