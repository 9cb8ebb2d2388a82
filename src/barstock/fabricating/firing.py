"""Judges one heat: how hot, what stays solid, what is held, and everything that would be wrong with
it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import Attitude, Holding, Joint, Piece
from barstock.handbook.brazing import brazing_alloy, flux
from barstock.handbook.materials import material
from barstock.route import HeatReasonKind

SAFE = 10.0
"""How far below its solidus an earlier joint must stay [K]. A flame heats unevenly; common
practice."""

OVERHEAT = 80.0
"""How far above its liquidus an alloy goes before its zinc boils off [K]. Common practice."""

BELOW_MELTING = 40.0
"""How far below its melting a piece must stay [K]. Common practice."""


@dataclass(frozen=True)
class Work:
    """The work to be joined, and the flux for it."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    flux: str = "FH10"

    @cached_property
    def piece(self) -> dict[str, Piece]:
        """The pieces by name."""
        return {piece.name: piece for piece in self.pieces}

    @cached_property
    def joint(self) -> dict[str, Joint]:
        """The joints by name."""
        return {joint.name: joint for joint in self.joints}


@dataclass(frozen=True)
class Firing:
    """One heat to be judged. alloys: joint -> filler, of the joints made in it."""

    alloys: Mapping[str, str] = field(hash=False)
    holding: Holding
    attitude: Attitude

    @property
    def working(self) -> float:
        """The temperature to bring the joints to [C]."""
        return working_temperature(self.alloys.values())

    def remelts(self, done: Mapping[str, str]) -> tuple[str, ...]:
        """The joints made before (joint -> filler) that melt again."""
        limit = self.working + SAFE
        return tuple(name for name, alloy in done.items() if brazing_alloy(alloy).solidus < limit)


def working_temperature(alloys: Iterable[str]) -> float:
    """The temperature that a heat with these alloys is brought to [C]: the last one to flow
    decides.

    >>> working_temperature(["Ag 155"])
    680.0
    """
    return max(brazing_alloy(name).working for name in alloys)


def held_pieces(work: Work, done: Mapping[str, str], firing: Firing) -> frozenset[str]:
    """The pieces that cannot move in a heat: by the holding, by screws to one that cannot, or by a
    joint that stays solid. Where nothing holds, the heaviest piece lies on the hearth by its own
    weight."""
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
    """The findings of a heat after the joints done before it (joint -> filler)."""
    yield from _not_downhill(work, firing)
    yield from (found.finding for found in unfit(work, done, firing))
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
            what = f"filler would have to run uphill with the {firing.attitude}"
            yield Finding(Mistake.NO_HEAT, name, what, "turn the work, or heat it another time")


@dataclass(frozen=True)
class Unfit:
    """A metal, or the flux, that a heat's temperature does not suit. kind: what it then does;
    about: the joint, piece or flux, "" for the fixture; metal: its name; limit: its own
    temperature; working: the heat's [C]."""

    kind: HeatReasonKind
    about: str
    metal: str
    limit: float
    working: float

    @property
    def finding(self) -> Finding:
        """The finding that tells of it, and what to do."""
        goes = f"this heat goes to {self.working:g} °C"
        match self.kind:
            case HeatReasonKind.ZINC_BOILS:
                what = f"{self.metal} flows at {self.limit:g} °C, {goes}: its zinc boils off"
                return Finding(Mistake.NO_HEAT, self.about, what, "heat them apart")
            case HeatReasonKind.FLUX_SPENT:
                what = f"it is spent above {self.limit:g} °C, {goes}"
                return Finding(Mistake.FLUX, self.about, what, "take a flux for higher heats")
            case HeatReasonKind.FLUX_LATE:
                what = f"it works only from {self.limit:g} °C, above where the filler melts"
                return Finding(Mistake.FLUX, self.about, what, "take a flux for lower heats")
        what = f"{self.metal} begins to melt at {self.limit:g} °C, {goes}"
        if self.kind is HeatReasonKind.FIXTURE_MELTS:
            return Finding(Mistake.MELTS, "on the fixture", what, "make the fixture of steel")
        return Finding(Mistake.MELTS, self.about, what, "take an alloy that melts lower")


def unfit(work: Work, done: Mapping[str, str], firing: Firing) -> Iterator[Unfit]:
    """The metals and fluxes that a heat's temperature does not suit: its fillers, the flux, fixture
    and pieces.
    """
    working, chosen, alloys = firing.working, flux(work.flux), dict(firing.alloys)
    for name, alloy in ((name, brazing_alloy(word)) for name, word in alloys.items()):
        if working > alloy.liquidus + OVERHEAT:
            yield Unfit(HeatReasonKind.ZINC_BOILS, name, alloy.name, alloy.liquidus, working)
    if working > chosen.high:
        yield Unfit(HeatReasonKind.FLUX_SPENT, chosen.name, chosen.name, chosen.high, working)
    if chosen.low > min(brazing_alloy(word).solidus for word in alloys.values()):
        yield Unfit(HeatReasonKind.FLUX_LATE, chosen.name, chosen.name, chosen.low, working)
    block = firing.holding.material
    if block and working > material(block).melts - BELOW_MELTING:
        row = material(block)
        yield Unfit(HeatReasonKind.FIXTURE_MELTS, "", row.name, row.melts, working)
    present = {p for name in (*done, *alloys) for p in work.joint[name].pieces}
    for name in sorted(present | firing.holding.holds):
        row = material(work.piece[name].material)
        if working > row.melts - BELOW_MELTING:
            yield Unfit(HeatReasonKind.PIECE_MELTS, name, row.name, row.melts, working)
