"""A vehicle at rest on given rails: heights, wheel loads, springs, tilts; contacts exact.

What leans is heavier on the side it leans to. That takes the energy its one lowest place; so the
contacts are found without it, then with it by the forces of the answer before, until nothing
changes. Balanced like an egg on its point, it is nudged until it rests on something; where there is
nothing, it falls over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees

from barstock.mechanism.vehicle.contact import Array, NoRestError, Rest, rest, settled
from barstock.mechanism.vehicle.model import HEAVE, PITCH, ROLL, Link, Model, minus, place
from barstock.reading.amounts import G

ROUNDS = 100
"""Rounds given to leaning before it is called falling over."""

NUDGES = 5
"""Times that a vehicle balanced on edge is nudged."""


TIPS = (
    "nothing holds the vehicle up: a body tips or rolls over; each must rest on three places that "
    "are not in a line"
)


class TopplesError(ArithmeticError):
    """The vehicle does not stay up."""


@dataclass(frozen=True)
class BoxStand:
    """A box at rest. load: of its wheel [N]; rise: from where it is laden, up positive [mm].

    spring: load on each of its springs [N]; shortened, left: of each, from free and to solid [mm];
    None where it has none. tilt: of the axle against the frame, seen from ahead; pitch: of the
    frame, seen from the side [°].
    """

    load: float
    rise: float
    spring: float | None
    shortened: float | None
    left: float | None
    tilt: float
    pitch: float


@dataclass(frozen=True)
class Standing:
    """A vehicle at rest. heave [mm, up], roll, pitch [°] of its body at its middle.

    links: force of each link [N]; residual: what is left of equilibrium, gaps and pulls [N, mm];
    q: the coordinates there, to begin another from.
    """

    boxes: dict[str, BoxStand]
    heave: float
    roll: float
    pitch: float
    links: dict[tuple[str, str], float]
    residual: float
    q: Array

    @property
    def loads(self) -> dict[str, float]:
        """Load of each wheel [N]."""
        return {name: box.load for name, box in self.boxes.items()}


def stand(
    model: Model,
    rails: Mapping[str, float],
    *,
    lean: float = 0.0,
    laden: Standing | None = None,
) -> Standing:
    """The vehicle at rest with the rail under each wheel at a height [mm].

    lean: sideways push on every mass, to the right, as a share of its weight (centrifugal force,
    for one). laden: standing laden on level track, from where bump and rebound count; None: no
    stops. Raises TopplesError.
    """
    import numpy as np

    rows, limits, springs = _contacts(model, rails, laden)
    more = np.zeros(len(springs))
    p = np.diag(np.append(np.zeros(model.count), [link.rate or 0.0 for link in springs]))
    weights = np.append(model.weights(), more)
    nudges = 0
    try:
        found = rest(p, weights, rows, limits)
        for _ in range(ROUNDS):
            before = found
            push = np.append(leaning(model, np.zeros(model.count), found.forces, lean), more)
            leaned = p.copy()
            leaned[: model.count, : model.count] -= lean_matrix(model, found.forces)
            trial = settled(leaned, weights + push, rows, limits, found.closed)
            if trial is None:  # other contacts close: come nearer step by step
                q = found.x[: model.count]
                push = np.append(leaning(model, q, found.forces, lean), more)
                found = rest(p, weights + push, rows, limits, found.closed)
                continue
            found = trial
            if float(np.abs(found.x - before.x).max()) > 1e-11 * float(np.abs(found.x).max()):
                continue
            way = _falling(leaned, rows[found.closed])
            if way is None:
                return _standing(model, found, laden)
            nudges += 1
            if nudges > NUDGES:
                break
            q = (found.x + way)[: model.count]
            push = np.append(leaning(model, q, found.forces, lean), more)
            found = rest(p, weights + push, rows, limits)
    except (NoRestError, np.linalg.LinAlgError) as wrong:
        raise TopplesError(TIPS) from wrong
    raise TopplesError("the vehicle falls over: its springs are too soft for its height")


def _falling(p: Array, closed: Array) -> Array | None:
    """The small motion, left free by closed contacts, by which it falls from where it stands.

    It may stand balanced, on two wheels of twisted track for one. None where it stays.
    """
    import numpy as np
    from scipy.linalg import null_space

    free = null_space(closed) if len(closed) else np.eye(len(p))
    if not free.shape[1]:
        return None
    values, ways = np.linalg.eigh(free.T @ p @ free)
    if values[0] > -1e-9 * float(np.abs(p).max(initial=1.0)):
        return None
    return free @ ways[:, 0]


def lean_matrix(model: Model, forces: Array) -> Array:
    """What leaning adds to the forces on the coordinates for each of them."""
    import numpy as np

    columns = [leaning(model, one, forces, 0.0) for one in np.eye(model.count)]
    return np.array(columns).T


def level(model: Model) -> dict[str, float]:
    """Rails without a fault."""
    return dict.fromkeys(model.wheels, 0.0)


def leaning(model: Model, q: Array, forces: Array, lean: float) -> Array:
    """Forces on the coordinates from masses that lean, or are pushed sideways [N mm, N]."""
    import numpy as np

    force = np.zeros(model.count)
    links = dict(zip(((link.kind, link.name) for link in model.links), forces, strict=False))
    for body in model.bodies:
        moment = G * body.mass * body.lever
        bogie = next((b for b in model.vehicle.bogies if b.name == body.name), None)
        if bogie is not None:
            carried = sum(
                load
                for (kind, name), load in links.items()
                if (kind == "pivot" and name == body.name)
                or (kind == "bearer" and name.rsplit(" ", 1)[0] == body.name)
            )
            moment += carried * (bogie.pivot - model.vehicle.wheel)
        force[body.first + ROLL] += moment * (q[body.first + ROLL] + lean)
        force[body.first + PITCH] += moment * q[body.first + PITCH]
    wheels = dict(zip(model.wheels, forces[len(model.links) :], strict=False))
    for axle in model.vehicle.axles:
        left, right = axle.boxes
        a, b = model.wheels[left], model.wheels[right]
        load = wheels[left] + wheels[right]
        tilt = (q[a] - q[b]) / model.tread + lean
        push = load * model.vehicle.wheel * tilt / model.tread
        force[a] += push
        force[b] -= push
    return force


def _contacts(
    model: Model, rails: Mapping[str, float], laden: Standing | None
) -> tuple[Array, Array, list[Link]]:
    """rows . x <= limits: each link's push, then each wheel's rail, then what stops travel."""
    import numpy as np

    springs = [link for link in model.links if link.rate is not None]
    at = {id(link): model.count + n for n, link in enumerate(springs)}
    size = model.count + len(springs)
    rows: list[Array] = []
    limits: list[float] = []

    def add(row: Array, limit: float, sign: float = 1.0) -> None:
        rows.append(sign * np.append(row, np.zeros(size - len(row))))
        limits.append(limit)

    for link in model.links:
        row = np.append(model.vector(link.row), np.zeros(len(springs)))
        if link.rate is not None:
            row[at[id(link)]] = -1.0  # what its spring takes up is at least this
        add(row, 0.0 if link.rate is not None else link.stop)
    for wheel, n in model.wheels.items():
        add(model.vector({n: 1.0}), -rails[wheel], -1.0)
    for link in springs:
        if np.isfinite(link.stop):
            add(model.vector(link.row), link.stop)
    for row, limit in model.stops(laden.q) if laden else ():
        add(row, limit)
    return np.array(rows), np.array(limits), springs


def _standing(model: Model, found: Rest, laden: Standing | None) -> Standing:
    import numpy as np

    q, forces = found.x[: model.count], found.forces
    wheels = dict(zip(model.wheels, forces[len(model.links) :], strict=False))
    pushes = {(link.kind, link.name): float(f)
              for link, f in zip(model.links, forces, strict=False)}  # fmt: skip
    solid = [link for link in model.links if link.rate is not None and np.isfinite(link.stop)]
    first = len(model.links) + len(model.wheels)
    for link, force in zip(solid, forces[first:], strict=False):
        pushes[link.kind, link.name] += float(force)
    by_box = {link.name: link for link in model.links if link.kind == "box"}
    boxes = {}
    for axle, box, low, over in model.boxes():
        link, frame = by_box[box], model.on(axle)
        left, right = (q[model.wheels[one]] for one in axle.boxes)
        shortened = spring = None
        if link.rate is not None:
            shortened = max(0.0, float(model.vector(link.row) @ q))
            spring = pushes["box", box] / link.springs
        up = model.vector(minus(low, over))
        boxes[box] = BoxStand(
            load=float(wheels[box]),
            rise=float(up @ q) - float(up @ (laden.q if laden else q)),
            spring=spring,
            shortened=shortened,
            left=None if shortened is None else link.stop - shortened,
            tilt=degrees((left - right) / model.tread - q[frame.first + ROLL]),
            pitch=degrees(q[frame.first + PITCH]),
        )
    body = model.bodies[0]
    heave = model.vector(place(body, 0.0, 0.0)) @ q
    assert body.first + HEAVE == 0
    return Standing(
        boxes,
        float(heave),
        degrees(q[body.first + ROLL]),
        degrees(q[body.first + PITCH]),
        pushes,
        found.residual,
        q,
    )
