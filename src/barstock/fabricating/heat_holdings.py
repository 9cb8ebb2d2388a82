"""The ways in which a fabrication may be held in a heat, and lie meanwhile."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face, Part
from barstock.drawing.part import Joined
from barstock.fabricating.joints import FACE_UP, Holding, corner_up
from barstock.fabricating.locating import laid
from barstock.handbook.materials import material
from barstock.methods.drawn_solid import drawn_solid
from barstock.methods.spigot import spigot_of
from barstock.route import HeatHolding
from barstock.store.kept_values import figure

BROAD = (Face.FRONT, Face.BACK, Face.TOP, Face.BOTTOM, Face.LEFT, Face.RIGHT)
"""The broad sides first: of attitudes that do as well, the first is taken."""


def heat_holdings(part: Part, joined: Joined) -> Iterator[Holding]:
    """The holdings there are: on the fixture, upright in one another's holes, or standing free."""
    ways = tuple(FACE_UP[face] for face in BROAD)
    ways += tuple(corner_up(a, b) for a in Face for b in Face if a.axis < b.axis)
    fixture = joined.fixture
    if fixture is not None and fixture.part is not None:
        held = frozenset(hole.piece for s in joined.screws if s.fixes for hole in s.holes)
        block = (fixture.material, mass_of(fixture.part))
        on_its_pins = laid(part, fixture) - held
        if on_its_pins:
            level = FACE_UP[fixture.under.opposite]
            yield Holding(HeatHolding.AGAINST_PINS, held | on_its_pins, (level,), *block)
        any_way = tuple(way for way in ways if way != FACE_UP[fixture.under])
        yield Holding(HeatHolding.ON_FIXTURE, held, any_way, *block)
    yield from _standing(joined)
    yield Holding(HeatHolding.FREE, frozenset(), ways)


def _standing(joined: Joined) -> Iterator[Holding]:
    """Round pieces upright in the holes of others, which lie level on the hearth."""
    found = [one for joint in joined.joints if (one := spigot_of(joint, joined))]
    for mouth in dict.fromkeys(one.mouth for one in found):
        stand = {name for one in found if one.mouth is mouth for name in (one.inner, one.outer)}
        yield Holding(HeatHolding.UPRIGHT, frozenset(stand), (FACE_UP[mouth],))


def mass_of(part: Part) -> float:
    """The mass of a part as drawn [g]."""
    volume: float = figure(float, lambda: drawn_solid(part).volume, part)
    return volume / 1000 * material(part.material).density
