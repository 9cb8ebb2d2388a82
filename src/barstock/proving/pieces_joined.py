"""Proves a fabrication: its pieces as they came out, where the route stands them, cut as one.

Fillets of filler are left out, and so is the thickness of its gaps, but for the ring round a spigot
in its hole. Pieces stand as drawn; where one came out a little short of the other, by rounding to
the dials and within the gap, filler closes what is open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import Any

from barstock.proving.fillets import in_the_way
from barstock.proving.holding.on_fixture import seated
from barstock.proving.machining import Memory, Work
from barstock.proving.proof_record import Stage, Violation
from barstock.proving.wanted import Wanted
from barstock.quantities import Length
from barstock.route import Fabrication, JointToMake, Ring, Setup
from barstock.solids.shapes import Placement, Solid, box, cylinder, nothing
from barstock.store.content import key

FAR = 1e9
TAKEN = 0.01  # share of a spigot's hole that may be metal, by the rounding of readings
TOUCHING = 1e-7  # pieces no further apart are one [mm]
ROUNDED = 0.03  # by which two ends may fall short, each rounded to a dial's step [mm]
OVERLAP = 0.0005  # of such filler into the second piece, so that they are one [mm]
DEEP = 0.5  # of it into the first one [mm]
SAME = 0.002  # an end within this of the drawing's is no longer left over [mm]


@dataclass(frozen=True)
class JoinedJob:
    """A fabrication to prove: what is wanted of it, and the setups it goes through as one.

    finished: the solids of its pieces' parts, and of its fixture's block, as their own routes leave
    them, None where one fails.
    """

    want: Wanted
    record: Fabrication
    finished: Mapping[str, Solid | None]
    setups: tuple[Setup, ...]
    copies: int
    least_wall: float = 1.0


def parts_of(record: Fabrication) -> tuple[str, ...]:
    """The parts that a fabrication is joined from, and its fixture's block."""
    names = [piece.part for piece in record.pieces]
    return tuple(dict.fromkeys(names + ([record.fixture.part] if record.fixture else [])))


def joined_key(own: str, record: Fabrication | None, pieces: Mapping[str, str]) -> str:
    """The key a fabrication's proof is kept by. own: its own key; pieces: those of the proofs of
    `parts_of`.
    """
    kept: Any = {"part": True, "copies": True, "pieces": True, "fixture": True,
            "joints": {"__all__": {"name", "pieces", "ring", "fillets", "low", "high", "side",
                                   "gap_most"}}}  # fmt: skip
    told = record.model_dump(mode="json", include=kept) if record else None
    return key(own, told, dict(sorted(pieces.items())))


def fused(job: JoinedJob) -> tuple[Solid, list[Violation]]:
    """The pieces as one, and what is wrong with that."""
    faults: list[Violation] = []
    standing: dict[str, Solid] = {}
    for piece in job.record.pieces:
        made = job.finished.get(piece.part)
        if made is None:
            what = f"piece '{piece.name}' does not come out of the route of '{piece.part}'"
            faults.append(Violation(what, f"mend '{piece.part}' first", job.want.part))
            continue
        a, b, c = piece.rows
        standing[piece.name] = made.moved(Placement((a, b, c), piece.shift))
    rings = [joint.ring for joint in job.record.joints if joint.ring is not None]
    if not faults:
        faults += [v.at(job.want.part) for ring in rings for v in _in_its_hole(ring, standing)]
    filler = [_filled(ring) for ring in rings]
    filler += [f for joint in job.record.joints if (f := _between(joint, standing)) is not None]
    whole = nothing().fuse(*standing.values(), *filler)
    fixture = job.record.fixture
    block = job.finished.get(fixture.part) if fixture else None
    if fixture and block is None:
        what = f"the fixture does not come out of the route of '{fixture.part}'"
        faults.append(Violation(what, f"mend '{fixture.part}' first", job.want.part))
    elif fixture and block is not None and not faults:
        faults += [v.at(job.want.part) for v in seated(fixture, block, whole)]
    count = len(whole.lumps())
    if not faults and count != 1:
        what = f"the pieces, as they stand, make {count} lumps and not one"
        faults.append(Violation(what, "look at where they stand", job.want.part))
    return whole, faults


def _between(joint: JointToMake, standing: Mapping[str, Solid]) -> Solid | None:
    """The filler between two pieces that came out a little apart: the first one's end, as far on as
    it takes to meet the second. None where they touch, or stand further apart than a gap."""
    first, second = (standing.get(name) for name in joint.pieces)
    if joint.ring is not None or first is None or second is None:
        return None
    apart = first.distance(second)
    if not TOUCHING < apart <= joint.gap_most + ROUNDED:
        return None
    onward = [(apart + OVERLAP) * n for n in joint.side.normal]
    low = [a - (DEEP if n else 0.0) for a, n in zip(joint.low, joint.side.normal, strict=True)]
    high = [a + (DEEP if n else 0.0) for a, n in zip(joint.high, joint.side.normal, strict=True)]
    about = box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    moved = first.moved(Placement(shift=(onward[0], onward[1], onward[2])))
    return moved.common(about)


def _filled(ring: Ring) -> Solid:
    """The hole of a spigot, filled."""
    way = [b - a for a, b in zip(ring.mouth, ring.end, strict=True)]
    deep = hypot(*way)
    x, y, z = (w / deep for w in way)
    return cylinder(ring.mouth, (x, y, z), ring.across / 2, deep)


def _in_its_hole(ring: Ring, standing: Mapping[str, Solid]) -> Iterator[Violation]:
    """Does a spigot stand in a hole that is there, with room for filler all round?"""
    inner, outer = standing[ring.inner], standing[ring.outer]
    room = _filled(ring)
    taken = room.common(outer).volume
    if taken > TAKEN * room.volume:
        yield Violation(
            f"'{ring.inner}' does not stand in a hole of '{ring.outer}' as made: "
            f"{Length(taken, power=3):.1f} of metal are in its way",
            f"look at the hole's place and depth in '{ring.outer}'",
        )
    elif inner.common(outer).volume > TAKEN * room.volume:
        yield Violation(
            f"'{ring.inner}' and '{ring.outer}' run into each other as made",
            "look at the hole's diameter and depth",
        )


def joined_work(job: JoinedJob, whole: Solid, memory: Memory) -> Work:
    """The joined pieces ready for their setups. An end that stands proud is rough until filed."""
    (low, high), (floor, roof) = whole.bounds, job.want.drawn.bounds
    ends = (
        low[0] if low[0] < floor[0] - SAME else -FAR,
        high[0] if high[0] > roof[0] + SAME else FAR,
    )
    story = job.record.model_dump_json()
    return Work(job.want.part, whole, story, job.want.drawn, job.least_wall, memory, ends=ends)


def through(work: Work, job: JoinedJob) -> Iterator[Violation | Stage]:
    """Go through the setups of the whole; tells what is wrong and how it then looks."""
    for setup in job.setups:
        if setup.copies < job.copies:
            yield Violation(
                f"only {setup.copies} of {job.copies} copies go through it",
                "load every copy",
                job.want.part,
                setup.id,
            )
    setups = {setup.id: setup for setup in job.setups}
    for told in work.through(list(job.setups)):
        yield told
        if isinstance(told, Stage) and told.setup in setups:
            for found in in_the_way(job.record.joints, setups[told.setup], told):
                yield found.at(job.want.part)
