"""Every spring that would do: each wire commonly sold, every half turn, ranked.

A spring is judged by what share of each limit it uses, and by the room it keeps. Those that use no
more than EASY of every limit are ranked by how little wire they take, the rest after them by their
worst limit. Where none will do, the limits that stood in the way are told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, inf, radians
from typing import Generic, TypeVar

from barstock.drawing.springs import Spring
from barstock.handbook.spring_wire import MODULUS, SIZES, tensile_strength
from barstock.handbook.unknown import UnknownError
from barstock.moving.springs.compression import Compression, mean_for
from barstock.moving.springs.extension import Extension, initial_stress
from barstock.moving.springs.hollows import Room
from barstock.moving.springs.limits import ACTIVE, BENDING, EXTENSION, INDEX, SOLID, WORKING
from barstock.moving.springs.torsion import Torsion

CLEAR = 0.2
"""Between a swollen coil and its pocket, or a coil and its rod, on the diameter [mm].
Common practice."""

PROUD = 0.5
"""By which the coil still stands out of its hollows at full bump [mm]. Common practice."""

EASY = 0.7
"""Share of a limit below which nothing is gained by using less of it. Common practice."""

STEP = 0.5
"""Turns and free lengths are tried by [turns, mm]."""

Made = TypeVar("Made", Compression, Extension, Torsion)


@dataclass(frozen=True)
class Choice(Generic[Made]):
    """A spring that may do. load: at rest [N, N mm]; bump: at full travel [N, N mm].

    uses: each limit by name, and what share of it is used; 1 is all. clears: each clearance by
    name [mm]; below 0 there is no room.
    """

    spring: Made
    grade: str
    strength: float
    load: float
    bump: float
    uses: dict[str, float]
    clears: dict[str, float]

    @property
    def worst(self) -> str:
        """The limit it comes nearest to."""
        return max(self.uses, key=lambda name: self.uses[name])

    @property
    def use(self) -> float:
        """The share of that limit that it uses."""
        return self.uses[self.worst]

    @property
    def short(self) -> float:
        """What is missing, in shares of limits and in wires of room; 0 where it will do."""
        short = sum(max(0.0, -room) for room in self.clears.values()) / self.spring.wire
        return short + max(0.0, self.use - 1)

    @property
    def will_do(self) -> bool:
        """Does it keep within all?"""
        return self.short <= 1e-9

    @property
    def hindrances(self) -> list[str]:
        """The limits and clearances that it does not keep."""
        over = [name for name, use in self.uses.items() if use > 1]
        return over + [name for name, room in self.clears.items() if room < 0]


AnyChoice = Choice[Compression] | Choice[Extension] | Choice[Torsion]


@dataclass(frozen=True)
class Choices:
    """What there is to choose from. found: the best first; hindrance: limit -> how often it
    alone or with others stood in the way; nearest: what came nearest where none will do."""

    found: tuple[AnyChoice, ...]
    hindrance: dict[str, int]
    nearest: AnyChoice | None


def choices(wanted: Spring, room: Room, load: float) -> Choices:
    """All that would do for what is wanted, ranked. load: at rest [N]."""
    tried: list[AnyChoice] = []
    for wire in SIZES:
        try:
            strength = tensile_strength(wire, wanted.grade)
        except UnknownError:
            continue
        tried += _ways(wanted, room, load, wire, strength)
    good = sorted((one for one in tried if one.will_do), key=_rank)
    hindrance = Counter(name for one in tried for name in one.hindrances)
    nearest = min(tried, key=lambda one: one.short, default=None)
    return Choices(tuple(good), dict(hindrance.most_common()), nearest)


def _rank(one: AnyChoice) -> tuple[float, float]:
    wire = one.spring.turns * one.spring.mean * one.spring.wire**2
    return max(EASY, one.use), wire


def judged(
    wanted: Spring, room: Room, load: float, made: Compression, strength: float
) -> Choice[Compression]:
    """A compression spring against all its limits. load: at rest [N]."""
    rest = made.free - load / made.rate
    bump = rest - wanted.travel
    high = (made.free - bump) * made.rate
    held = room.diameter < inf or wanted.rod  # what is round it or inside it holds it upright
    uses = {
        "stress when solid": made.stress(made.solid_load) / (SOLID * strength),
        "stress at full bump": made.corrected(high) / (WORKING * strength),
        **({} if held else {"buckling": (made.free - bump) / made.buckles_at()}),
        **_wound(made.index, made.active),
    }
    clears = {"between its coils at full bump": bump - made.least}
    if room.diameter < inf:
        clears["in its hollow when solid"] = room.diameter - CLEAR - made.swollen
    if room.depth:
        clears["proud of its hollows at full bump"] = bump - room.depth - PROUD
    if wanted.rod:
        clears["round its rod"] = made.inside - wanted.rod - CLEAR
    return Choice(made, wanted.grade, strength, load, high, uses, clears)


def rate_wanted(wanted: Spring, load: float) -> float:
    """The rate asked for [N/mm]."""
    return wanted.rate or load / wanted.deflection


def _ways(
    wanted: Spring, room: Room, load: float, wire: float, strength: float
) -> Iterator[AnyChoice]:
    if wanted.kind == "torsion":
        yield from _torsion(wanted, room, wire, strength)
    elif wanted.kind == "extension":
        yield from _extension(wanted, room, load, wire, strength)
    else:
        yield from _compression(wanted, room, load, wire, strength)


def _halves(least: float, most: float) -> Iterator[float]:
    for half in range(ceil(least / STEP), int(most / STEP) + 1):
        yield half * STEP


def _compression(
    wanted: Spring, room: Room, load: float, wire: float, strength: float
) -> Iterator[Choice[Compression]]:
    rate = rate_wanted(wanted, load)
    for active in _halves(*ACTIVE):
        mean = mean_for(rate, wire, active)
        if not INDEX[0] <= mean / wire <= INDEX[1]:
            continue
        bare = Compression(wire, mean, active, 0.0, wanted.ends)
        least = max(bare.least, room.depth + PROUD) + wanted.travel
        rest = wanted.at_length or ceil((least + load / rate) / STEP - 1e-9) * STEP - load / rate
        made = Compression(wire, mean, active, rest + load / rate, wanted.ends)
        yield judged(wanted, room, load, made, strength)


def _extension(
    wanted: Spring, room: Room, load: float, wire: float, strength: float
) -> Iterator[Choice[Extension]]:
    """The rate wanted is that beyond the initial tension."""
    rate = rate_wanted(wanted, load)
    for turns in _halves(ACTIVE[0], 4 * ACTIVE[1]):
        mean = mean_for(rate, wire, turns)
        index = mean / wire
        if not INDEX[0] <= index <= INDEX[1]:
            continue
        bare = Extension(wire, mean, turns, 0.0)
        initial = initial_stress(index) / bare.stress(1.0)
        if wanted.deflection:
            initial = min(initial, load * 0.9)  # the load must open the coils
        made = Extension(wire, mean, turns, initial)
        high = load + wanted.travel * rate
        uses = {
            "stress at its longest": made.stress(high) / (EXTENSION * strength),
            "bending of the loops": made.loop_bending(high) / (BENDING * strength),
            "shear in the loops": made.loop_shear(high) / (EXTENSION * strength),
            "initial tension": initial / load,
            **_wound(index, None),
        }
        clears = {}
        if wanted.at_length:  # longer loops make up a shorter body
            clears["length at its load"] = wanted.at_length - made.length_at(load)
        if room.diameter < inf:
            clears["in its hollow"] = room.diameter - CLEAR - made.outside
        yield Choice(made, wanted.grade, strength, load, high, uses, clears)


def _torsion(wanted: Spring, room: Room, wire: float, strength: float) -> Iterator[Choice[Torsion]]:
    rate = wanted.moment / radians(wanted.angle)
    high = wanted.moment * (1 + wanted.travel / wanted.angle)
    for turns in _halves(ACTIVE[0], 2 * ACTIVE[1]):
        mean = MODULUS * wire**4 / (64 * rate * turns)
        if not INDEX[0] <= mean / wire <= INDEX[1]:
            continue
        made = Torsion(wire, mean, turns)
        uses = {
            "bending when fully wound": made.corrected(high) / (BENDING * strength),
            **_wound(made.index, None),
        }
        clears = {"round its rod when fully wound": made.inside(high) - wanted.rod - CLEAR}
        if room.diameter < inf:
            clears["in its hollow"] = room.diameter - CLEAR - made.outside
        yield Choice(made, wanted.grade, strength, wanted.moment, high, uses, clears)


def _wound(index: float, active: float | None) -> dict[str, float]:
    """How near it is to what can be wound."""
    uses = {"winding": max(INDEX[0] / index, index / INDEX[1])}
    if active is not None:
        uses["turns"] = max(ACTIVE[0] / active, active / ACTIVE[1])
    return uses
