"""This module rides a build's vehicle over its track.

It finds how the vehicle stands, and what each place of the track does to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from barstock.drawing.build import Build
from barstock.drawing.track_measured import Track
from barstock.drawing.vehicle import Vehicle
from barstock.mechanism.run_over_joints import Run, run
from barstock.mechanism.springs.springs_of_build import Fitted, fitted
from barstock.mechanism.track_cases import UNLOADING, Case, cases
from barstock.mechanism.vehicle.vehicle_at_rest import Standing, level, stand
from barstock.mechanism.vehicle.vehicle_model import Stiffness, build_model
from barstock.mechanism.vehicle.vehicle_sway import Sway, sway
from barstock.store.kept_values import figure

STATES = ("empty", "laden")


MOTIONS = ("tilt", "pitch")
"""A box moves against its guide by these: seen from ahead, and from the side."""

Allowed = Mapping[str, Mapping[str, float]]
"""How far a box can go before it touches [°], by its guide's name and by motion."""


@dataclass(frozen=True)
class Passing:
    """A Passing is a vehicle at one place of the track.

    state: "empty" or "laden". unloading: what each wheel loses of its load on level track, as a
    share.
    """

    case: str
    state: str
    standing: Standing
    unloading: dict[str, float]

    @property
    def wheel(self) -> str:
        """Return the wheel that loses most."""
        return max(self.unloading, key=lambda name: self.unloading[name])

    @property
    def worst(self) -> float:
        """Return the share that this wheel loses."""
        return self.unloading[self.wheel]


@dataclass(frozen=True)
class State:
    """A State is the vehicle empty or laden, on level track.

    centre: height of what the springs carry [mm].
    """

    name: str
    standing: Standing
    swaying: Sway
    carried: float
    centre: float
    run: Run | None = None


@dataclass(frozen=True)
class Asked:
    """An Asked is the most that the track asks of a box by one motion, and where [°].

    allowed: how far it can go before it touches (see `guided`), None where nothing says so.
    """

    box: str
    guide: str
    motion: str
    asked: float
    at: str
    allowed: float | None = None

    @property
    def enough(self) -> bool:
        """Tell whether the box can go so far, as far as is known."""
        return self.allowed is None or self.asked <= self.allowed


@dataclass(frozen=True)
class Ride:
    """A Ride is what was found of a vehicle on its track.

    passings: the worst of each sort of place, empty and laden. sinks: how far the body goes down
    from empty to laden [mm]. unsprung: mass that no spring carries [kg]; its centre is as high as
    the axles. left: the least travel left before a spring runs solid or a box meets the frame [mm],
    with box and place; None where nothing stops it.
    """

    springs: dict[str, Fitted]
    states: dict[str, State]
    passings: tuple[Passing, ...]
    asked: tuple[Asked, ...]
    sinks: float
    unsprung: float
    left: tuple[float, str, str] | None

    @property
    def worst(self) -> Passing:
        """Return the place where a wheel loses most."""
        return max(self.passings, key=lambda one: one.worst)

    @property
    def holds(self) -> bool:
        """Tell whether the ride is good.

        Every wheel keeps enough of its load, no box touches and nothing runs solid.
        """
        runs = [state.run for state in self.states.values() if state.run]
        return (
            self.worst.worst <= UNLOADING
            and not any(one.lifts for one in runs)
            and all(one.enough for one in self.asked)
            and (self.left is None or self.left[0] > 1e-6)
            and all(one.taken and one.taken.will_do for one in self.springs.values() if one.count)
        )


class NothingToRideError(ValueError):
    """This is raised where the build has no vehicle."""


def ride(build: Build) -> Ride:
    """Ride a build's vehicle on its track.

    Raises NothingToRideError, TopplesError (vehicle.vehicle_at_rest), NoHollowError,
    UnknownWireError and DeflectionsError.
    """
    mechanism = build.mechanism
    if mechanism is None or mechanism.vehicle is None or mechanism.track is None:
        raise NothingToRideError("the build has no vehicle and track under 'mechanism'")
    springs = fitted(build)
    stiff = {name: one.stiffness for name, one in springs.items() if one.count}
    return ridden(mechanism.vehicle, mechanism.track, stiff, springs)


def ridden(
    vehicle: Vehicle,
    track: Track,
    stiff: Mapping[str, Stiffness],
    springs: dict[str, Fitted] | None = None,
) -> Ride:
    """Ride a vehicle whose springs' stiffness is known. Raises TopplesError."""
    models = {state: build_model(vehicle, track, stiff, laden=state == "laden") for state in STATES}
    laden = stand(models["laden"], level(models["laden"]))
    states, found = {}, []
    for name, model in models.items():
        at_rest = stand(model, level(model), laden=laden)
        swaying = sway(model, at_rest)
        body = model.bodies[0]
        state = State(name, at_rest, swaying, body.mass, body.height + at_rest.heave - laden.heave)
        if track.joints and track.speed:
            work = partial(run, model, track, at_rest, laden, swaying)
            state = replace(state, run=figure(Run, work, "run", name, vehicle, track, stiff))
        states[name] = state
        for case in cases(vehicle, track):
            passed = stand(model, case.rails, lean=case.lean, laden=laden)
            found.append(_passing(case, name, passed, at_rest))
    return Ride(
        springs or {},
        states,
        _worst_of_each(found),
        tuple(_most_asked(vehicle, found)),
        states["empty"].standing.heave - laden.heave,
        sum(axle.mass for axle in vehicle.axles),
        _least_left(vehicle, found),
    )


def guided(found: Ride, allowed: Allowed) -> Ride:
    """Return the ride with its boxes told how far they can go in their guides."""
    asked = (replace(a, allowed=allowed.get(a.guide, {}).get(a.motion)) for a in found.asked)
    return replace(found, asked=tuple(asked))


def _passing(case: Case, state: str, passed: Standing, at_rest: Standing) -> Passing:
    before = at_rest.loads
    lost = {wheel: 1 - load / before[wheel] for wheel, load in passed.loads.items()}
    return Passing(case.name, state, passed, lost)


def _worst_of_each(found: list[Passing]) -> tuple[Passing, ...]:
    worst: dict[tuple[str, str], Passing] = {}
    for one in found:
        key = (one.case, one.state)
        if key not in worst or one.worst > worst[key].worst:
            worst[key] = one
    return tuple(worst.values())


def _most_asked(vehicle: Vehicle, found: list[Passing]) -> Iterator[Asked]:
    """Give the most that is asked of every box by every motion."""
    for axle in vehicle.axles:
        for box in axle.boxes:
            for motion in MOTIONS:
                most = max(found, key=lambda one: _moved(one, box, motion))
                where = f"{most.case}, {most.state}"
                yield Asked(box, axle.guide, motion, _moved(most, box, motion), where)


def _moved(passing: Passing, box: str, motion: str) -> float:
    stands = passing.standing.boxes[box]
    return abs(stands.tilt if motion == "tilt" else stands.pitch)


def _least_left(vehicle: Vehicle, found: list[Passing]) -> tuple[float, str, str] | None:
    lefts = []
    for one in found:
        for name, box in one.standing.boxes.items():
            rooms = [box.left] if box.left is not None and box.left < float("inf") else []
            if vehicle.bump is not None:
                rooms.append(vehicle.bump - box.rise)
            lefts += [(room, name, f"{one.case}, {one.state}") for room in rooms]
    return min(lefts, default=None)
