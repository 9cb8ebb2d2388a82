"""The heats of a fabrication: the fewest, exactly, and the careful order of one joint at a time."""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Attitude, Finding, Holding, Joint, Piece


@dataclass(frozen=True)
class HeatTimes:
    """Minutes: heat: flux, assemble on the hearth, fire and cool; strip: take off the fixture,
    clean and set up again; turn: lay the fixture another way up. Common practice."""

    heat: float = 20.0
    strip: float = 30.0
    turn: float = 5.0
    pickle: float = 15.0


@dataclass(frozen=True)
class Heat:
    """One firing. alloys: joint -> filler; working: temperature to bring the joints to [C]; held:
    pieces held by the holding, by screws and by joints that stay solid; flux: joints fluxed;
    flame: pieces in the order the flame visits them, heaviest first; melts: (temperature [C], what)
    in rising order; remelts: earlier joints that melt again, held all the while."""

    number: int
    joints: tuple[str, ...]
    alloys: dict[str, str]
    holding: Holding
    attitude: Attitude
    working: float
    held: tuple[str, ...]
    flame: tuple[str, ...]
    feeds: dict[str, str]
    melts: tuple[tuple[float, str], ...]
    remelts: tuple[str, ...]
    strip_before: bool


@dataclass(frozen=True)
class HeatPlan:
    """The heats in order. strips: times the work comes off its holding between heats; reasons: why
    no fewer heats would do."""

    heats: tuple[Heat, ...]
    strips: int
    minutes: float
    reasons: tuple[str, ...]
    findings: tuple[Finding, ...] = ()


def fewest_heats(
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    holdings: tuple[Holding, ...],
    *,
    most_per_heat: int = 0,
    apart: tuple[frozenset[str], ...] = (),
    flux: str = "FH10",
    times: HeatTimes | None = None,
) -> HeatPlan:
    """The plan with the fewest heats, then strip-downs, then minutes; exact.

    most_per_heat: 1 for one joint at a time, 0 for as many as will go; apart: joints that must not
    share a heat. Where there is no plan, heats is empty and findings name what stands in the way.
    """
    raise NotImplementedError


def check_heats(
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    heats: tuple[Heat, ...],
) -> tuple[Finding, ...]:
    """What is wrong with heats in the user's own order: a joint melted again and not held, filler
    that would have to run uphill, alloys too far apart, a piece that melts."""
    raise NotImplementedError
