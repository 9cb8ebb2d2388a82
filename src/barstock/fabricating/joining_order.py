"""The order of work at the hearth: from fitting the pieces up to looking at the fillets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.drawing.build import Part
from barstock.drawing.part import Fixture, Joined
from barstock.fabricating.fixture_seat import beside_block
from barstock.fabricating.heat_details import PlannedHeat
from barstock.fabricating.joining_plan import JoiningPlan
from barstock.fabricating.locating import Stop, laid, stops_in
from barstock.handbook.materials import material
from barstock.methods.scarf import scarf_of
from barstock.methods.spigot import spigot_of
from barstock.route import HearthStep, HearthStepKind


def joining_order(part: Part, joined: Joined, found: JoiningPlan) -> Iterator[HearthStep]:
    """The steps of a fabrication, one after the other."""
    heats = found.heats.heats
    for kind in (HearthStepKind.BRIGHTEN, HearthStepKind.TRY_GAPS, HearthStepKind.PAINT):
        yield HearthStep(kind=kind)
    fixture = joined.fixture
    if fixture and fixture.part and any(heat.holding.material for heat in heats):
        yield from _pins(stops_in(part, fixture), fixture.part)
    yield from _set_up(part, joined, heats[0] if heats else None)
    for n, heat in enumerate(heats):
        if n:
            yield from _between(part, joined, heats[:n], heat)
        yield HearthStep(kind=HearthStepKind.HEAT, heat=heat.number)
    yield HearthStep(kind=HearthStepKind.COOL)
    yield HearthStep(kind=HearthStepKind.CLEAN)
    if any(screw.left_in for screw in joined.screws):
        yield HearthStep(kind=HearthStepKind.SAW_SCREWS)
    yield HearthStep(kind=HearthStepKind.LOOK)


def _set_up(part: Part, joined: Joined, heat: PlannedHeat | None) -> Iterator[HearthStep]:
    """The work screwed together, and on its block where the heat is made there."""
    if joined.fixture and joined.fixture.part and heat and heat.holding.material:
        yield from _onto_the_block(part, joined, joined.fixture, joined.fixture.part)
    yield from _set_by_hand(joined)
    screwed = any(not screw.fixes for screw in joined.screws)
    yield HearthStep(kind=HearthStepKind.SCREW_AND_CHECK if screwed else HearthStepKind.CHECK)


def _between(
    part: Part, joined: Joined, made: Sequence[PlannedHeat], heat: PlannedHeat
) -> Iterator[HearthStep]:
    """What comes between two heats: where the work comes off its holding it is cleaned, else it
    only gets flux anew."""
    left = tuple(name for name in heat.flux if name not in _joints(made))
    if heat.strip_before:
        yield HearthStep(kind=HearthStepKind.COOL)
        if joined.fixture and joined.fixture.part and made[-1].holding.material:
            names = {"block": joined.fixture.part.name}
            yield HearthStep(kind=HearthStepKind.BLOCK_FROM_ACID, names=names)
        acid, water = _cleaned(joined, _joints(made))
        if acid:
            yield HearthStep(kind=HearthStepKind.PICKLE_AGAIN, of=acid)
        if water:
            yield HearthStep(kind=HearthStepKind.SOAK_AGAIN, of=water)
    yield HearthStep(kind=HearthStepKind.FLUX_AGAIN, of=left)
    if heat.strip_before:
        yield from _set_up(part, joined, heat)


def _joints(heats: Sequence[PlannedHeat]) -> frozenset[str]:
    return frozenset(name for heat in heats for name in heat.alloys)


def _cleaned(joined: Joined, made: frozenset[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The pieces that go into the acid between heats, and those that do not, for what they are or
    are soldered to by then."""
    together = {piece.name: {piece.name} for piece in joined.pieces}
    for joint in joined.joints:
        if joint.name in made:
            one = together[joint.pieces[0]] | together[joint.pieces[1]]
            together |= dict.fromkeys(one, one)
    ferrous = {p.name for p in joined.pieces if material(p.part.material).ferrous}
    water = tuple(name for name, those in together.items() if those & ferrous)
    return tuple(name for name in together if name not in water), water


def _onto_the_block(
    part: Part, joined: Joined, fixture: Fixture, block: Part
) -> Iterator[HearthStep]:
    stops = stops_in(part, fixture)
    kind = HearthStepKind.SCREW_AGAINST_PINS if stops else HearthStepKind.SCREW_DOWN
    beside = tuple(beside_block(joined, fixture))
    if beside:
        kind = HearthStepKind.SCREW_BETWEEN
    yield HearthStep(kind=kind, of=beside, names={"block": block.name, "under": fixture.under})
    screwed = {hole.piece for s in joined.screws if s.fixes for hole in s.holes}
    loose = tuple(sorted(laid(part, fixture) - screwed))
    if loose:
        yield HearthStep(kind=HearthStepKind.KEEP_AT_PINS, of=loose)


def _pins(stops: Sequence[Stop], block: Part) -> Iterator[HearthStep]:
    """The pins to cut and put in, those alike together."""
    for size, tall in dict.fromkeys((stop.size, stop.tall) for stop in stops):
        yield HearthStep(
            kind=HearthStepKind.PUT_PINS,
            numbers={"count": sum((stop.size, stop.tall) == (size, tall) for stop in stops)},
            lengths={"size": size, "long": block.size[2] + tall, "tall": tall},
            names={"block": block.name},
        )


def _set_by_hand(joined: Joined) -> Iterator[HearthStep]:
    """Spigots set upright in their holes, and slopes kept from sliding on each other."""
    for joint in joined.joints:
        if (stands := spigot_of(joint, joined)) is not None:
            names = {"inner": stands.inner, "outer": stands.outer, "into": stands.hole}
            yield HearthStep(kind=HearthStepKind.STAND_IN_HOLE, names=names)
        if scarf_of(joint, joined) is not None:
            names = {"joint": joint.name}
            yield HearthStep(kind=HearthStepKind.BLOCK_SLOPES, of=joint.pieces, names=names)
