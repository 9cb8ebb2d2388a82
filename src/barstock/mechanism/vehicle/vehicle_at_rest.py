"""This module puts a vehicle on given rails: heights, wheel loads, springs and tilts at rest.

What leans is heavier on the side it leans to. Without leaning there is one lowest place. From there
the vehicle falls to where it rests with leaning; that hangs on the loads which lean, so the two are
found in turn until rounding is all that is left, or for as long as that brings them nearer.

A breath of air blows until it has fallen, always the same way: where a vehicle is balanced like an
egg on its point, rounding does not choose the side. What it rests on then, it rests on in still
air.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees

from barstock.mechanism.vehicle.contact_forces import Array, Contacts, NoRestError, Rest
from barstock.mechanism.vehicle.vehicle_lean import leaning
from barstock.mechanism.vehicle.vehicle_model import HEAVE, PITCH, ROLL, Link, Model, minus, place

BREATH = 1e-6
"""Everything that may move is pushed by this share of the greatest weight. It decides what would
otherwise be balanced, and is far above rounding and far below what can be measured."""

TIPS = (
    "nothing holds the vehicle up: a body tips or rolls over; each must rest on three places that "
    "are not in a line"
)
FALLS = "the vehicle falls over: its springs are too soft for its height"
SWINGS = "the vehicle finds no rest: loads that lean keep moving one another"


class TopplesError(ArithmeticError):
    """This is raised where the vehicle does not stay up."""


@dataclass(frozen=True)
class BoxStand:
    """A BoxStand is a box at rest.

    load: of its wheel [N]; rise: from where it is laden, up positive [mm]. spring: load on each of
    its springs [N]; shortened, left: of each, from free and to solid [mm]; None where it has none.
    tilt: of the axle against the frame, seen from ahead; pitch: of the frame, seen from the side
    [°].
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
    """A Standing is a vehicle at rest.

    heave [mm, up], roll, pitch [°]: of its body at its middle. links: force of each link [N];
    residual: what is left of equilibrium, gaps and pulls [N, mm]; q: the coordinates there, to
    begin another from.
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
        """Return the load of each wheel [N]."""
        return {name: box.load for name, box in self.boxes.items()}


def stand(
    model: Model,
    rails: Mapping[str, float],
    *,
    lean: float = 0.0,
    laden: Standing | None = None,
) -> Standing:
    """Find the vehicle at rest with the rail under each wheel at a height [mm].

    lean: sideways push on every mass, to the right, as a share of its weight (centrifugal force,
    for one). laden: standing laden on level track, from where bump and rebound count; None: no
    stops. Raises TopplesError.
    """
    import numpy as np

    rows, limits, springs = _contacts(model, rails, laden)
    contacts, leans, still = Contacts(rows), leaning(model), np.zeros(len(springs))
    p = np.diag(np.append(np.zeros(model.count), [link.rate or 0.0 for link in springs]))
    weights = np.append(model.weights(), still)
    air = 1 / contacts.unit[: model.count] / np.arange(1, model.count + 1)
    breath = BREATH * float(np.abs(contacts.unit * weights).max()) * np.append(air, still)

    def leant(forces: Array) -> tuple[Array, Array]:
        """Return stiffness and forces with masses and loads that lean."""
        leaned = p.copy()
        leaned[: model.count, : model.count] -= leans.matrix(forces)
        push = leans.push(np.zeros(model.count), forces, lean)
        return leaned, weights + np.append(push, still)

    def fallen(found: Rest, blown: Array) -> Rest:
        """Let it fall with the loads found so far; say what their change leaves of rest."""
        leaned, pushed = leant(found.forces)
        found = contacts.fall(leaned, pushed + blown, limits, found)
        return contacts.under(*leant(found.forces), limits, found)

    try:
        found = contacts.rest(p, weights, limits)
        push = np.append(leans.push(found.x[: model.count], found.forces, lean), still)
        found = contacts.rest(p, weights + push + breath, limits, found.closed)
    except NoRestError as wrong:
        raise TopplesError(TIPS) from wrong
    try:
        found, before = fallen(found, breath), np.inf
        while not found.exact and found.residual < before:  # as long as going on betters it
            before = found.residual
            found = fallen(found, np.zeros(len(breath)))
    except NoRestError as wrong:
        raise TopplesError(FALLS) from wrong
    if found.residual > found.near:
        raise TopplesError(SWINGS)
    return _as_standing(model, found, laden)


def level(model: Model) -> dict[str, float]:
    """Return rails without a fault."""
    return dict.fromkeys(model.wheels, 0.0)


def _contacts(
    model: Model, rails: Mapping[str, float], laden: Standing | None
) -> tuple[Array, Array, list[Link]]:
    """Return rows . x <= limits and the links that are springs.

    The rows are each link's push, then each wheel's rail, then what stops travel.
    """
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


def _as_standing(model: Model, found: Rest, laden: Standing | None) -> Standing:
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
