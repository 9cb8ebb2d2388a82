"""Each heat in detail: flux, what holds, attitude, where the flame goes, what melts when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from barstock.drawing.faces import Face
from barstock.drawing.vectors import dot
from barstock.fabricating.firing import Firing, Work, held_pieces
from barstock.fabricating.joints import Attitude, Holding
from barstock.handbook.brazing import brazing_alloy, flux
from barstock.handbook.materials import material
from barstock.route import Melt, MeltKind


@dataclass(frozen=True)
class PlannedHeat:
    """One heat as it is made at the hearth.

    alloys: joint -> filler, of those made in it; working: temperature to bring the joints to [C];
    held: pieces that cannot move; flux: joints to flux, those of later heats on the same holding
    too, for they are heated along; flame: pieces in the order the flame goes to them, the heaviest
    first; feeds: joint -> sides the rod is put to; melts: in rising order;
    remelts: earlier joints that melt again, held all the while; strip_before: does the work come
    off its holding before this heat?
    """

    number: int
    alloys: dict[str, str] = field(hash=False)
    holding: Holding
    attitude: Attitude
    working: float
    held: tuple[str, ...]
    flux: tuple[str, ...]
    flame: tuple[str, ...]
    feeds: dict[str, tuple[Face, ...]] = field(hash=False)
    melts: tuple[Melt, ...]
    remelts: tuple[str, ...]
    strip_before: bool


def detailed(
    work: Work, firings: Sequence[Firing], *, anew: bool = False
) -> tuple[PlannedHeat, ...]:
    """The heats of a plan in detail. anew: the work comes off between any two, for the careful
    order.
    """
    heats, done = [], dict[str, str]()
    for number, firing in enumerate(firings):
        fired = {piece for name in firing.alloys for piece in work.joint[name].pieces}
        present = fired | firing.holding.holds
        present |= {piece for name in done for piece in work.joint[name].pieces}
        by_mass = sorted(present, key=lambda name: (-work.piece[name].mass, name))
        heats.append(PlannedHeat(
            number + 1,
            dict(firing.alloys),
            firing.holding,
            firing.attitude,
            firing.working,
            tuple(sorted(held_pieces(work, done, firing) & present)),
            tuple(_fluxed(firings, number)),
            tuple(sorted(by_mass, key=lambda name: name not in fired)),
            {name: _sides(work, firing, name) for name in firing.alloys},
            tuple(sorted(_melts(work, done, firing, present), key=_rising)),
            firing.remelts(done),
            number > 0 and (anew or firings[number - 1].holding != firing.holding),
        ))  # fmt: skip
        done |= firing.alloys
    return tuple(heats)


def _fluxed(firings: Sequence[Firing], number: int) -> Iterator[str]:
    for firing in firings[number:]:
        if firing.holding != firings[number].holding:
            return
        yield from firing.alloys


def _sides(work: Work, firing: Firing, name: str) -> tuple[Face, ...]:
    """The face the rod is put to, or the two whose corner it is."""
    feed = firing.attitude.from_side(work.joint[name])
    return tuple(face for face in Face if feed and dot(feed, face.normal) > 0.3)


def _melts(work: Work, done: dict[str, str], firing: Firing, present: set[str]) -> Iterator[Melt]:
    active = flux(work.flux)
    yield Melt(at=active.low, kind=MeltKind.FLUX_WORKS, metal=active.name)
    for name, word in firing.alloys.items():
        alloy = brazing_alloy(word)
        yield Melt(at=alloy.solidus, kind=MeltKind.BEGINS, of=name, metal=alloy.name)
        yield Melt(at=alloy.liquidus, kind=MeltKind.FLOWS, of=name, metal=alloy.name)
    for name, word in done.items():
        alloy = brazing_alloy(word)
        kind = MeltKind.AGAIN_HELD if name in firing.remelts(done) else MeltKind.AGAIN
        yield Melt(at=alloy.solidus, kind=kind, of=name, metal=alloy.name)
    yield Melt(at=active.high, kind=MeltKind.FLUX_SPENT, metal=active.name)
    for piece in present:
        row = material(work.piece[piece].material)
        yield Melt(at=row.melts, kind=MeltKind.PIECE, of=piece, metal=row.name)


def _rising(melt: Melt) -> tuple[float, str]:
    return melt.at, melt.of or melt.metal
