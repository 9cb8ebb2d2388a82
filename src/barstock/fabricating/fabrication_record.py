"""Makes the route's record of a fabrication, from its drawing and what is worked out of its
joining.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from barstock.drawing.build import Part, Vec
from barstock.drawing.part import Joined
from barstock.drawing.vectors import plus
from barstock.fabricating.fillet_runs import fillet_runs
from barstock.fabricating.fixing_screws import ScrewLength, lacking, to_shorten
from barstock.fabricating.fixture_holes import FixtureHole, block_hole, bore_of
from barstock.fabricating.fixture_seat import beside_block, seat_on
from barstock.fabricating.gap_chain import gap_from
from barstock.fabricating.growth import PitchAfter
from barstock.fabricating.joining_order import joining_order
from barstock.fabricating.joining_plan import JoiningPlan, joining_plan
from barstock.fabricating.locating import Stop, located, stops_in
from barstock.methods.pieces_meeting import meeting
from barstock.methods.spigot import Spigot, spigot_of
from barstock.route import (
    Fabrication,
    FixingScrews,
    FixtureBlock,
    FixtureScrewHole,
    FixtureStop,
    Heat,
    HeatReason,
    HeatReasonKind,
    JointToMake,
    NoFiller,
    NoFillerKind,
    PitchHeld,
    Ring,
    Setup,
    StandingPiece,
    ToShorten,
)
from barstock.route.statements import Item, ItemKind
from barstock.workshop.shop import Workshop

BESIDE = 2.0  # from a fillet to where filler must not run [mm]; common practice


def fabrication_of(part: Part, workshop: Workshop, setups: Sequence[Setup]) -> Fabrication:
    """The fabrication as the route has it. setups: all of them, numbered, in order."""
    joined = part.joined
    assert joined is not None
    found = joining_plan(part, workshop)
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
        no_filler=tuple(_no_filler(part, joined)),
        order=tuple(joining_order(part, joined, found)),
        heats=tuple(_heats(found, joined.made)),
        cleaning=found.cleaning,
        reasons=(HeatReason(kind=HeatReasonKind.MADE),) if joined.made else found.heats.reasons,
        minutes=round(found.heats.minutes * part.copies, 1),
        careful=(len(found.careful.heats), round(found.careful.minutes * part.copies, 1)),
    )


def shortened(fabrications: Sequence[Part], workshop: Workshop) -> tuple[ToShorten, ...]:
    """The screws of all fabrications that are to be shortened, those alike on one line."""
    return to_shorten(tuple(_screws(fabrications, workshop)))


def screws_to_buy(fabrications: Sequence[Part], workshop: Workshop) -> Iterator[Item]:
    """The screws of all fabrications that the shop does not list, of lengths that are sold."""
    found = lacking(tuple(_screws(fabrications, workshop)))
    for (thread, of, stock), count in found.items():
        yield Item(
            kind=ItemKind.SCREWS,
            names={"thread": thread, "material": of},
            numbers={"count": count, "stock": stock},
        )


def _screws(fabrications: Sequence[Part], workshop: Workshop) -> Iterator[ScrewLength]:
    """The screws of all fabrications, each named with its fabrication."""
    for part in fabrications:
        for screw in joining_plan(part, workshop).screws:
            name = f"{part.name}: {screw.place.name}"
            yield replace(screw, place=replace(screw.place, name=name))


def _after(part: Part, setups: Sequence[Setup]) -> str:
    """The last setup before the first on what is joined."""
    first = next((n for n, s in enumerate(setups) if s.work == part.name), len(setups))
    return setups[first - 1].id if first else ""


def _block(part: Part, found: JoiningPlan) -> FixtureBlock | None:
    joined = part.joined
    fixture = joined.fixture if joined else None
    if fixture is None or fixture.part is None:
        return None
    seat, up = seat_on(part, fixture), fixture.under.opposite.normal
    block, thick = fixture.part, fixture.part.size[2]
    return FixtureBlock(
        part=fixture.part.name,
        under=fixture.under,
        rows=tuple((seat.along[i], seat.across[i], up[i]) for i in range(3)),
        shift=plus(seat.corner, up, -thick),
        beside=tuple(seat.beside.items()),
        material=fixture.material,
        holes=tuple(_hole(block, hole) for hole in found.holes),
        stops=tuple(_stop(stop) for stop in stops_in(part, fixture)),
        pitch=_pitch(found.pitch),
        locates=tuple(located(part, fixture)),
    )


def _blind(block: Part, hole: FixtureHole) -> float:
    """How deep a hole goes that ends in the block, 0 of one right through [mm]."""
    bore = bore_of(block, hole)
    return 0.0 if bore is None or bore.through else bore.depth


def _hole(block: Part, hole: FixtureHole) -> FixtureScrewHole:
    return FixtureScrewHole(
        screw=hole.screw.name,
        left=hole.at[0],
        front=hole.at[1],
        below=hole.below,
        face=hole.face,
        depth=_blind(block, hole),
        diameter=hole.form.major if hole.tapped else block_hole(hole),
        thread=hole.form.name if hole.tapped else "",
        locates=hole.growth.hold.locates,
        shift=round(max(map(abs, hole.growth.shift)), 3),
    )


def _pitch(held: PitchAfter | None) -> PitchHeld | None:
    if held is None:
        return None
    return PitchHeld(change=round(held.change, 4), set_cold=round(held.set_cold, 4))


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
        material=place.of,
        count=place.count,
        stock=screw.stock,
        cut_to=screw.cut_to,
        engaged=round(screw.engaged, 2),
        stays=bool(drawn and drawn.left_in),
        to_buy=screw.to_buy,
    )


def _joints(part: Part, found: JoiningPlan) -> Iterator[JointToMake]:
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
                at=_rounded(middle),
                low=_rounded(low),
                high=_rounded(high),
                side=met.normal,
                alloy=rod.alloy,
                gap_least=round(joint.gap.low, 4),
                gap_most=round(joint.gap.high, 4),
                gap_set_by=gap_from(joined, joint).set_by,
                fillets=tuple(fillet_runs(joined, joint)),
                ring=_ring(spigot_of(joint, joined)),
                rod=rod.rod,
                rod_length=rod.length,
            )


def _rounded(at: Vec) -> Vec:
    x, y, z = (round(a, 4) for a in at)
    return x, y, z


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


def _heats(found: JoiningPlan, made: Sequence[int]) -> Iterator[Heat]:
    for heat, warm in zip(found.heats.heats, found.warmings, strict=True):
        least, most = warm.minutes
        yield Heat(
            number=heat.number,
            joints=tuple(heat.alloys),
            holding=heat.holding.way,
            on_fixture=bool(heat.holding.material),
            attitude=heat.attitude.faces,
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
            power=warm.power,
            can=warm.can,
            done=made[heat.number - 1] if heat.number <= len(made) else 0,
        )


def _no_filler(part: Part, joined: Joined) -> Iterator[NoFiller]:
    """Where filler must not go, to be painted with graphite or typist's correction fluid."""
    for fillet in dict.fromkeys(joint.fillet for joint in joined.joints):
        alike = tuple(joint.name for joint in joined.joints if joint.fillet == fillet)
        beside = {"beside": fillet + BESIDE}
        yield NoFiller(kind=NoFillerKind.ROUND_JOINTS, joints=alike, lengths=beside)
    if any(not screw.left_in for screw in joined.screws):
        yield NoFiller(kind=NoFillerKind.SCREWS)
    if joined.fixture:
        pins = bool(joined.fixture.part and stops_in(part, joined.fixture))
        kind = NoFillerKind.FIXTURE_FACE_AND_PINS if pins else NoFillerKind.FIXTURE_FACE
        if beside_block(joined, joined.fixture):
            kind = NoFillerKind.FIXTURE_SIDES
        yield NoFiller(kind=kind, names={"under": joined.fixture.under})
