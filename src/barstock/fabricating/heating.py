"""What a fabrication asks of the hearth: heats, filler, screws, gaps, cleaning, and what is wrong.

The sums are those of the modules beside this one; here what they ask is filled in from the drawing
and the workshop.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from barstock.drawing.build import Build, Face, Fault, Part, Place
from barstock.drawing.fabrication import FixingScrew, Joined, ScrewHole
from barstock.drawing.fabrication import Joint as DrawnJoint
from barstock.fabricating.energy import Warming, torch_power, warming
from barstock.fabricating.filler import Filler, filler
from barstock.fabricating.fixture_holes import FixtureHole, fixture_holes
from barstock.fabricating.fixture_seat import gap_under, seat_on
from barstock.fabricating.gap_chain import gap_differs, gap_from
from barstock.fabricating.gaps import Gap, check_gap
from barstock.fabricating.growth import PitchAfter, pitch_after
from barstock.fabricating.heats import HeatPlan, fewest_heats, own_order
from barstock.fabricating.hot_gaps import gap_at_heat
from barstock.fabricating.joints import (
    FACE_UP,
    PLACED,
    Finding,
    Holding,
    Joint,
    Piece,
    corner_up,
)
from barstock.fabricating.larger_thread import Swallow, swallows
from barstock.fabricating.locating import laid
from barstock.fabricating.pickling import ToPickle, cleaning, pickling_faults
from barstock.fabricating.screws import ScrewLength, ScrewPlace, check_screw, screw_length
from barstock.fabricating.walls_after import walls_after
from barstock.handbook.brazing import brazing_alloy
from barstock.handbook.materials import material
from barstock.methods.drawn_solid import drawn_solid
from barstock.methods.feature_cuts import axes_of, hole_of, screw_hole
from barstock.methods.pieces_meeting import meeting
from barstock.methods.spigot import spigot_of
from barstock.route import Cleaning, HeatHolding
from barstock.store.kept_values import figure
from barstock.workshop.shop import Hearth, Workshop

TORCH = 7700.0  # power taken where the workshop lists no torch [W]; common practice
SMALL = 30.0  # things no longer than this go in a basket together [mm]; common practice
ROD = 1.5  # diameter of filler taken where the workshop lists none [mm]; common practice
BROAD = (Face.FRONT, Face.BACK, Face.TOP, Face.BOTTOM, Face.LEFT, Face.RIGHT)
"""The broad sides first: of attitudes that do as well, the first is taken."""


@dataclass(frozen=True)
class Heating:
    """All that is worked out of a fabrication's joining.

    careful: the plan of one joint at a time beside it; warmings: of each heat; pitch: what becomes
    of the distance the fixture holds; holes: of the fixture.
    """

    part: Part
    plan: HeatPlan
    careful: HeatPlan
    warmings: tuple[Warming, ...]
    fillers: tuple[Filler, ...]
    gaps: tuple[Gap, ...]
    screws: tuple[ScrewLength, ...]
    swallowed: tuple[Swallow, ...]
    cleaning: Cleaning
    holes: tuple[FixtureHole, ...]
    pitch: PitchAfter | None
    findings: tuple[Finding, ...]

    def faults(self) -> list[Fault]:
        """The findings where they are written; those that do not stop the work as warnings."""
        return [_fault(self.part, finding) for finding in dict.fromkeys(self.findings)]


def heating_faults(build: Build, workshop: Workshop) -> list[Fault]:
    """What is wrong with the joining of every fabrication whose pieces meet."""
    found = []
    for part in build.fabrications:
        joined = part.joined
        if joined and all(meeting(joint, joined) is not None for joint in joined.joints):
            found += heating(part, workshop).faults()
            thin = walls_after(part, build.least_wall)
            found += [_fault(part, finding) for finding in thin]
    return found


@lru_cache(maxsize=16)
def heating(part: Part, workshop: Workshop) -> Heating:
    """Everything the hearth needs of a fabrication whose pieces meet."""
    joined = part.joined
    assert joined is not None
    hearth = workshop.hearth or Hearth()
    pieces = tuple(Piece(p.name, p.part.material, _mass(p.part)) for p in joined.pieces)
    joints = tuple(_joints(joined))
    holdings = tuple(_holdings(part))
    careful = fewest_heats(
        pieces, joints, holdings, most_per_heat=1, flux=joined.flux, times=workshop.times
    )
    if joined.heats:
        plan = own_order(
            pieces, joints, holdings, joined.heats, flux=joined.flux, times=workshop.times
        )
    elif joined.one_joint_a_heat:
        plan = careful
    else:
        plan = fewest_heats(pieces, joints, holdings, flux=joined.flux, times=workshop.times)
    alloys = {name: alloy for heat in plan.heats for name, alloy in heat.alloys.items()}
    hottest = max((heat.working for heat in plan.heats), default=0.0)
    gaps = tuple(gap_at_heat(joined, j, hottest) for j in joints) if hottest else ()
    screws = tuple(_screw_lengths(part, workshop))
    swallowed = tuple(_swallowed(part, joined))
    warmed = tuple(_warmings(pieces, plan, hearth))
    to_pickle = (_to_pickle(part, joined),)
    differing = (gap_differs(j, gap_from(joined, j)) for j in joined.joints if meeting(j, joined))
    findings = [
        *plan.findings,
        *(f for f in differing if f),
        *(f for gap in gaps for f in check_gap(gap, alloys.get(gap.joint) or _filler(joints, gap))),
        *(f for screw in screws for f in screw.findings),
        *(f for one in swallowed for f in one.findings),
        *pickling_faults(to_pickle),
        *(f for one in warmed for f in one.findings),
    ]
    return Heating(
        part,
        plan,
        careful,
        warmed,
        tuple(filler(j, alloys[j.name], _rod(hearth, alloys[j.name])) for j in joints
              if j.name in alloys),
        gaps,
        screws,
        swallowed,
        _cleaning(to_pickle, hearth),
        _fixture_holes(part),
        _pitch(part, plan),
        tuple(findings),
    )  # fmt: skip


def _mass(part: Part) -> float:
    """[g]."""
    volume: float = figure(float, lambda: drawn_solid(part).volume, part)
    return volume / 1000 * material(part.material).density


# -- what the sums ask -----------------------------------------------------------------------------


def _joints(joined: Joined) -> Iterator[Joint]:
    for joint in joined.joints:
        met = meeting(joint, joined)
        if met is None:
            continue
        sizes = gap_from(joined, joint)
        # what goes into the other piece leaves what its sizes leave, whatever is written
        gap = sizes.gap if sizes.inner and sizes.gap else None
        yield Joint(
            joint.name,
            joint.pieces,
            joint.form,
            joint.fillers,
            gap.least if gap else joint.gap.low,
            gap.most if gap else joint.gap.high,
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


def _holdings(part: Part) -> Iterator[Holding]:
    joined = part.joined
    assert joined is not None
    ways = tuple(FACE_UP[face] for face in BROAD)
    ways += tuple(corner_up(a, b) for a in Face for b in Face if a.axis < b.axis)
    fixture = joined.fixture
    if fixture is not None and fixture.part is not None:
        held = frozenset(hole.piece for s in joined.screws if s.fixes for hole in s.holes)
        block = (fixture.material, _mass(fixture.part))
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


def _screw_lengths(part: Part, workshop: Workshop) -> Iterator[ScrewLength]:
    joined = part.joined
    assert joined is not None
    for screw in joined.screws:
        place = _screw_place(part, joined, screw)
        if place is None:
            continue
        owned = [s.lengths for s in workshop.screws if (s.thread, s.of) == (place.thread, place.of)]
        found = screw_length(place, owned[0] if owned else None)
        if screw.length:
            wrong = check_screw(place, screw.length)
            found = replace(found, stock=screw.length, cut_to=screw.length, findings=wrong)
        yield found


def _screw_place(part: Part, joined: Joined, screw: FixingScrew) -> ScrewPlace | None:
    """The way a screw goes: what it passes and what it is tapped into."""
    grips = [_thickness(joined, hole) for hole in screw.through]
    fixture = joined.fixture.part if joined.fixture else None
    if screw.fixes and fixture is None:
        return None
    if screw.fixes:
        grips.append(_gap(part, joined, screw))
    if not screw.through and fixture is not None:
        grips.append((fixture.height.low, fixture.height.high))
    least, most = sum(g[0] for g in grips), sum(g[1] for g in grips)
    count = len(screw_hole(joined, screw.holes[-1]).at) * (1 if screw.fixes else part.copies)
    if screw.into is None:
        assert fixture is not None
        return ScrewPlace(
            screw.name, screw.thread, least, most, fixture.material, fixture.height.nominal,
            count=count, of=screw.material,
        )  # fmt: skip
    bore = screw_hole(joined, screw.into)
    return ScrewPlace(
        screw.name,
        bore.thread,
        least,
        most,
        joined.piece(screw.into.piece).part.material,
        bore.depth,
        blind=not bore.through,
        count=count,
        of=screw.material,
    )


def _thickness(joined: Joined, hole: ScrewHole) -> tuple[float, float]:
    """What of a piece a screw passes, least and most [mm]."""
    cut, part = screw_hole(joined, hole), joined.piece(hole.piece).part
    whole = part.dimension(cut.face.axis)
    less = whole.nominal - cut.depth  # where the hole starts on a floor
    bored = cut.counterbore[1] if cut.counterbore else 0.0
    return whole.low - less - bored, whole.high - less - bored


def _gap(part: Part, joined: Joined, screw: FixingScrew) -> tuple[float, float]:
    """Air between the block and the piece a screw holds to it, least and most [mm]."""
    assert joined.fixture is not None
    hole = screw.through[-1] if screw.into is None else screw.into
    box, under = joined.piece(hole.piece).box, joined.fixture.under
    gaps = []
    for at, _ in axes_of(joined, hole):
        low = list(at)
        low[under.axis] = box[1 if under.sign > 0 else 0][under.axis]
        gaps.append(gap_under(part, joined.fixture, (low[0], low[1], low[2])))
    return min(gaps), max(gaps)


def _swallowed(part: Part, joined: Joined) -> Iterator[Swallow]:
    """The holes that take the place of fixing screws: is what was there before gone?"""
    for screw in joined.screws:
        feature = next((f for f in part.features if f.name == screw.replaced_by), None)
        bore = hole_of(feature, part) if feature is not None else None
        if bore is None:
            continue
        new = bore.tap_drill if bore.thread else bore.diameter
        for hole in screw.holes:
            old = screw_hole(joined, hole)
            for at, face in axes_of(joined, hole):
                near = min(_apart(at, centre, face.axis) for centre in bore.at)
                if near < bore.diameter:
                    was = old.thread or old.diameter
                    yield swallows(screw.name, was, new, near + 2 * PLACED)
                    break


def _apart(a: tuple[float, ...], b: tuple[float, ...], axis: int) -> float:
    return float(sum((a[i] - b[i]) ** 2 for i in range(3) if i != axis) ** 0.5)


def _warmings(pieces: tuple[Piece, ...], plan: HeatPlan, hearth: Hearth) -> Iterator[Warming]:
    power = torch_power(hearth) or TORCH
    for heat in plan.heats:
        with_it = None
        if heat.holding.material:
            with_it = Piece(heat.holding.way, heat.holding.material, heat.holding.mass)
        yield warming(pieces, heat.working, power, hearth=hearth.bricks, fixture=with_it)


def _rod(hearth: Hearth, alloy: str) -> float:
    return next((rod.diameter for rod in hearth.rods if rod.alloy == alloy), ROD)


def _filler(joints: tuple[Joint, ...], gap: Gap) -> str:
    return next(joint.alloys[0] for joint in joints if joint.name == gap.joint)


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


def _fixture_holes(part: Part) -> tuple[FixtureHole, ...]:
    joined = part.joined
    if joined is None or joined.fixture is None or joined.fixture.part is None:
        return ()
    return tuple(fixture_holes(part, seat_on(part, joined.fixture)))


def _pitch(part: Part, plan: HeatPlan) -> PitchAfter | None:
    """What becomes of the distance between the outermost screws of the fixture."""
    joined = part.joined
    holes = _fixture_holes(part)
    if joined is None or joined.fixture is None or len(holes) < 2 or not plan.heats:
        return None
    pitch = max(abs(a.at[0] - b.at[0]) for a in holes for b in holes)
    if pitch < 1.0:
        return None
    freezes = min(brazing_alloy(a).solidus for a in plan.heats[-1].alloys.values())
    between = max(joined.pieces, key=lambda p: p.box[1][0] - p.box[0][0])
    return pitch_after(((between.part.material, pitch),), joined.fixture.material, freezes)


def _fault(part: Part, finding: Finding) -> Fault:
    """A finding where it is written."""
    return Fault(
        _place(part, finding.about),
        f"{finding.about}: {finding.what}",
        finding.mend,
        part.name,
        grade="error" if finding.stops else "warning",
    )


def _place(part: Part, about: str) -> Place:
    joined = part.joined
    assert joined is not None
    places = {piece.name: piece.place for piece in joined.pieces}
    places |= {screw.name: screw.place for screw in joined.screws}
    places |= {joint.name: joint.place for joint in joined.joints}
    places |= {feature.name: feature.place for feature in part.features}
    return places.get(about, part.place)
