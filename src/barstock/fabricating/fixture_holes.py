"""Holes of a fixture's block for the screws that hold the work, and what growth asks of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from barstock.drawing.build import Face, Fault, Part, Vec
from barstock.drawing.part import FixingScrew, Fixture, Joined
from barstock.fabricating.firing import working_temperature
from barstock.fabricating.fixture_seat import Seat, air_in, resting, seat_on
from barstock.fabricating.growth import Hold, HoleGrowth, hole_growths
from barstock.fabricating.joints import PLACED
from barstock.handbook.heat import elongation
from barstock.handbook.threads import Thread, thread
from barstock.methods.cuts import HoleCut
from barstock.methods.feature_cuts import axes_of, hole_of, screw_hole
from barstock.quantities import Length

TAPPED = 1.5  # diameters of thread in a block that is tapped; common practice
CLOSE = 0.1  # by which a hole that locates is wider than its screw [mm]; common practice


@dataclass(frozen=True)
class FixtureHole:
    """A hole of the block for a screw: its mouth from the block's left and front and above its top,
    and the face of the block that it lies in [mm].

    tapped: the screw goes into the block, through a hole of the piece; else it comes through the
    block and goes into the piece.
    """

    screw: FixingScrew
    piece: str
    spot: Vec
    face: Face
    form: Thread
    tapped: bool
    growth: HoleGrowth

    @property
    def at(self) -> tuple[float, float]:
        """Where it is from the block's left and front [mm]."""
        return self.spot[0], self.spot[1]

    @property
    def below(self) -> float:
        """How far its middle lies below the block's top [mm]."""
        return -self.spot[2]

    @property
    def level(self) -> tuple[float, float]:
        """Of one in a side of the block: where it lies along that side, and how far below the top
        [mm]."""
        return self.spot[1 if self.face.axis == 0 else 0], self.below

    def meets(self, other: FixtureHole) -> bool:
        """Do two in opposite sides of the block lie on one axis?"""
        return other.face is self.face.opposite and other.level == self.level


def fixture_holes(part: Part, seat: Seat) -> list[FixtureHole]:
    """The holes that the block must have; the first in each of its faces locates, the others leave
    room to grow."""
    joined = part.joined
    assert joined is not None
    assert joined.fixture is not None
    places = list(_places(joined, seat))
    heat = working_temperature([joint.fillers[0] for joint in joined.joints])
    materials = {piece.name: piece.part.material for piece in joined.pieces}
    # what lies on the block is moved by the whole, a piece at its side by itself
    materials[part.name] = _quickest(joined, heat)
    faces = [face for _, _, _, face, _ in places]
    holds = tuple(
        Hold(
            name=screw.name,
            piece=part.name if face is Face.TOP else piece,
            at=(spot[flat[0]], spot[flat[1]]),
            hole=_piece_hole(joined, screw, form),
            shank=form.major,
            locates=n == faces.index(face),
        )
        for n, (screw, piece, spot, face, form) in enumerate(places)
        for flat in [[i for i in range(3) if i != face.axis]]
    )
    grown = hole_growths(holds, materials, joined.fixture.material, heat)
    return [
        FixtureHole(screw, piece, spot, face, form, screw.into is None, growth)
        for (screw, piece, spot, face, form), growth in zip(places, grown, strict=True)
    ]


def _places(joined: Joined, seat: Seat) -> Iterator[tuple[FixingScrew, str, Vec, Face, Thread]]:
    assert joined.fixture is not None
    for screw in joined.screws:
        if not screw.fixes:
            continue
        hole = screw.holes[-1]
        word = screw.thread or screw_hole(joined, hole).thread
        # the block lies to this side of the piece
        way = seat.beside.get(hole.piece, joined.fixture.under)
        for at, axis in axes_of(joined, hole):
            toward = way if axis.axis == way.axis else joined.fixture.under
            face = seat.face(toward.opposite)
            left, front = seat.at(at)
            spot = [left, front, seat.above(at)]
            spot[face.axis] = 0.0 if face.sign < 0 or face is Face.TOP else seat.size[face.axis]
            yield screw, hole.piece, (spot[0], spot[1], spot[2]), face, thread(word)


