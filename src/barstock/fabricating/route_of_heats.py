"""The route's record of a fabrication: what is fitted, fluxed, heated and cleaned, in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barstock.drawing.build import Part
from barstock.drawing.vectors import plus
from barstock.fabricating.cautions import FIRST, HEARTH
from barstock.fabricating.fillet_runs import fillet_runs
from barstock.fabricating.fixture_holes import FixtureHole, block_hole
from barstock.fabricating.fixture_seat import seat_on
from barstock.fabricating.gap_chain import gap_from
from barstock.fabricating.heating import Heating, heating
from barstock.fabricating.locating import Stop, laid, located, stops_in
from barstock.fabricating.screws import ScrewLength, to_shorten
from barstock.methods.pieces_meeting import meeting
from barstock.methods.scarf import scarf_of
from barstock.methods.spigot import Spigot, spigot_of
from barstock.quantities import show
from barstock.route import (
    Cleaning,
    Fabrication,
    FixingScrews,
    FixtureBlock,
    FixtureScrewHole,
    FixtureStop,
    Heat,
    JointToMake,
    Ring,
    Setup,
    StandingPiece,
    ToShorten,
)
from barstock.workshop.shop import Workshop

BESIDE = 2.0  # from a fillet to where filler must not run [mm]; common practice


def fabrication_of(part: Part, workshop: Workshop, setups: Sequence[Setup]) -> Fabrication:
    """A fabrication as the route tells it. setups: all of them, numbered, in order."""
    joined = part.joined
    assert joined is not None
    found = heating(part, workshop)
    return Fabrication(
        part=part.name,
        copies=part.copies,
        pieces=tuple(
            StandingPiece(name=p.name, part=p.part.name, rows=p.rows, shift=p.shift)
            for p in joined.pieces
        ),
        after=_after(part, setups),
        fixture=_block(part, found),
        screws=tuple(_screw(part, screw) for screw in found.screws),
        joints=tuple(_joints(part, found)),
        flux=joined.flux,
        marks=tuple(_marks(part)),
        order=tuple(_order(part, found)),
        heats=tuple(_heats(found, joined.made)),
        cleaning=_cleaning(found),
        reasons=("what is made stays as it was made",) if joined.made else found.plan.reasons,
        cautions=(FIRST, *HEARTH),
        minutes=round(found.plan.minutes * part.copies, 1),
        careful=(len(found.careful.heats), round(found.careful.minutes * part.copies, 1)),
    )


def shortened(fabrications: Sequence[Part], workshop: Workshop) -> tuple[ToShorten, ...]:
    """The screws of all fabrications that are to be shortened, those alike on one line."""
    screws = tuple(
        replace(screw, place=replace(screw.place, name=f"{part.name}: {screw.place.name}"))
        for part in fabrications
        for screw in heating(part, workshop).screws
    )
    return to_shorten(screws)


def _after(part: Part, setups: Sequence[Setup]) -> str:
    """The last setup before the first on what is joined."""
    first = next((n for n, s in enumerate(setups) if s.work == part.name), len(setups))
    return setups[first - 1].id if first else ""


def _block(part: Part, found: Heating) -> FixtureBlock | None:
    joined = part.joined
    fixture = joined.fixture if joined else None
    if fixture is None or fixture.part is None:
        return None
    seat, up = seat_on(part, fixture), fixture.under.opposite.normal
    thick = fixture.part.size[2]
    return FixtureBlock(
        part=fixture.part.name,
        under=fixture.under,
        rows=tuple((seat.along[i], seat.across[i], up[i]) for i in range(3)),
        shift=plus(seat.corner, up, -thick),
        material=fixture.material,
        holes=tuple(_hole(hole) for hole in found.holes),
        stops=tuple(_stop(stop) for stop in stops_in(part, fixture)),
        pitch=f"the pitch the block holds {found.pitch.words}" if found.pitch else "",
        locates=tuple(located(part, fixture)),
    )


def _hole(hole: FixtureHole) -> FixtureScrewHole:
    return FixtureScrewHole(
        screw=hole.screw.name,
        left=hole.at[0],
        front=hole.at[1],
        size=hole.form.name if hole.tapped else f"{block_hole(hole):g} mm",
        locates=hole.growth.hold.locates,
        shift=round(max(map(abs, hole.growth.shift)), 3),
    )


def _stop(stop: Stop) -> FixtureStop:
    return FixtureStop(
        piece=stop.piece,
        side=stop.side,
        left=stop.at[0],
        front=stop.at[1],
        size=stop.size,
        tall=stop.tall,
    )


def _screw(part: Part, screw: ScrewLength) -> FixingScrews:
    place, joined = screw.place, part.joined
    drawn = next(s for s in joined.screws if s.name == place.name) if joined else None
    return FixingScrews(
        name=place.name,
        thread=place.thread,
        of=place.of,
        count=place.count,
        stock=screw.stock,
        cut_to=screw.cut_to,
        engaged=round(screw.engaged, 2),
        stays=bool(drawn and drawn.left_in),
        to_buy=screw.to_buy,
    )


def _joints(part: Part, found: Heating) -> Iterator[JointToMake]:
    joined = part.joined
    assert joined is not None
    rods = {one.joint: one for one in found.fillers}
    for joint in joined.joints:
        rod, met = rods.get(joint.name), meeting(joint, joined)
        if rod is not None and met is not None:
            low, high = met.bounds
            middle = plus(low, plus(high, low, -1.0), 0.5)
            yield JointToMake(
                name=joint.name,
                pieces=joint.pieces,
                form=joint.form,
                at=(round(middle[0], 4), round(middle[1], 4), round(middle[2], 4)),
                alloy=rod.alloy,
                gap_least=round(joint.gap.low, 4),
                gap_most=round(joint.gap.high, 4),
                gap_from=gap_from(joined, joint).words,
                fillets=tuple(fillet_runs(joined, joint)),
                ring=_ring(spigot_of(joint, joined)),
                rod=rod.rod,
                rod_length=rod.length,
            )


def _ring(stands: Spigot | None) -> Ring | None:
    if stands is None:
        return None
    return Ring(
        inner=stands.inner,
        outer=stands.outer,
        mouth=stands.entry,
        end=stands.end,
        across=stands.bore,
    )


def _heats(found: Heating, made: Sequence[int]) -> Iterator[Heat]:
    for heat, warm in zip(found.plan.heats, found.warmings, strict=True):
        least, most = warm.minutes
        yield Heat(
            number=heat.number,
            joints=tuple(heat.alloys),
            holding=heat.holding.name,
            on_fixture=bool(heat.holding.material),
            attitude=heat.attitude.name,
            up=heat.attitude.up,
            working=heat.working,
            held=heat.held,
            fluxed=heat.flux,
            flame=heat.flame,
            feeds=heat.feeds,
            melts=heat.melts,
            remelts=heat.remelts,
            strip_before=heat.strip_before,
            minutes=(round(least, 1), round(min(most, 999.0), 1)),
            done=made[heat.number - 1] if heat.number <= len(made) else 0,
            torch=f"{warm.power / 1000:.1f} kW: {warm.can}",
        )


def _cleaning(found: Heating) -> Cleaning:
    plan = found.pickle
    dips = [
        f"{', '.join(f'{count} × {name}' for name, count in dip.things)}"
        + (" in the basket" if dip.basket else "")
        + f": {dip.bath}, {dip.temperature:g} °C, {dip.minutes[0]:g} to {dip.minutes[1]:g} minutes"
        for dip in plan.dips
    ]
    return Cleaning(
        dips=tuple(dips),
        steps=plan.steps,
        by_hand=tuple(f"{name}: {how}" for name, how in plan.otherwise),
        cautions=plan.cautions,
    )


def _marks(part: Part) -> Iterator[str]:
    """Where filler must not go, to be painted with graphite or typist's correction fluid."""
    joined = part.joined
    assert joined is not None
    for fillet in dict.fromkeys(joint.fillet for joint in joined.joints):
        alike = " and ".join(joint.name for joint in joined.joints if joint.fillet == fillet)
        yield f"all round {alike}, from {show(fillet + BESIDE, part.unit)} beside the joint"
    if any(not screw.left_in for screw in joined.screws):
        yield "every fixing screw: thread, head and the hole it goes into"
    if joined.fixture:
        pins = bool(joined.fixture.part and stops_in(part, joined.fixture))
        holes = "its holes and pins" if pins else "and its holes"
        yield f"the fixture's face under the {joined.fixture.under}, {holes}"


