"""This module tries every spring that would do and ranks them: each wire sold, every half turn.

A spring is judged by what share of each limit it uses, and by the room it keeps. Those that use no
more than EASY of every limit are ranked by how little wire they take, the rest after them by their
worst limit. Where none will do, the limits that stood in the way are told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from math import ceil, inf, radians

from barstock.drawing.springs import Spring
from barstock.handbook.spring_grades import WireGrade, wire_grade
from barstock.handbook.spring_wire import SIZES
from barstock.mechanism.springs.compression_spring import Compression, mean_for
from barstock.mechanism.springs.extension_spring import Extension, initial_stress
from barstock.mechanism.springs.spring_candidate import AnyChoice, Choice, Choices
from barstock.mechanism.springs.spring_pockets import Room
from barstock.mechanism.springs.spring_stress_limits import (
    ACTIVE,
    BENDING,
    EXTENSION,
    INDEX,
    SOLID,
    working,
)
from barstock.mechanism.springs.torsion_spring import Torsion

CLEAR = 0.2
"""A swollen coil keeps this clear of its pocket, and a coil of its rod, on the diameter [mm].
Common practice."""

PROUD = 0.5
"""The coil still stands out of its hollows by this at full bump [mm]. Common practice."""

WITHIN, SOLID_WITHIN = "in its hollow", "in its hollow when solid"
OUT, ROUND, WOUND_ROUND = (
    "proud of its hollows at full bump",
    "round its rod",
    "round its rod when fully wound",
)
KEPT = {WITHIN: CLEAR, SOLID_WITHIN: CLEAR, OUT: PROUD, ROUND: CLEAR, WOUND_ROUND: CLEAR}
"""What must be kept of each clearance [mm]."""

EASY = 0.7
"""Nothing is gained by using less than this share of a limit. Common practice."""

STEP = 0.5
"""Turns and free lengths are tried in steps of this [turns, mm]."""


def choices(wanted: Spring, room: Room, load: float) -> Choices:
    """Find all springs that would do for what is wanted, ranked. load: at rest [N].

    Raises UnknownWireError (handbook.spring_grades).
    """
    grade = wire_grade(wanted.grade)
    sizes = [wire for wire in SIZES if grade.least <= wire <= grade.most]
    tried = [one for wire in sizes for one in _ways(wanted, room, load, wire, grade)]
    good = sorted((one for one in tried if one.will_do), key=_rank)
    hindrance = Counter(name for one in tried for name in one.hindrances)
    nearest = min(tried, key=lambda one: one.short, default=None)
    return Choices(tuple(good), dict(hindrance.most_common()), nearest)


def _rank(one: AnyChoice) -> tuple[float, float]:
    wire = one.spring.turns * one.spring.mean * one.spring.wire**2
    return max(EASY, one.use), wire


def judged(
    wanted: Spring, room: Room, load: float, made: Compression, grade: WireGrade
) -> Choice[Compression]:
    """Judge a compression spring against all its limits. load: at rest [N]."""
    strength = grade.strength(made.wire)
    rest = made.free - load / made.rate
    bump = rest - wanted.travel
    high = (made.free - bump) * made.rate
    held = room.diameter < inf or wanted.rod  # what is round it or inside it holds it upright
    uses = {
        "stress when solid": made.stress(made.solid_load) / (SOLID * strength),
        "stress at full bump": made.corrected(high) / (working(grade) * strength),
        **({} if held else {"buckling": (made.free - bump) / made.buckles_at()}),
        **_wound(made.index, made.active),
    }
    clears = {"between its coils at full bump": bump - made.least}
    if room.diameter < inf:
        clears[SOLID_WITHIN] = room.diameter - CLEAR - made.swollen
    if room.depth:
        clears[OUT] = bump - room.depth - PROUD
    if wanted.rod:
        clears[ROUND] = made.inside - wanted.rod - CLEAR
    return Choice(made, wanted.grade, strength, load, high, uses, clears)


def rate_wanted(wanted: Spring, load: float) -> float:
    """Return the rate asked for [N/mm]."""
    return wanted.rate or load / wanted.deflection


def _ways(
    wanted: Spring, room: Room, load: float, wire: float, grade: WireGrade
) -> Iterator[AnyChoice]:
    if wanted.kind == "torsion":
        yield from _torsion(wanted, room, wire, grade)
    elif wanted.kind == "extension":
        yield from _extension(wanted, room, load, wire, grade)
    else:
        yield from _compression(wanted, room, load, wire, grade)


def _halves(least: float, most: float) -> Iterator[float]:
    for half in range(ceil(least / STEP), int(most / STEP) + 1):
        yield half * STEP


def _compression(
    wanted: Spring, room: Room, load: float, wire: float, grade: WireGrade
) -> Iterator[Choice[Compression]]:
    rate = rate_wanted(wanted, load)
    for active in _halves(*ACTIVE):
        mean = mean_for(rate, wire, active, grade.shear)
        if not INDEX[0] <= mean / wire <= INDEX[1]:
            continue
        bare = Compression(
            wire, mean, active, 0.0, wanted.ends, grade.shear, grade.young, grade.density
        )
        least = max(bare.least, room.depth + PROUD) + wanted.travel
        rest = wanted.at_length or ceil((least + load / rate) / STEP - 1e-9) * STEP - load / rate
        made = replace(bare, free=rest + load / rate)
        yield judged(wanted, room, load, made, grade)


def _extension(
    wanted: Spring, room: Room, load: float, wire: float, grade: WireGrade
) -> Iterator[Choice[Extension]]:
    """Try extension springs.

    The load at rest is the initial tension and what the deflection adds.
    """
    strength = grade.strength(wire)
    for turns in _halves(ACTIVE[0], 4 * ACTIVE[1]):

        def bare(mean: float, turns: float = turns) -> Extension:
            made = Extension(wire, mean, turns, 0.0, shear=grade.shear, young=grade.young)
            return replace(made, initial=initial_stress(made.index) / made.stress(1.0))

        if wanted.rate:
            active = turns + grade.shear / grade.young
            made = bare(mean_for(wanted.rate, wire, active, grade.shear))
        else:  # both fall as the coil grows
            found = _where(partial(_opened, bare, wanted.deflection), load,
                           INDEX[0] * wire, INDEX[1] * wire)  # fmt: skip
            if found is None:
                continue
            made = bare(found)
        if not INDEX[0] <= made.index <= INDEX[1]:
            continue
        high = load + wanted.travel * made.rate
        uses = {
            "stress at its longest": made.stress(high) / (EXTENSION * strength),
            "bending of the loops": made.loop_bending(high) / (BENDING * strength),
            "shear in the loops": made.loop_shear(high) / (EXTENSION * strength),
            "initial tension": made.initial / load,
            **_wound(made.index, None),
        }
        clears = {}
        if wanted.at_length:  # longer loops make up a shorter body
            clears["length at its load"] = wanted.at_length - made.length_at(load)
        if room.diameter < inf:
            clears[WITHIN] = room.diameter - CLEAR - made.outside
        yield Choice(made, wanted.grade, strength, load, high, uses, clears)


def _torsion(
    wanted: Spring, room: Room, wire: float, grade: WireGrade
) -> Iterator[Choice[Torsion]]:
    strength = grade.strength(wire)
    rate = wanted.moment / radians(wanted.angle)
    high = wanted.moment * (1 + wanted.travel / wanted.angle)
    for turns in _halves(ACTIVE[0], 2 * ACTIVE[1]):
        mean = grade.young * wire**4 / (64 * rate * turns)
        if not INDEX[0] <= mean / wire <= INDEX[1]:
            continue
        made = Torsion(wire, mean, turns, grade.young)
        uses = {
            "bending when fully wound": made.corrected(high) / (BENDING * strength),
            **_wound(made.index, None),
        }
        clears = {WOUND_ROUND: made.inside(high) - wanted.rod - CLEAR}
        if room.diameter < inf:
            clears[WITHIN] = room.diameter - CLEAR - made.outside
        yield Choice(made, wanted.grade, strength, wanted.moment, high, uses, clears)


def _opened(coil: Callable[[float], Extension], by: float, mean: float) -> float:
    """Return the load of a coil of a mean diameter, opened by so much [N]."""
    made = coil(mean)
    return made.initial + made.rate * by


def _where(
    falling: Callable[[float], float], wanted: float, low: float, high: float
) -> float | None:
    """Find where a falling function has a value, between low and high.

    The answer is None where it has not.
    """
    if not falling(high) <= wanted <= falling(low):
        return None
    from scipy.optimize import brentq

    return float(brentq(lambda at: falling(at) - wanted, low, high))


def _wound(index: float, active: float | None) -> dict[str, float]:
    """Return how near a coil is to what can be wound."""
    uses = {"winding": max(INDEX[0] / index, index / INDEX[1])}
    if active is not None:
        uses["turns"] = max(ACTIVE[0] / active, active / ACTIVE[1])
    return uses
