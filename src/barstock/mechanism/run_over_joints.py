"""This module runs a vehicle over a bumpy track in time: what its wheels carry, which nearly lift.

Steps of backward Euler with contacts: in every step the least of an energy under the contacts, so
that no wheel pulls on its rail and none sinks into it, springs lift off, run solid, boxes meet
their stops; a wheel that lands does not bounce. A step is so short that what it damps by itself
stays below STEP_DAMPS. Sideways swaying, creep and flanges are not reckoned.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import pi

from barstock.drawing.track_measured import Track
from barstock.mechanism.track_cases import joints
from barstock.mechanism.vehicle.contact_forces import Array, Contacts
from barstock.mechanism.vehicle.vehicle_at_rest import Standing
from barstock.mechanism.vehicle.vehicle_lean import leaning
from barstock.mechanism.vehicle.vehicle_model import Model
from barstock.mechanism.vehicle.vehicle_sway import Sway

STEP_DAMPS = 0.01
"""A step may add this much damping, as a share of critical."""

LIFTED = 1e-9
"""A wheel is off its rail that carries less than this share of its load at rest."""

PASSED = 3
"""Number of joints run over."""

KEPT = 400
"""Number of moments kept of a run's history."""

Height = Callable[[float, int], float]
"""Height of the rail [mm] so far along the track [mm], on a side: 1 left, -1 right."""


@dataclass(frozen=True)
class Run:
    """A Run is a vehicle run over its track in time.

    speed [m/s]; step [s]; times [s] and loads [N] of each wheel, KEPT of them. least: the least
    load of each wheel over that at rest; wheel: the one that lost most, at a time.
    """

    speed: float
    step: float
    times: tuple[float, ...]
    loads: dict[str, tuple[float, ...]]
    least: dict[str, float]
    wheel: str
    at: float

    @property
    def unloading(self) -> float:
        """Return what the worst wheel loses of its load."""
        return 1 - self.least[self.wheel]

    @property
    def lifts(self) -> bool:
        """Tell whether the worst wheel leaves its rail."""
        return self.least[self.wheel] <= LIFTED


def run(model: Model, track: Track, standing: Standing, laden: Standing, swaying: Sway) -> Run:
    """Run a vehicle over the track's joints at its highest speed, from level track.

    standing: the vehicle at rest; laden: from where bump and rebound count.
    """
    assert track.joints is not None
    ways = [axle.along for axle in model.vehicle.axles]
    far = PASSED * track.joints.spacing + track.joints.length + max(ways) - min(ways)

    def height(along: float, side: int) -> float:
        return joints(track, along, side) if along > 0 else 0.0

    return over(model, height, track.speed, far, standing, laden, swaying)


def over(
    model: Model,
    height: Height,
    speed: float,
    far: float,
    standing: Standing,
    laden: Standing,
    swaying: Sway,
) -> Run:
    """Run a vehicle so far [mm] over rails of a height, its leading axle at 0 to begin with."""
    import numpy as np

    fastest = 2 * pi * max(mode.frequency for mode in swaying.modes)
    bounce = 2 * pi * min(mode.frequency for mode in swaying.modes)
    step = 2 * STEP_DAMPS / fastest
    count = max(10, round(far / 1000 / speed / step))
    frame = _Frame.of(model, laden, 2 * model.vehicle.damping / bounce)
    front = max(axle.along for axle in model.vehicle.axles)
    q, v = standing.q.copy(), np.zeros(model.count)
    closed = None
    links = [standing.links[link.kind, link.name] for link in model.links]
    forces: Array = np.append(links, list(standing.loads.values()))
    contacts, leans = Contacts(frame.rows * step), leaning(model)
    history = np.zeros((count, len(model.wheels)))
    for n in range(count):
        way = speed * 1000 * step * (n + 1)
        rails = [
            height(way + axle.along - front, side)
            for axle in model.vehicle.axles
            for side in (1, -1)
        ]
        limits = frame.limits.copy()
        limits[frame.wheels] = -np.array(rails)
        pushing = frame.rates * (frame.springs @ q > 0)
        k = frame.springs.T @ (pushing[:, None] * frame.springs)
        p = frame.mass / step + (frame.relax + step) * k
        f = frame.mass @ v / step + frame.weights + leans.push(q, forces) - k @ q
        found = contacts.rest(p, f, limits - frame.rows @ q, closed)
        v = found.x
        q = q + step * v
        closed = found.closed
        contact = found.forces * step
        forces = frame.all_forces(contact, pushing * (frame.springs @ q))
        history[n] = contact[frame.wheels]
    return _as_run(model, speed, step, history, standing)


@dataclass(frozen=True)
class _Frame:
    """A Frame is what does not change from step to step.

    rows . q <= limits: hard links, wheels, stops.
    """

    model: Model
    mass: Array
    weights: Array
    springs: Array
    rates: Array
    rows: Array
    limits: Array
    wheels: slice
    relax: float

    @staticmethod
    def of(model: Model, laden: Standing, relax: float) -> _Frame:
        """Make the frame of a model. relax: damping of the springs over their rate [s]."""
        import numpy as np

        springs = [link for link in model.links if link.rate is not None]
        hard = [link for link in model.links if link.rate is None]
        rows = [model.vector(link.row) for link in hard]
        limits = [link.stop for link in hard]
        wheels = slice(len(rows), len(rows) + len(model.wheels))
        for n in model.wheels.values():
            rows.append(model.vector({n: -1.0}))
            limits.append(0.0)
        for link in springs:
            if np.isfinite(link.stop):
                rows.append(model.vector(link.row))
                limits.append(link.stop)
        for row, limit in model.stops(laden.q):
            rows.append(row)
            limits.append(limit)
        return _Frame(
            model,
            model.mass_matrix() / 1000,  # kg to N s2/mm
            model.weights(),
            np.array([model.vector(link.row) for link in springs]).reshape(-1, model.count),
            np.array([link.rate for link in springs], dtype=float),
            np.array(rows),
            np.array(limits),
            wheels,
            relax,
        )

    def all_forces(self, contact: Array, pushes: Array) -> Array:
        """Return the forces of all links, then of the wheels, in the order that Leaning wants."""
        import numpy as np

        hard, soft = iter(contact), iter(pushes)
        links = [next(hard if link.rate is None else soft) for link in self.model.links]
        return np.append(links, contact[self.wheels])


def _as_run(model: Model, speed: float, step: float, history: Array, standing: Standing) -> Run:
    import numpy as np

    settled = history[1:]  # the first step has no speed before it
    names = list(model.wheels)
    rest_loads = np.array([standing.loads[name] for name in names])
    least = settled.min(axis=0) / rest_loads
    worst = int(least.argmin())
    kept = np.unique(np.linspace(0, len(settled) - 1, KEPT).astype(int))
    return Run(
        speed,
        step,
        tuple(float((n + 2) * step) for n in kept),
        {name: tuple(float(x) for x in settled[kept, i]) for i, name in enumerate(names)},
        {name: float(share) for name, share in zip(names, least, strict=True)},
        names[worst],
        float((int(settled[:, worst].argmin()) + 2) * step),
    )