def _order(part: Part, found: Heating) -> Iterator[str]:
    joined = part.joined
    assert joined is not None
    yield "Clean every joint to bright metal and degrease; do not touch the faces again."
    gaps = sorted({joint.gap.text for joint in joined.joints})
    yield f"Fit the pieces up dry and try the gaps with a feeler: {', '.join(gaps)}."
    yield "Paint an anti-flow mark where filler must not go, let it dry; then flux the joints."
    fixed = any(heat.holding.material for heat in found.plan.heats)
    if fixed and joined.fixture and joined.fixture.part:
        stops = stops_in(part, joined.fixture)
        pushed = "push it against the pins, " if stops else ""
        if stops:
            yield from _pins(stops, joined.fixture.part)
        yield (
            f"Screw the work to {joined.fixture.part.name}, its {joined.fixture.under} on the "
            f"block: {pushed}the locating screw tight, the others just nipped, free to slide as it "
            "grows."
        )
        screwed = {hole.piece for s in joined.screws if s.fixes for hole in s.holes}
        loose = sorted(laid(part, joined.fixture) - screwed)
        if loose:
            yield f"Keep {' and '.join(loose)} against the pins with binding wire or a weight."
    for joint in joined.joints:
        if (stands := spigot_of(joint, joined)) is not None:
            yield (
                f"Stand {stands.inner} in {stands.outer}/{stands.hole}, true by a square; three "
                "light centre-punch dots round it, as high as the gap, keep it in the middle."
            )
        if scarf_of(joint, joined) is not None:
            yield (
                f"Lay {' and '.join(joint.pieces)} along a straight edge and block both ends: the "
                f"slopes of {joint.name} slide on each other, the gap closes and the whole comes "
                "out short."
            )
    between = any(not screw.fixes for screw in joined.screws)
    fix = "Put in the screws from piece to piece and check" if between else "Check"
    yield f"{fix} the work with a square and over its length."
    for heat in found.plan.heats:
        if heat.strip_before:
            yield "Let it cool, take it off, clean it and set it up again."
        joints = " and ".join(heat.alloys)
        yield f"Heat {heat.number}: {joints}, {heat.attitude.name}, to {heat.working:g} °C."
    fastened = ["the fixture"] * fixed + ["every screw that comes out"] * bool(joined.screws)
    undo = f"; undo {' and '.join(fastened)}" if fastened else ""
    yield f"Let it cool by itself{undo}."
    yield "Clean it: see the list of cleaning."
    if any(screw.left_in for screw in joined.screws):
        yield "Saw the remains of the screws off flush."
    yield "Look all round every joint for a bright unbroken fillet; do it again where it is not."


def _pins(stops: Sequence[Stop], block: Part) -> Iterator[str]:
    """The pins to cut and put in, those alike together."""
    for size, tall in dict.fromkeys((stop.size, stop.tall) for stop in stops):
        many = sum((stop.size, stop.tall) == (size, tall) for stop in stops)
        yield (
            f"Put {many} pins of {show(size, block.unit)} steel rod, "
            f"{show(block.size[2] + tall, block.unit)} long, into {block.name}, "
            f"{show(tall, block.unit)} out of its top and free to turn."
        )