def _quickest(joined: Joined, heat: float) -> str:
    """The material of the pieces that grows most, which the whole cannot outgrow."""
    return max((p.part.material for p in joined.pieces), key=lambda of: elongation(of, heat))


def _piece_hole(joined: Joined, screw: FixingScrew, form: Thread) -> float:
    """Diameter of the hole that the screw has room in: the piece's where the block is tapped."""
    if screw.into is None and screw.through:
        return screw_hole(joined, screw.through[-1]).diameter
    return form.major + CLOSE


def block_hole(hole: FixtureHole) -> float:
    """The diameter of a plain hole of the block [mm]: close to locate, else with room to grow."""
    if hole.growth.hold.locates:
        return round(hole.form.major + CLOSE, 3)
    return ceil(hole.growth.needs * 10 - 1e-9) / 10


def tapped_deep(form: Thread) -> float:
    """The depth of thread in a block that holds a screw [mm]."""
    return ceil(2 * (TAPPED * form.major + 2 * form.pitch)) / 2


def bore_of(block: Part, hole: FixtureHole) -> HoleCut | None:
    """The block's own hole at a place, open to that face of it."""
    flat = [i for i in range(3) if i != hole.face.axis]
    wanted = (*hole.at, block.size[2] + hole.spot[2])
    for bore in (hole_of(feature, block) for feature in block.features):
        if bore is None or bore.face.axis != hole.face.axis:
            continue
        if bore.face is hole.face or bore.through:
            for at in bore.at:
                if all(abs(at[i] - wanted[i]) < PLACED for i in flat):
                    return bore
    return None


@dataclass(frozen=True)
class InBlock:
    """A block's hole as a screw finds it from the work's side [mm]. plain: of the way to the thread
    or the head's seat; thread: full thread behind it; out: room behind a thread right through;
    blind: it ends in the block."""

    plain: float
    thread: float
    out: float
    blind: bool


def in_block(block: Part, hole: FixtureHole, *, shared: bool) -> InBlock | None:
    """What a screw finds in the block, None where that has no such hole. shared: another screw
    comes into a hole right through from its other end."""
    bore = bore_of(block, hole)
    if bore is None:
        return None
    thick = block.size[hole.face.axis]
    sunk = bore.counterbore[1] if bore.counterbore else 0.0
    near = sunk if bore.face is hole.face else 0.0
    if not hole.tapped:
        return InBlock(thick - sunk, 0.0, 0.0, blind=False)
    if not bore.through:
        return InBlock(near, bore.depth - near, 0.0, blind=True)
    if shared:
        return InBlock(near, (thick - sunk) / 2, 0.0, blind=True)
    return InBlock(near, thick - sunk, sunk - near, blind=False)


def heads_beneath(part: Part, fixture: Fixture) -> Iterator[Fault]:
    """Screws from piece to piece whose heads would stand between the work and the block. A cap
    screw's head is as tall as its thread is thick (ISO 4762; from memory)."""
    joined = part.joined
    assert joined is not None
    assert fixture.part is not None
    seat, lowest = seat_on(part, fixture), [piece.name for piece in resting(part, fixture)]
    axis, sign = fixture.under.axis, fixture.under.sign
    air = air_in(fixture.part)
    for screw in joined.screws:
        if screw.fixes or screw.into is None or screw.through[0].piece not in lowest:
            continue
        head = axes_of(joined, screw.through[0])
        middles = [sum(joined.piece(hole.piece).box[i][axis] for i in (0, 1)) / 2
                   for hole in (screw.through[0], screw.into)]  # fmt: skip
        from_above = (middles[1] - middles[0]) * sign > 0
        if head[0][1].axis != axis or from_above:
            continue
        counterbore = screw_hole(joined, screw.through[0]).counterbore
        tall = thread(screw_hole(joined, screw.into).thread).major
        sunk = counterbore[1] if counterbore else 0.0
        if head[0][1] is not fixture.under:
            sunk = 0.0
        if any(sunk + air(seat.at(at)) < tall for at, _ in head):
            what = (
                f"the head of fixing screw '{screw.name}', {Length(tall):g} tall, stands between "
                f"the work and its fixture, which lies under the {fixture.under} face"
            )
            mend = "counterbore its hole, put it in from the other side, or lay another face down"
            yield Fault(screw.place, what, mend, part.name)
