"""This module models a vehicle as bodies and links: what may move, what pushes between what.

Displacements are small and upright, from the state in which the rails are level, the wheels on them
and every spring just free. A body (the vehicle's own, a bogie's frame) heaves, rolls (left side up)
and pitches (front up); an axle's two wheels rise each for itself; a lever's two ends likewise. A
link pushes between two places and never pulls: it is a spring that may lift off or run solid, or
hard.

Masses lean: a body that rolls by an angle moves its centre aside by its height above where it is
held, the axles' centres or the pivots of bogies, and so loads the side it leans to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from math import inf

from barstock.drawing.track_measured import Track
from barstock.drawing.vehicle import SIDES, Axle, Bogie, Mass, Vehicle
from barstock.mechanism.vehicle.contact_forces import Array
from barstock.reading.amounts import G

Row = dict[int, float]
"""The height of a place as a sum of coordinates."""

HEAVE, ROLL, PITCH = 0, 1, 2


@dataclass(frozen=True)
class Stiffness:
    """A Stiffness is how one spring pushes.

    rate [N/mm]; stop: shortening from free to solid [mm].
    """

    rate: float
    stop: float = inf


@dataclass(frozen=True)
class Link:
    """A Link pushes between two places.

    row . q is by how much it is shortened [mm]. rate: None where it is hard; stop: where it is
    solid. kind: "box", "lever", "pivot" or "bearer". spring, springs: by name and how many share
    it.
    """

    kind: str
    name: str
    row: Row
    rate: float | None
    stop: float = inf
    spring: str = ""
    springs: int = 1


@dataclass(frozen=True)
class Body:
    """A Body is a rigid part of the vehicle.

    first: its first coordinate; masses: what it is made of; held: the height it is held at [mm].
    """

    name: str
    first: int
    masses: tuple[Mass, ...]
    held: float

    @property
    def mass(self) -> float:
        """Return its mass [kg]."""
        return sum(mass.mass for mass in self.masses)

    @property
    def height(self) -> float:
        """Return the height of its centre of mass above the rail [mm]."""
        return sum(m.mass * m.height for m in self.masses) / self.mass

    @property
    def lever(self) -> float:
        """Return its centre's height above where it is held [mm]."""
        return self.height - self.held


@dataclass
class Model:
    """A Model is a vehicle, empty or laden, as bodies and links. count: of coordinates."""

    vehicle: Vehicle
    tread: float
    bodies: list[Body] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    wheels: dict[str, int] = field(default_factory=dict)
    count: int = 0

    def on(self, axle: Axle) -> Body:
        """Return the body that an axle's springs carry."""
        return next(body for body in self.bodies if body.name == axle.bogie)

    def boxes(self) -> Iterable[tuple[Axle, str, Row, Row]]:
        """List axle, box's name, its height on the axle, and that of the frame over it."""
        for axle in self.vehicle.axles:
            frame = self.on(axle)
            for box, side in zip(axle.boxes, (1, -1), strict=True):
                across = side * self.vehicle.centres / 2
                over = place(frame, axle.along, across, self._middle(frame))
                yield axle, box, self.axle_row(axle, across), over

    def stops(self, q: Array) -> Iterator[tuple[Array, float]]:
        """List bump, then rebound, of every box: row . coordinates <= limit [mm].

        q: the coordinates from where both count, laden on level track.
        """
        for _, _, low, over in self.boxes():
            row = self.vector(minus(low, over))
            was = float(row @ q)
            if self.vehicle.bump is not None:
                yield row, was + self.vehicle.bump
            if self.vehicle.rebound is not None:
                yield -row, self.vehicle.rebound - was

    def axle_row(self, axle: Axle, across: float) -> Row:
        """Return the height of a place on an axle."""
        left, right = (self.wheels[box] for box in axle.boxes)
        share = across / self.tread
        return {left: 0.5 + share, right: 0.5 - share}

    def weights(self) -> Array:
        """Return the forces of gravity on the coordinates [N, N mm]."""
        import numpy as np

        force = np.zeros(self.count)
        for body in self.bodies:
            for m in body.masses:
                force[body.first + HEAVE] -= G * m.mass
                force[body.first + ROLL] -= G * m.mass * m.across
                force[body.first + PITCH] -= G * m.mass * (m.along - self._middle(body))
        for axle in self.vehicle.axles:
            for box in axle.boxes:
                force[self.wheels[box]] -= G * axle.mass / 2
        return force

    def mass_matrix(self) -> Array:
        """Return the masses that coordinates move [kg, kg mm, kg mm2].

        In N, mm and s it stands for 1/1000 of that.
        """
        import numpy as np

        matrix = np.zeros((self.count, self.count))
        for body in self.bodies:
            at = slice(body.first, body.first + 3)
            for m in body.masses:
                arm = m.height - body.held
                lift = np.array([1.0, m.across, m.along - self._middle(body)])
                matrix[at, at] += m.mass * np.outer(lift, lift)
                long, wide, tall = m.size
                matrix[body.first + ROLL, body.first + ROLL] += m.mass * (
                    arm**2 + (wide**2 + tall**2) / 12
                )
                matrix[body.first + PITCH, body.first + PITCH] += m.mass * (
                    arm**2 + (long**2 + tall**2) / 12
                )
        for axle in self.vehicle.axles:
            for box in axle.boxes:
                matrix[self.wheels[box], self.wheels[box]] += axle.mass / 2
        return matrix

    def vector(self, row: Row) -> Array:
        """Return a row as an array."""
        import numpy as np

        found = np.zeros(self.count)
        for at, share in row.items():
            found[at] += share
        return found

    def _middle(self, body: Body) -> float:
        return middle_of(self.vehicle, body.name)


