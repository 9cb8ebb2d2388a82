"""Designs the block a fabrication is screwed to for its heats from the rack, or takes the user's
own.

A block of barstock's own is an ordinary part, written the way a person would write it in
build.yaml and read by the same reader, so that it is drawn, planned and proved like any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from barstock.drawing.build import Build, Face, Fault, Part
from barstock.drawing.build_reading import read_part
from barstock.drawing.part import Fixture, Joined
from barstock.fabricating.fixture_holes import FixtureHole, block_hole, fixture_holes, heads_beneath
from barstock.fabricating.fixture_seat import (
    CLEAR,
    CutOut,
    Seat,
    cut_outs,
    hidden_faults,
    painted,
    seat_faults,
    seat_on,
)
from barstock.fabricating.growth import holds_too_tight
from barstock.fabricating.joints import PLACED
from barstock.fabricating.locating import Stop, stop_faults
from barstock.fabricating.pin_places import Pinning, pin_size
from barstock.handbook.threads import thread
from barstock.methods import KINDS
from barstock.methods.cuts import HoleCut
from barstock.methods.feature_cuts import axes_of, hole_of
from barstock.methods.feature_text import as_written
from barstock.methods.hole import KIND as HOLE
from barstock.methods.slot import KIND as SLOT
from barstock.workshop.rack import in_mm
from barstock.workshop.shop import BarStock, Workshop

EDGE = 1.5  # of a hole's diameters between its centre and the block's edge; common practice
THICK = 8.0  # of a block that screws pass through [mm]; common practice
TAPPED = 1.5  # diameters of thread in a block that is tapped; common practice


def with_fixtures(build: Build, workshop: Workshop) -> tuple[Build, list[Fault]]:
    """The build with a fixture for every fabrication that asks for one, and what is wrong."""
    parts, faults = list(build.parts), list[Fault]()
    for n, part in enumerate(build.parts):
        joined = part.joined
        if joined is None or joined.fixture is None:
            continue
        aside = list(_pointing_past(part, joined, joined.fixture))
        if aside:
            faults += aside
            continue
        block = joined.fixture.part
        if block is None:
            block, wrong = design(part, joined.fixture, workshop)
            faults += wrong
            if block is None:
                continue
            parts.append(block)
        place = [one.name for one in parts].index(block.name)
        block = parts[place] = _painted(part, joined.fixture, parts[place])
        held = replace(joined, fixture=replace(joined.fixture, part=block))
        parts[n] = replace(part, joined=held)
        faults += list(fixture_faults(parts[n]))
    # a fabrication comes after all that it is joined from, and its fixture
    parts.sort(key=lambda part: part.joined is not None)
    return replace(build, parts=tuple(parts)), faults


def _pointing_past(part: Part, joined: Joined, fixture: Fixture) -> Iterator[Fault]:
    """Screws of the fixture whose holes do not run square to the face that lies on it."""
    for screw in joined.screws:
        hole = screw.through[-1] if screw.into is None else screw.into
        if screw.fixes and any(f.axis != fixture.under.axis for _, f in axes_of(joined, hole)):
            what = (
                f"fixing screw '{screw.name}' does not point at the fixture, which lies under the "
                f"{fixture.under} face"
            )
            mend = "lay the fixture under another face, or name a hole square to that one"
            yield Fault(screw.place, what, mend, part.name)


def design(part: Part, fixture: Fixture, workshop: Workshop) -> tuple[Part | None, list[Fault]]:
    """The block for a fabrication, from the smallest bar on the rack, with its pins."""
    joined = part.joined
    assert joined is not None
    bars = _bars(part, fixture, workshop)
    if not bars:
        need = seat_on(part, fixture).size
        what = (
            f"the rack has no {fixture.material} bar for the fixture of '{part.name}': it takes "
            f"{need[1]:g} x {_thick(joined):g} mm or more, {need[0]:g} long"
        )
        mend = f"add one under 'rack: {fixture.material}:', or name your own block as its 'part'"
        return None, [Fault(fixture.place, what, mend, part.name)]
    bar, pins = _bar_with_room(part, fixture, workshop, bars)
    wide, thick = max(bar.width, bar.height), min(bar.width, bar.height)
    lines = [
        f"title: fixture of the {part.name}",
        f"material: {fixture.material}",
        "unit: mm",
        f"length: {pins.seat.size[0]:g}",
        f"width: {wide:g}",
        f"height: {thick:g}",
        f"bar: {in_mm(bar.name, workshop.unit)}",
        "as bought: [front, back, top, bottom]",
        "features:",
        *_holes(part, pins.seat),
        *_pin_holes(pins.stops, reamed=pin_size(workshop)[1]),
        *_cut_outs(pins.slots),
    ]
    hidden = list(hidden_faults(part, fixture, pins.seat))
    made, faults = read_part(f"{part.name} fixture", "\n".join(lines), fixture.place, KINDS)
    return made, [*hidden, *faults]


def _painted(part: Part, fixture: Fixture, block: Part) -> Part:
    """The block with where filler must not go."""
    seat = seat_on(part, replace(fixture, part=block))
    return replace(block, no_filler=(*block.no_filler, *painted(part, fixture, seat)))


def _bars(part: Part, fixture: Fixture, workshop: Workshop) -> list[BarStock]:
    """The bars a block can be made from, those on the rack first, then by size."""
    joined = part.joined
    assert joined is not None
    long, wide = seat_on(part, fixture).size
    fits = [
        bar
        for bar in workshop.rack
        if bar.shape == "rectangle"
        and bar.material == fixture.material
        and bar.length >= long + 2
        and max(bar.width, bar.height) >= wide
        and min(bar.width, bar.height) >= _thick(joined)
    ]
    return sorted(fits, key=lambda bar: (bar.to_buy, bar.width * bar.height))


def _bar_with_room(
    part: Part, fixture: Fixture, workshop: Workshop, bars: Sequence[BarStock]
) -> tuple[BarStock, Pinning]:
    """The first bar with room for all pins; where none on the rack has it, the first of all."""
    size, _ = pin_size(workshop)
    tried = []
    for bar in bars:
        if bar.to_buy > bars[0].to_buy:
            break
        seat = seat_on(part, fixture, max(bar.width, bar.height))
        slots = list(cut_outs(part, fixture, seat))
        tried.append((bar, Pinning(part, fixture, seat, size, fixture_holes(part, seat), slots)))
        if not tried[-1][1].lacking:
            return tried[-1]
    return min(tried, key=lambda one: len(one[1].lacking))


def _thick(joined: Joined) -> float:
    """Least thickness of the block [mm]."""
    tapped = [thread(screw.thread).major for screw in joined.screws if screw.into is None]
    return max([THICK, *(TAPPED * major + 2 for major in tapped)])


# -- what is written of it ------------------------------------------------------------------------


def _holes(part: Part, seat: Seat) -> Iterator[str]:
    for n, hole in enumerate(fixture_holes(part, seat), 1):
        name = "locating" if hole.growth.hold.locates else "clearance"
        size: dict[str, str | float] = {"diameter": block_hole(hole)}
        if hole.tapped:
            name, size = "tapped", {"thread": hole.form.name}
        yield f"  {name} hole {n}: {_through(hole.at, size)}"


def _pin_holes(stops: Sequence[Stop], *, reamed: bool) -> Iterator[str]:
    for n, stop in enumerate(stops, 1):
        size: dict[str, str | float] = {"diameter": stop.size}
        if reamed:
            size = {"diameter": f"{stop.size:g} H7", "finish": "reamed"}
        yield f"  pin hole {n}: {_through(stop.at, size)}"


def _through(at: tuple[float, float], size: Mapping[str, str | float]) -> str:
    """A hole right through the block, at a place of its top."""
    place = {"left": at[0], "front": at[1]}
    return as_written(HOLE.name, face="top", at=place, **size, depth="through")


def _cut_outs(slots: Sequence[CutOut]) -> Iterator[str]:
    for n, cut in enumerate(slots, 1):
        along, side = ("length", "front") if cut.along else ("width", "left")
        text = as_written(
            SLOT.name,
            face="top",
            along=along,
            position={side: (cut.low + cut.high) / 2},
            width=cut.high - cut.low,
            depth=CLEAR,
        )
        yield f"  cut-out {n} at {cut.joint}: {text}"


# -- what is wrong with it -------------------------------------------------------------------------


def fixture_faults(part: Part) -> Iterator[Fault]:
    """The faults of a fixture: its seat, its pins, holes that it lacks, that bind or lie too near
    its edge.
    """
    joined = part.joined
    assert joined is not None
    fixture = joined.fixture
    assert fixture is not None
    assert fixture.part is not None
    seat = seat_on(part, fixture)
    holes = fixture_holes(part, seat)
    if not holes:
        what = f"nothing holds '{part.name}' to its fixture"
        mend = "add a fixing screw 'into: fixture', or 'through: fixture'"
        yield Fault(fixture.place, what, mend, part.name)
    yield from seat_faults(part, fixture)
    yield from stop_faults(part, fixture)
    yield from heads_beneath(part, fixture)
    for hole in holes:
        yield from _edge(part, fixture, seat, hole)
        bore = _bore_at(fixture.part, hole)
        if bore is None:
            a, b = hole.at
            what = (
                f"the fixture '{fixture.part.name}' has no hole for '{hole.screw.name}' at "
                f"{a:g} from its left, {b:g} from its front"
            )
            yield Fault(fixture.place, what, "drill one there", part.name)
            continue
        if hole.tapped:
            if bore.thread != hole.form.name:
                what = f"the fixture is not tapped {hole.form.name} for '{hole.screw.name}'"
                yield Fault(fixture.place, what, f"give it 'thread: {hole.form.name}'", part.name)
            tight = holds_too_tight((hole.growth,))
        else:
            hold = replace(hole.growth.hold, hole=bore.diameter)
            tight = holds_too_tight((replace(hole.growth, hold=hold),))
        for finding in tight:
            where = hole.screw.place if hole.tapped else fixture.place
            what = f"fixture too tight: {finding.about}: {finding.what}"
            yield Fault(where, what, finding.mend, part.name)


def _edge(part: Part, fixture: Fixture, seat: Seat, hole: FixtureHole) -> Iterator[Fault]:
    least = EDGE * hole.form.major
    room = min(min(a, size - a) for a, size in zip(hole.at, seat.size, strict=True))
    if room < least - 1e-6:
        what = (
            f"the hole for '{hole.screw.name}' lies {room:.1f} mm from the edge of the fixture, "
            f"{least:.1f} mm is the least"
        )
        yield Fault(fixture.place, what, "use a larger block, or another hole", part.name)


def _bore_at(block: Part, hole: FixtureHole) -> HoleCut | None:
    """The block's hole at a place."""
    for bore in (hole_of(feature, block) for feature in block.features):
        if bore is not None and bore.face.axis == Face.TOP.axis:
            for at in bore.at:
                if abs(at[0] - hole.at[0]) < PLACED and abs(at[1] - hole.at[1]) < PLACED:
                    return bore
    return None
