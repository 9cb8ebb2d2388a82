"""What is told of each heat: flux, what holds, attitude, where the flame goes, what melts when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from barstock.drawing.faces import Face
from barstock.drawing.vectors import dot
from barstock.fabricating.firing import Firing, Work, held_pieces
from barstock.fabricating.joints import Attitude, Holding
from barstock.handbook.brazing import brazing_alloy, flux
from barstock.handbook.materials import material


@dataclass(frozen=True)
class Heat:
    """One heat as it is told at the hearth.

    alloys: joint -> filler, of those made in it; working: temperature to bring the joints to [C];
    held: pieces that cannot move; flux: joints to flux, those of later heats on the same holding
    too, for they are heated along; flame: pieces in the order the flame goes to them, the heaviest
    first; feeds: joint -> side the rod is put to; melts: (temperature [C], what) in rising order;
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
    feeds: dict[str, str] = field(hash=False)
    melts: tuple[tuple[float, str], ...]
    remelts: tuple[str, ...]
    strip_before: bool


def told(work: Work, firings: Sequence[Firing]) -> tuple[Heat, ...]:
    """The heats of a plan as they are told."""
    heats, done = [], dict[str, str]()
    for number, firing in enumerate(firings):
        fired = {piece for name in firing.alloys for piece in work.joint[name].pieces}
        present = fired | firing.holding.holds
        present |= {piece for name in done for piece in work.joint[name].pieces}
        by_mass = sorted(present, key=lambda name: (-work.piece[name].mass, name))
        heats.append(Heat(
            number + 1,
            dict(firing.alloys),
            firing.holding,
            firing.attitude,
            firing.working,
            tuple(sorted(held_pieces(work, done, firing) & present)),
            tuple(_fluxed(firings, number)),
            tuple(sorted(by_mass, key=lambda name: name not in fired)),
            {name: _side(work, firing, name) for name in firing.alloys},
            tuple(sorted(_melts(work, done, firing, present))),
            firing.remelts(done),
            number > 0 and firings[number - 1].holding != firing.holding,
        ))  # fmt: skip
        done |= firing.alloys
    return tuple(heats)


def _fluxed(firings: Sequence[Firing], number: int) -> Iterator[str]:
    for firing in firings[number:]:
        if firing.holding != firings[number].holding:
            return
        yield from firing.alloys


def _side(work: Work, firing: Firing, name: str) -> str:
    """The face the rod is put to, or the two whose corner it is."""
    feed = firing.attitude.from_side(work.joint[name])
    if feed is None:
        return ""
    return " and ".join(face for face in Face if dot(feed, face.normal) > 0.3)


def _melts(
    work: Work, done: dict[str, str], firing: Firing, present: set[str]
) -> Iterator[tuple[float, str]]:
    active = flux(work.flux)
    yield active.low, f"{active.name} runs clear and works"
    for name, word in firing.alloys.items():
        alloy = brazing_alloy(word)
        yield alloy.solidus, f"{name}: {alloy.name} begins to melt"
        yield alloy.liquidus, f"{name}: {alloy.name} flows"
    for name, word in done.items():
        alloy = brazing_alloy(word)
        again = "melts again, held" if name in firing.remelts(done) else "would melt again"
        yield alloy.solidus, f"{name}, made before: {alloy.name} {again}"
    yield active.high, f"{active.name} is spent"
    for piece in present:
        row = material(work.piece[piece].material)
        yield row.melts, f"{piece} itself begins to melt ({row.name})"
