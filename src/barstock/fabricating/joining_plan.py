"""Plans the joining of a fabrication: heats, filler, screws, cleaning; and finds what is wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from barstock.drawing.build import Build, Fault, Part
from barstock.drawing.part import Joined
from barstock.drawing.part import Joint as DrawnJoint
from barstock.fabricating.fewest_heats import HeatPlan, fewest_heats, own_order
from barstock.fabricating.filler import Filler, filler
from barstock.fabricating.filler_gaps import Gap, check_gap
from barstock.fabricating.fixing_screws import ScrewLength
from barstock.fabricating.fixture_holes import FixtureHole, fixture_holes
from barstock.fabricating.fixture_seat import seat_on
from barstock.fabricating.gap_chain import gap_differs, gap_from
from barstock.fabricating.growth import PitchAfter, pitch_after
from barstock.fabricating.heat_holdings import heat_holdings, mass_of
from barstock.fabricating.hot_gaps import gap_at_heat
from barstock.fabricating.joining_findings import Finding, fault_of
from barstock.fabricating.joints import Joint, Piece
from barstock.fabricating.old_threads import old_threads_left
from barstock.fabricating.pickling import ToPickle, cleaning, pickling_faults
from barstock.fabricating.screw_places import screw_lengths
from barstock.fabricating.torch_size import Warming, warming
from barstock.fabricating.walls_after_joining import walls_after_joining
from barstock.handbook.brazing import brazing_alloy
from barstock.machines.hearth import torch_power
from barstock.methods.pieces_meeting import meeting
from barstock.quantities import told_in
from barstock.route import Cleaning
from barstock.workshop.shop import Hearth, Workshop

TORCH = 7700.0  # power taken where the workshop lists no torch [W]; common practice
SMALL = 30.0  # things no longer than this go in a basket together [mm]; common practice
ROD = 1.5  # diameter of filler taken where the workshop lists none [mm]; common practice


@dataclass(frozen=True)
class JoiningPlan:
    """The plan of a fabrication's joining.

    heats: in order; careful: those of one joint at a time beside it; warmings: of each heat; holes:
    of the fixture; pitch: what becomes of the distance that it holds.
    """

    part: Part
    heats: HeatPlan
    careful: HeatPlan
    warmings: tuple[Warming, ...]
    fillers: tuple[Filler, ...]
    gaps: tuple[Gap, ...]
    screws: tuple[ScrewLength, ...]
    cleaning: Cleaning
    holes: tuple[FixtureHole, ...]
    pitch: PitchAfter | None
    findings: tuple[Finding, ...]

    def faults(self) -> list[Fault]:
        """The findings where they are written."""
        return [fault_of(self.part, finding) for finding in dict.fromkeys(self.findings)]


def joining_faults(build: Build, workshop: Workshop) -> list[Fault]:
    """The faults in the joining of every fabrication whose pieces meet."""
    found = []
    for part in build.fabrications:
        joined = part.joined
        if joined is None or not joined.metals_known:
            continue
        if all(meeting(joint, joined) is not None for joint in joined.joints):
            found += joining_plan(part, workshop).faults()
            with told_in(part.unit):
                thin = walls_after_joining(part, build.least_wall)
            found += [fault_of(part, wall) for wall in thin]
    return found


@lru_cache(maxsize=16)
def joining_plan(part: Part, workshop: Workshop) -> JoiningPlan:
    """The plan of all the hearth needs of a fabrication whose pieces meet."""
    with told_in(part.unit):
        return _planned(part, workshop)


def _planned(part: Part, workshop: Workshop) -> JoiningPlan:
    joined = part.joined
    assert joined is not None
    hearth, joints = workshop.hearth or Hearth(), tuple(_joints(joined))
    pieces = tuple(Piece(p.name, p.part.material, mass_of(p.part)) for p in joined.pieces)
    heats, careful = _heats(part, joined, pieces, joints, workshop)
    alloys = {name: alloy for heat in heats.heats for name, alloy in heat.alloys.items()}
    hottest = max((heat.working for heat in heats.heats), default=0.0)
    gaps = tuple(gap_at_heat(joined, j, hottest) for j in joints) if hottest else ()
    screws = tuple(screw_lengths(part, workshop))
    warmings = tuple(_warmings(pieces, heats, hearth))
    to_pickle = (_to_pickle(part, joined),)
    holes = _fixture_holes(part, joined)
    preferred = {joint.name: joint.alloys[0] for joint in joints}
    differing = (gap_differs(j, gap_from(joined, j)) for j in joined.joints if meeting(j, joined))
    findings = [
        *heats.findings,
        *(found for found in differing if found),
        *(f for gap in gaps for f in check_gap(gap, (preferred | alloys)[gap.joint])),
        *(found for screw in screws for found in screw.findings),
        *old_threads_left(part, joined),
        *pickling_faults(to_pickle),
        *(found for one in warmings for found in one.findings),
    ]
    rods = {rod.alloy: rod.diameter for rod in reversed(hearth.rods)}
    return JoiningPlan(
        part=part,
        heats=heats,
        careful=careful,
        warmings=warmings,
        fillers=tuple(
            filler(joint, alloy, rods.get(alloy, ROD))
            for joint in joints
            if (alloy := alloys.get(joint.name))
        ),
        gaps=gaps,
        screws=screws,
        cleaning=_cleaning(to_pickle, hearth),
        holes=holes,
        pitch=_pitch(joined, holes, heats),
        findings=tuple(findings),
    )


def _heats(
    part: Part,
    joined: Joined,
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    workshop: Workshop,
) -> tuple[HeatPlan, HeatPlan]:
    """The heats as asked for, and those of one joint at a time."""
    work = (pieces, joints, tuple(heat_holdings(part, joined)))
    flux, times = joined.flux, workshop.times
    careful = fewest_heats(*work, most_per_heat=1, flux=flux, times=times)
    if joined.heats:
        anew = joined.one_joint_a_heat
        return own_order(*work, joined.heats, anew=anew, flux=flux, times=times), careful
    if joined.one_joint_a_heat:
        return careful, careful
    return fewest_heats(*work, flux=flux, times=times), careful


def _joints(joined: Joined) -> Iterator[Joint]:
    for joint in joined.joints:
        met = meeting(joint, joined)
        if met is None:
            continue
        sizes = gap_from(joined, joint)
        low, high = joint.gap.low, joint.gap.high
        if sizes.inner and sizes.gap:
            # what goes into the other piece is fitted to the gap written, if its sizes allow it
            least, most = sizes.gap.least, sizes.gap.most
            meets = max(low, least) <= min(high, most)
            low, high = (max(low, least), min(high, most)) if meets else (least, most)
        yield Joint(
            joint.name,
            joint.pieces,
            joint.form,
            joint.fillers,
            low,
            high,
            tuple(face.normal for face in met.feeds),
            met.line,
            # filler comes in from the edge all round and meets in the middle
            met.area / met.line,
            joint.fillet,
            _screwed(joined, joint),
        )


def _screwed(joined: Joined, joint: DrawnJoint) -> bool:
    """Does a screw hold the two pieces to each other?"""
    return any(set(joint.pieces) <= {h.piece for h in screw.holes} for screw in joined.screws)


def _warmings(pieces: tuple[Piece, ...], plan: HeatPlan, hearth: Hearth) -> Iterator[Warming]:
    power = torch_power(hearth) or TORCH
    for heat in plan.heats:
        with_it = None
        if heat.holding.material:
            with_it = Piece("fixture", heat.holding.material, heat.holding.mass)
        yield warming(pieces, heat.working, power, hearth=hearth.bricks, fixture=with_it)


def _to_pickle(part: Part, joined: Joined) -> ToPickle:
    """The fixture and all screws that come out are off by then; what is left in stays."""
    stays = tuple((screw.name, screw.material) for screw in joined.screws if screw.left_in)
    return ToPickle(
        part.name,
        tuple(dict.fromkeys(piece.part.material for piece in joined.pieces)),
        stays,
        part.copies,
        small=max(part.size) < SMALL,
    )


def _cleaning(things: tuple[ToPickle, ...], hearth: Hearth) -> Cleaning:
    bath = hearth.pickle
    if bath is None:
        return cleaning(things)
    return cleaning(things, bath.bath, heated=bath.heated, takes=bath.takes)


def _fixture_holes(part: Part, joined: Joined) -> tuple[FixtureHole, ...]:
    if joined.fixture is None or joined.fixture.part is None:
        return ()
    return tuple(fixture_holes(part, seat_on(part, joined.fixture)))


def _pitch(joined: Joined, holes: tuple[FixtureHole, ...], plan: HeatPlan) -> PitchAfter | None:
    """What becomes of the distance between the outermost screws of the fixture."""
    if joined.fixture is None or len(holes) < 2 or not plan.heats:
        return None
    pitch = max(abs(a.at[0] - b.at[0]) for a in holes for b in holes)
    if pitch < 1.0:
        return None
    freezes = min(brazing_alloy(a).solidus for a in plan.heats[-1].alloys.values())
    between = max(joined.pieces, key=lambda p: p.box[1][0] - p.box[0][0])
    return pitch_after(((between.part.material, pitch),), joined.fixture.material, freezes)
