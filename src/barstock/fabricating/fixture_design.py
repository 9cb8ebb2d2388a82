"""Designs the block a fabrication is screwed to for its heats from the rack, or takes the user's
own.

A block of barstock's own is an ordinary part, written the way a person would write it in
build.yaml and read by the same reader, so that it is drawn, planned and proved like any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from barstock.drawing.bar_wanted import SAME, is_named
from barstock.drawing.build import Build, Face, Fault, Part
from barstock.drawing.build_reading import read_part
from barstock.drawing.part import Fixture
from barstock.fabricating.fixing_screws import longest_sold
from barstock.fabricating.fixture_faults import EDGE, fixture_faults, pointing_past
from barstock.fabricating.fixture_holes import (
    TAPPED,
    FixtureHole,
    block_hole,
    fixture_holes,
    tapped_deep,
)
from barstock.fabricating.fixture_seat import Seat, painted, seat_on
from barstock.fabricating.flame_cut_outs import CLEAR, CutOut, cut_outs, hidden_faults
from barstock.fabricating.locating import Stop
from barstock.fabricating.pin_places import Pinning, pin_size
from barstock.handbook.screw_lengths import WIDEST_HEAD
from barstock.methods import KINDS
from barstock.methods.feature_text import as_written
from barstock.methods.hole import KIND as HOLE
from barstock.methods.slot import KIND as SLOT
from barstock.methods.step import KIND as STEP
from barstock.quantities import Length, told_in
from barstock.workshop.rack import in_mm
from barstock.workshop.shop import BarStock, Workshop

THICK = 8.0  # of a block that screws pass through [mm]; common practice
SET = 0.05  # either way, of the distance that a block between pieces holds [mm]; common practice
PITCHES = 3  # below the full thread, for the tap's lead and the drill's point; common practice
THIN = 2.0  # of the block left below or between such holes [mm]; common practice


def with_fixtures(build: Build, workshop: Workshop) -> tuple[Build, list[Fault]]:
    """The build with a fixture for every fabrication that asks for one, and what is wrong."""
    parts, faults = list(build.parts), list[Fault]()
    for n, part in enumerate(build.parts):
        joined = part.joined
        if joined is None or joined.fixture is None or not joined.metals_known:
            continue
        with told_in(part.unit):
            aside = list(pointing_past(part, joined, joined.fixture))
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


@dataclass(frozen=True)
class Sawn:
    """A bar that a block can be made from, as it lies: its width and its thickness [mm]."""

    bar: BarStock
    wide: float
    thick: float


def design(part: Part, fixture: Fixture, workshop: Workshop) -> tuple[Part | None, list[Fault]]:
    """The block for a fabrication, from the smallest bar on the rack, with its pins."""
    joined = part.joined
    assert joined is not None
    bars = _bars(part, fixture, workshop)
    if not bars:
        need = seat_on(part, fixture).size
        named = f" {fixture.bar}" if fixture.bar else ""
        what = (
            f"the rack has no {fixture.material} bar{named} for the fixture of '{part.name}': it "
            f"takes {Length(_wide(part, fixture), _thick(part, fixture), between=' x '):g} or "
            f"more, {Length(need[0]):g} long"
        )
        mend = f"add one under 'rack: {fixture.material}:', or name your own block as its 'part'"
        return None, [Fault(fixture.place, what, mend, part.name)]
    sawn, pins = _bar_with_room(part, fixture, workshop, bars)
    seat = pins.seat
    sides = set(seat.beside.values())
    between = any(side.opposite in sides for side in sides)
    limits = f" ±{SET:g}" if between else ""
    lines = [
        f"title: fixture of the {part.name}",
        f"material: {fixture.material}",
        "unit: mm",
        f'length: "{seat.size[0]:g}{limits}"',
        f"width: {sawn.wide:g}",
        f"height: {sawn.thick:g}",
        f"bar: {in_mm(sawn.bar.name, workshop.unit)}",
        "as bought: [front, back, top, bottom]",
        "features:",
        *_holes(part, seat, sawn.thick),
        *_pin_holes(pins.stops, reamed=pin_size(workshop)[1]),
        *_cut_outs(pins.slots, seat),
    ]
    hidden = list(hidden_faults(part, fixture, seat))
    made, faults = read_part(f"{part.name} fixture", "\n".join(lines), fixture.place, KINDS)
    return made, [*hidden, *faults]


def _painted(part: Part, fixture: Fixture, block: Part) -> Part:
    """The block with where filler must not go."""
    seat = seat_on(part, replace(fixture, part=block))
    return replace(block, no_filler=(*block.no_filler, *painted(part, fixture, seat)))


def _bars(part: Part, fixture: Fixture, workshop: Workshop) -> list[Sawn]:
    """The bars a block can be made from, those on the rack first, then by size."""
    long, wide, thick = seat_on(part, fixture).size[0], _wide(part, fixture), _thick(part, fixture)
    named = replace(part, section=fixture.bar)
    fits = [
        Sawn(bar, *sides)
        for bar in workshop.rack
        if bar.shape == "rectangle"
        and bar.material == fixture.material
        and (not fixture.bar or is_named(named, bar))
        and bar.length >= long + 2
        for sides in sorted({(bar.width, bar.height), (bar.height, bar.width)}, reverse=True)
        if sides[0] >= wide - SAME and sides[1] >= thick - SAME
    ]
    return sorted(fits, key=lambda one: (one.bar.to_buy, one.wide * one.thick))


def _bar_with_room(
    part: Part, fixture: Fixture, workshop: Workshop, bars: Sequence[Sawn]
) -> tuple[Sawn, Pinning]:
    """The first bar with room for all pins; where none on the rack has it, the first of all."""
    size, _ = pin_size(workshop)
    tried = []
    for sawn in bars:
        if sawn.bar.to_buy > bars[0].bar.to_buy:
            break
        seat = seat_on(part, fixture, sawn.wide)
        slots = list(cut_outs(part, fixture, seat))
        holes = fixture_holes(part, seat)
        tried.append((sawn, Pinning(part, fixture, seat, size, holes, slots)))
        if not tried[-1][1].lacking:
            return tried[-1]
    return min(tried, key=lambda one: len(one[1].lacking))


def _wide(part: Part, fixture: Fixture) -> float:
    """Least width of the block [mm]: as the work, or what carries the screws in its sides."""
    seat = seat_on(part, fixture)
    if not seat.beside:
        return seat.size[1]
    fronts = [
        (hole.at[1] - seat.size[1] / 2, EDGE * hole.form.major)
        for hole in fixture_holes(part, seat)
    ]
    return 2 * max(abs(front) + edge for front, edge in fronts)


def _thick(part: Part, fixture: Fixture) -> float:
    """Least thickness of the block [mm]."""
    assert part.joined is not None
    holes = fixture_holes(part, seat_on(part, fixture))
    tapped = [TAPPED * h.form.major + 2 for h in holes if h.tapped and h.face is Face.TOP]
    aside = [h.below + EDGE * h.form.major for h in holes if h.face is not Face.TOP]
    return max([THICK, *tapped, *aside])


# -- what is written of it ------------------------------------------------------------------------


def _holes(part: Part, seat: Seat, thick: float) -> Iterator[str]:
    holes = fixture_holes(part, seat)
    for n, hole in enumerate(holes, 1):
        name = "locating" if hole.growth.hold.locates else "clearance"
        if hole.tapped:
            name = "tapped"
        if hole.face is not Face.TOP:
            # one right through serves the screws from both ends, where the block is short
            room = seat.size[hole.face.axis]
            short = room < 2 * _drilled(hole) + THIN
            if short and any(map(hole.meets, holes[: n - 1])):
                continue
            yield f"  {name} hole {n}: {_aside(hole, through=short)}"
        elif hole.tapped:
            through = thick < _drilled(hole) + THIN
            yield f"  {name} hole {n}: {_down(hole.at, _tapped(hole, through=through))}"
        else:
            yield f"  {name} hole {n}: {_from_below(hole, thick)}"


def _drilled(hole: FixtureHole) -> float:
    """How deep the drill goes for a thread that ends in the block [mm]."""
    return round(tapped_deep(hole.form) + PITCHES * hole.form.pitch, 1)


def _tapped(hole: FixtureHole, *, through: bool) -> dict[str, str | float]:
    if through:
        return {"thread": hole.form.name, "depth": "through"}
    deep: dict[str, str | float] = {"depth": tapped_deep(hole.form), "drill_depth": _drilled(hole)}
    return {"thread": hole.form.name} | deep


def _aside(hole: FixtureHole, *, through: bool) -> str:
    """A tapped hole in a side of the block."""
    along, below = hole.level
    at = {"front" if hole.face.axis == 0 else "left": along, "top": below}
    return as_written(HOLE.name, face=hole.face.value, at=at, **_tapped(hole, through=through))


def _from_below(hole: FixtureHole, thick: float) -> str:
    """A hole for a screw that comes through the block: of one too thick for any screw sold its
    head is sunk in from below."""
    room = longest_sold(hole.form) - TAPPED * hole.form.major - hole.form.pitch
    if thick <= room:
        return _down(hole.at, {"diameter": block_hole(hole), "depth": "through"})
    place = {"left": hole.at[0], "front": hole.at[1]}
    across = block_hole(hole)
    # the head has the room to shift that its screw has, in a counterbore of whole millimetres
    wide = ceil(WIDEST_HEAD * hole.form.major + across - hole.form.major)
    head = {"diameter": wide, "depth": round(thick - THICK, 1)}
    sizes: dict[str, str | float] = {"diameter": across, "depth": "through"}
    return as_written(HOLE.name, face="bottom", at=place, **sizes, counterbore=head)


def _pin_holes(stops: Sequence[Stop], *, reamed: bool) -> Iterator[str]:
    for n, stop in enumerate(stops, 1):
        size: dict[str, str | float] = {"diameter": stop.size, "depth": "through"}
        if reamed:
            size |= {"diameter": f"{stop.size:g} H7", "finish": "reamed"}
        yield f"  pin hole {n}: {_down(stop.at, size)}"


def _down(at: tuple[float, float], size: Mapping[str, str | float]) -> str:
    """A hole in the block's top, at a place of that."""
    place = {"left": at[0], "front": at[1]}
    return as_written(HOLE.name, face="top", at=place, **size)


def _cut_outs(slots: Sequence[CutOut], seat: Seat) -> Iterator[str]:
    for n, cut in enumerate(slots, 1):
        sides = ("front", "back") if cut.along else ("left", "right")
        wide = round(cut.high - cut.low, 4)
        if cut.at_edge(seat):
            edge = sides[0] if cut.low <= 0 else sides[1]
            text = as_written(STEP.name, face="top", edge=edge, width=wide, depth=CLEAR)
        else:
            text = as_written(
                SLOT.name,
                face="top",
                along="length" if cut.along else "width",
                position={sides[0]: (cut.low + cut.high) / 2},
                width=wide,
                depth=CLEAR,
            )
        yield f"  cut-out {n} at {cut.joint}: {text}"
