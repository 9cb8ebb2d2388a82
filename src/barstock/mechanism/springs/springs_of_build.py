"""This module finds the springs that a build ends up with.

They are those it names by size, and the best choice for the others. Where no load is given, a
spring carries what the vehicle, laden and on level track, lays on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from barstock.drawing.build import Build
from barstock.drawing.springs import Spring
from barstock.drawing.vehicle import Vehicle
from barstock.handbook.spring_grades import wire_grade
from barstock.handbook.spring_wire import wire
from barstock.mechanism.springs.compression_spring import END_TURNS, Compression
from barstock.mechanism.springs.spring_candidate import AnyChoice, Choices
from barstock.mechanism.springs.spring_pockets import Room, room
from barstock.mechanism.springs.spring_selection import choices, judged, rate_wanted
from barstock.mechanism.vehicle.vehicle_at_rest import Standing, level, stand
from barstock.mechanism.vehicle.vehicle_model import Model, Stiffness, build_model
from barstock.reading.amounts import G

SETTLED = 1e-9
"""Loads and rates agree where a load changes by less than this share."""

ROUNDS = 500
"""Loads and rates have so many rounds to agree."""


class DeflectionsError(ValueError):
    """This is raised where springs cannot all give at rest by what is wanted of each."""


@dataclass(frozen=True)
class Fitted:
    """A Fitted is a spring of the build.

    load: at rest [N]; count: how many there are, 0 where no vehicle says. taken: the one it ends up
    with, None where none will do.
    """

    wanted: Spring
    room: Room
    load: float
    count: int
    choices: Choices
    taken: AnyChoice | None

    @property
    def stiffness(self) -> Stiffness:
        """Return how it pushes; as wanted where none will do."""
        made = self.taken.spring if self.taken else None
        if isinstance(made, Compression):
            return Stiffness(made.rate, made.free - made.solid)
        return Stiffness(rate_wanted(self.wanted, self.load))


def fitted(build: Build) -> dict[str, Fitted]:
    """Find all springs of a build by name.

    Raises NoHollowError, UnknownWireError, TopplesError and DeflectionsError.
    """
    mechanism = build.mechanism
    if mechanism is None:
        return {}
    loads = _loads(build)
    found = {}
    for spring in mechanism.springs:
        load = loads.get(spring.name, spring.load)
        within = room(spring.hollows, build)
        count = _count(mechanism.vehicle, spring.name) if mechanism.vehicle else 0
        found[spring.name] = fit(spring, within, load, count)
    return found


def fit(wanted: Spring, within: Room, load: float, count: int = 0) -> Fitted:
    """Find one spring: as wound, or the best that would do. Raises UnknownWireError."""
    if wanted.wound is not None:
        one = judged(wanted, within, load, as_wound(wanted), wire_grade(wanted.grade))
        return Fitted(wanted, within, load, count, Choices((one,), {}, one), one)
    found = choices(wanted, within, load)
    return Fitted(wanted, within, load, count, found, found.found[0] if found.found else None)


def as_wound(spring: Spring) -> Compression:
    """Return the compression spring whose sizes are given. Raises UnknownWireError."""
    assert spring.wound is not None
    thick = wire(spring.wound.wire)
    active = spring.wound.turns - END_TURNS[spring.ends]
    mean = spring.wound.outside - thick
    of = wire_grade(spring.grade)
    return Compression(
        thick, mean, active, spring.wound.free_length, spring.ends, of.shear, of.young, of.density
    )


def _count(vehicle: Vehicle, name: str) -> int:
    boxes = sum(2 * axle.springs for axle in vehicle.axles if axle.spring == name)
    levers = sum(e.springs for e in vehicle.equalisers if e.spring == name)
    bearers = (bogie.bearers for bogie in vehicle.bogies)
    return boxes + levers + sum(2 * b.springs for b in bearers if b and b.spring == name)


def _loads(build: Build) -> dict[str, float]:
    """Return what the vehicle lays on each of its springs [N]: the mean over their places.

    Loads depend on rates, and rates on the loads where a deflection is wanted; they are settled in
    turn. Raises DeflectionsError where they do not settle.
    """
    assert build.mechanism is not None
    vehicle, track = build.mechanism.vehicle, build.mechanism.track
    if vehicle is None or track is None:
        return {}
    on_it = [s for s in build.mechanism.springs if _count(vehicle, s.name)]
    mass = sum(m.mass for m in (*vehicle.masses, *vehicle.load))
    loads = {s.name: s.load or G * mass / _count(vehicle, s.name) for s in on_it}
    if all(s.load for s in on_it):
        return loads
    for _ in range(ROUNDS):
        stiff = {s.name: Stiffness(_rate(s, loads[s.name])) for s in on_it}
        model = build_model(vehicle, track, stiff, laden=True)
        carried = _carried(model, stand(model, level(model)))
        new = {s.name: s.load or carried[s.name] for s in on_it}
        changed = [name for name in new if abs(new[name] / loads[name] - 1) >= SETTLED]
        loads = new
        if not changed:
            return loads
        if min(loads.values()) < SETTLED * max(loads.values()):
            break
    raise DeflectionsError(
        f"no loads go with the rest deflections wanted of {', '.join(changed)}: the vehicle cannot "
        "sink on all of them by what is wanted of each; give one of them its load, or make it by "
        "its own sizes"
    )


def _rate(spring: Spring, load: float) -> float:
    return as_wound(spring).rate if spring.wound else rate_wanted(spring, load)


def _carried(model: Model, standing: Standing) -> Mapping[str, float]:
    """Return the mean load of the springs of each name [N]."""
    found: dict[str, list[float]] = {}
    for link in model.links:
        if link.spring:
            force = standing.links[link.kind, link.name] / link.springs
            found.setdefault(link.spring, []).append(force)
    return {name: sum(forces) / len(forces) for name, forces in found.items()}