def middle_of(vehicle: Vehicle, body: str) -> float:
    """Return where along the vehicle a body's own coordinates are taken [mm]."""
    return next((bogie.along for bogie in vehicle.bogies if bogie.name == body), 0.0)


def place(body: Body, along: float, across: float, middle: float = 0.0) -> Row:
    """Return the height of a place on a body.

    middle: where along the vehicle the body's coordinates are taken.
    """
    return {
        body.first + HEAVE: 1.0,
        body.first + ROLL: across,
        body.first + PITCH: along - middle,
    }


def minus(a: Row, b: Row) -> Row:
    """Return row a less row b."""
    return {at: a.get(at, 0.0) - b.get(at, 0.0) for at in {**a, **b}}


def build_model(
    vehicle: Vehicle, track: Track, stiff: Mapping[str, Stiffness], *, laden: bool
) -> Model:
    """Build the model of a vehicle. stiff: how its springs push, by name."""
    model = Model(vehicle, track.tread)
    _bodies(model, laden)
    for axle in vehicle.axles:
        for box in axle.boxes:
            model.wheels[box] = model.count
            model.count += 1
    levers = {box: name for e in vehicle.equalisers for box, name in _ends(model, e.name)}
    for axle, box, low, frame in model.boxes():
        end = levers.get(box)
        over = {end: 1.0} if end is not None else frame
        model.links.append(_link("box", box, minus(low, over), stiff, axle.spring, axle.springs))
    frames = {box: frame for _, box, _, frame in model.boxes()}
    for e in vehicle.equalisers:
        first, second = (levers[box] for box in e.between)
        at = {first: 1 - e.pivot, second: e.pivot}
        over = _between(frames[e.between[0]], frames[e.between[1]], e.pivot)
        model.links.append(_link("lever", e.name, minus(at, over), stiff, e.spring, e.springs))
    for bogie in vehicle.bogies:
        _rests(model, bogie, stiff)
    return model


def _bodies(model: Model, laden: bool) -> None:
    vehicle = model.vehicle
    masses = vehicle.masses + (vehicle.load if laden else ())
    pivots = [bogie.pivot for bogie in vehicle.bogies]
    held = sum(pivots) / len(pivots) if pivots else vehicle.wheel
    model.bodies.append(Body("", 0, masses, held))
    for n, bogie in enumerate(vehicle.bogies, 1):
        model.bodies.append(Body(bogie.name, 3 * n, (bogie.frame,), vehicle.wheel))
    model.count = 3 * len(model.bodies)


def _ends(model: Model, name: str) -> list[tuple[str, int]]:
    """Add a lever's ends: the box each bears on, and its coordinate."""
    equaliser = next(e for e in model.vehicle.equalisers if e.name == name)
    found = [(box, model.count + n) for n, box in enumerate(equaliser.between)]
    model.count += 2
    return found


def _between(a: Row, b: Row, share: float) -> Row:
    return {at: (1 - share) * a.get(at, 0.0) + share * b.get(at, 0.0) for at in {**a, **b}}


def _link(
    kind: str, name: str, row: Row, stiff: Mapping[str, Stiffness], spring: str, springs: int
) -> Link:
    if not spring:
        return Link(kind, name, row, None, 0.0)
    one = stiff[spring]
    return Link(kind, name, row, one.rate * springs, one.stop, spring, springs)


def _rests(model: Model, bogie: Bogie, stiff: Mapping[str, Stiffness]) -> None:
    """Add what the body rests on a bogie by."""
    body = model.bodies[0]
    frame = next(b for b in model.bodies if b.name == bogie.name)

    def row(across: float) -> Row:
        low = place(frame, bogie.along, across, bogie.along)
        return minus(low, place(body, bogie.along, across))

    bearers = bogie.bearers
    if bearers is None or not bearers.spring:
        model.links.append(Link("pivot", bogie.name, row(0.0), None, 0.0))
    for side, sign in zip(SIDES, (1, -1), strict=True) if bearers else ():
        assert bearers is not None
        name = f"{bogie.name} {side}"
        where = row(sign * bearers.apart / 2)
        if bearers.spring:
            model.links.append(_link("bearer", name, where, stiff, bearers.spring, bearers.springs))
        else:
            model.links.append(Link("bearer", name, where, None, bearers.gap))
