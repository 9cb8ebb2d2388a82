"""One heat: how hot, what stays solid, what is held, and everything that would be wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from barstock.fabricating.joints import Attitude, Finding, Holding, Joint, Mistake, Piece
from barstock.handbook.brazing import BrazingAlloy, CadmiumError, brazing_alloy, flux
from barstock.handbook.materials import material

SAFE = 10.0
"""How far below its solidus an earlier joint must stay [K]. A flame heats unevenly; common
practice."""

OVERHEAT = 80.0
"""How far above its liquidus an alloy goes before its zinc boils off [K]. Common practice."""

BELOW_MELTING = 40.0
"""How far below its melting a piece must stay [K]. Common practice."""


@dataclass(frozen=True)
class Work:
    """What is to be joined, and the flux for it."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    flux: str = "FH10"

    @cached_property
    def piece(self) -> dict[str, Piece]:
        """Pieces by name."""
        return {piece.name: piece for piece in self.pieces}

    @cached_property
    def joint(self) -> dict[str, Joint]:
        """Joints by name."""
        return {joint.name: joint for joint in self.joints}


@dataclass(frozen=True)
class Firing:
    """One heat to be judged. alloys: joint -> filler, of the joints made in it."""

    alloys: Mapping[str, str] = field(hash=False)
    holding: Holding
    attitude: Attitude

    @property
    def working(self) -> float:
        """Temperature to bring the joints to [C]."""
        return working_temperature(self.alloys.values())

    def remelts(self, done: Mapping[str, str]) -> tuple[str, ...]:
        """The joints made before (joint -> filler) that melt again."""
        limit = self.working + SAFE
        return tuple(name for name, alloy in done.items() if brazing_alloy(alloy).solidus < limit)


def working_temperature(alloys: Iterable[str]) -> float:
    """What a heat with these alloys is brought to [C]: the last one to flow decides.

    >>> working_temperature(["Ag 155"])
    680.0
    """
    return max(brazing_alloy(name).working for name in alloys)


def refused(alloy: str) -> Finding | None:
    """The finding against an alloy with cadmium, None for one that may be used.

    Raises UnknownAlloyError.
    """
    try:
        brazing_alloy(alloy)
    except CadmiumError as wrong:
        return Finding(Mistake.CADMIUM, alloy, str(wrong))
    return None


def held_pieces(work: Work, done: Mapping[str, str], firing: Firing) -> frozenset[str]:
    """The pieces that cannot move in a heat: by the holding, by screws to one that cannot, or by a
    joint that stays solid. Where nothing holds, the heaviest piece lies on the hearth of itself."""
    fired = {name for joint in firing.alloys for name in work.joint[joint].pieces}
    heaviest = max(sorted(fired), key=lambda name: work.piece[name].mass)
    held = set(firing.holding.holds or {heaviest})
    solid = set(done) - set(firing.remelts(done))
    ties = [set(j.pieces) for j in work.joints if j.screwed or j.name in solid]
    while True:
        more = {name for tie in ties if tie & held for name in tie - held}
        if not more:
            return frozenset(held)
        held |= more


def wrongs(work: Work, done: Mapping[str, str], firing: Firing) -> Iterator[Finding]:
    """Everything wrong with a heat after the joints done before it (joint -> filler)."""
    yield from _not_downhill(work, firing)
    yield from _too_hot(work, done, firing)
    held = held_pieces(work, done, firing)
    for name in firing.alloys:
        joint = work.joint[name]
        loose = [piece for piece in joint.pieces if piece not in held]
        if loose:
            what = f"nothing holds {' and '.join(loose)} while the filler runs"
            yield Finding(Mistake.NO_HEAT, name, what, "add a fixing screw, or a place for it on "
                          "the fixture")  # fmt: skip
    for name in firing.remelts(done):
        joint = work.joint[name]
        loose = [piece for piece in joint.pieces if piece not in held]
        if loose:
            alloy = brazing_alloy(done[name])
            what = (
                f"melts again: {alloy.name} is solid below {alloy.solidus:g} °C and this heat "
                f"goes to {firing.working:g} °C, with nothing to hold {' and '.join(loose)}"
            )
            mend = "hold it by a screw or the fixture, or solder it with an alloy that melts higher"
            yield Finding(Mistake.REMELT, name, what, mend)


def _not_downhill(work: Work, firing: Firing) -> Iterator[Finding]:
    for name in firing.alloys:
        if not firing.attitude.downhill(work.joint[name]):
            what = f"filler would have to run uphill with the {firing.attitude.name}"
            yield Finding(Mistake.NO_HEAT, name, what, "turn the work, or heat it another time")


def _too_hot(work: Work, done: Mapping[str, str], firing: Firing) -> Iterator[Finding]:
    working, chosen = firing.working, flux(work.flux)
    for name, word in firing.alloys.items():
        alloy = brazing_alloy(word)
        if working > alloy.liquidus + OVERHEAT:
            what = f"{alloy.name} flows at {alloy.liquidus:g} °C, this heat goes to {working:g} °C"
            yield Finding(Mistake.NO_HEAT, name, what + ": its zinc boils off", "heat them apart")
    if working > chosen.high:
        what = f"it is spent above {chosen.high:g} °C, this heat goes to {working:g} °C"
        yield Finding(Mistake.FLUX, chosen.name, what, "take a flux for higher heats")
    if chosen.low > min(_alloys(firing), key=lambda a: a.solidus).solidus:
        what = f"it works only from {chosen.low:g} °C, above where the filler melts"
        yield Finding(Mistake.FLUX, chosen.name, what, "take a flux for lower heats")
    block = firing.holding.material
    if block and working > material(block).melts - BELOW_MELTING:
        row = material(block)
        what = f"{row.name} begins to melt at {row.melts:g} °C, this heat goes to {working:g} °C"
        yield Finding(Mistake.MELTS, firing.holding.name, what, "make the fixture of steel")
    present = {p for name in (*done, *firing.alloys) for p in work.joint[name].pieces}
    for name in sorted(present | firing.holding.holds):
        row = material(work.piece[name].material)
        if working > row.melts - BELOW_MELTING:
            what = f"{row.name} begins to melt at {row.melts:g} °C, this heat goes to {working:g}"
            yield Finding(Mistake.MELTS, name, what + " °C", "take an alloy that melts lower")


def _alloys(firing: Firing) -> list[BrazingAlloy]:
    return [brazing_alloy(name) for name in firing.alloys.values()]
