"""How work and fixture grow on the way to soldering heat, and what that does to holes and gaps.

A piece grows about the place where the fixture holds it, the fixture about its datum; lengths by
the elongation from 20 C (handbook/heat.py). A thick fixture lags behind the flame, so the worse of
two cases counts: as hot as the work, and `lag` behind it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, hypot

from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import PLACED
from barstock.handbook.heat import SPREAD, elongation
from barstock.quantities import Length

LAG = 150.0
"""How far a fixture stays behind the work [K]. Common practice."""


@dataclass(frozen=True)
class Hold:
    """A screw or pin that holds a piece on the fixture.

    at: its centre in the fixture's frame [mm]; hole: in the piece, shank: of the screw or pin [mm];
    locates: meant to fix the piece's place (a close hole); error: how far the two holes may be out
    of line cold [mm].
    """

    name: str
    piece: str
    at: tuple[float, float]
    hole: float
    shank: float
    locates: bool = False
    error: float = PLACED


@dataclass(frozen=True)
class HoleGrowth:
    """The growth at a hold. shift: of the piece's hole against the fixture's, at the worse of hot
    and lagging fixture (x, y) [mm]; needs: least hole in the piece that stays free [mm].
    """

    hold: Hold
    shift: tuple[float, float]
    needs: float

    @property
    def spare(self) -> float:
        """The room left at heat, across the hole [mm]; negative: the screw binds."""
        return self.hold.hole - self.needs


@dataclass(frozen=True)
class Side:
    """One side of a joint along one line. held: where the fixture holds the piece; face: where its
    face of the joint is; both in the fixture's frame [mm]."""

    piece: str
    held: float
    face: float


def hole_growths(
    holds: tuple[Hold, ...],
    materials: Mapping[str, str],
    fixture: str,
    heat: float,
    lag: float = LAG,
) -> tuple[HoleGrowth, ...]:
    """The growth at every hold; each piece grows about its first hold that locates, else about its
    first.

    materials: piece -> material; fixture: its material; heat: working temperature [C]; lag [K].
    Raises UnknownMaterialError, NoFigureError.
    """
    found = []
    for hold in holds:
        own = [each for each in holds if each.piece == hold.piece]
        about = next((each for each in own if each.locates), own[0])
        away = (hold.at[0] - about.at[0], hold.at[1] - about.at[1])
        grows = outgrows(materials[hold.piece], fixture, heat, lag)
        worst = max(grows, key=abs)
        shift = (away[0] * worst, away[1] * worst)
        error = 0.0 if hold is about else hold.error
        found.append(HoleGrowth(hold, shift, hold.shank + 2 * (hypot(*shift) + error)))
    return tuple(found)


def holds_too_tight(growths: tuple[HoleGrowth, ...]) -> tuple[Finding, ...]:
    """The holds that bind at heat, each with the hole that would do."""
    found = []
    for each in growths:
        if each.spare < -1e-9:
            hold, move = each.hold, hypot(*each.shift)
            what = (
                f"at heat {hold.piece} and the fixture shift {Length(move):.2f} apart there, and "
                f"cold the holes may be {Length(hold.error):g} out of line: the "
                f"{Length(hold.hole):g} hole binds"
            )
            wide = ceil(each.needs * 10 - 1e-9) / 10
            mend = f"open the hole to {Length(wide):.1f}, or make it a slot along the growth"
            found.append(Finding(Mistake.FIXTURE, hold.name, what, mend))
    return tuple(found)


def gap_change(
    low: Side, high: Side, materials: Mapping[str, str], fixture: str, heat: float, lag: float = LAG
) -> tuple[float, float]:
    """The amount that a gap between two held pieces opens by at heat, least and most [mm].

    low: the side nearer the fixture's datum. Negative: it closes.
    """
    changes = []
    for temperature in (heat, heat - lag):
        block = elongation(fixture, temperature)
        held = (high.held - low.held) * block
        faces = [(s.face - s.held) * elongation(materials[s.piece], heat) for s in (high, low)]
        changes.append(held + faces[0] - faces[1])
    return min(changes), max(changes)


def spigot_change(diameter: float, outer: str, inner: str, heat: float) -> float:
    """By how much a spigot's radial gap opens at heat [mm]; diameter: of the spigot [mm]; outer,
    inner: materials. Negative: it closes."""
    return radial_change(diameter, elongation(outer, heat), elongation(inner, heat))


def radial_change(diameter: float, outer: float, inner: float) -> float:
    """The opening of a spigot's gap from the elongations of both (mm/mm).

    >>> round(radial_change(20.0, 0.0135, 0.0092), 3)
    0.043
    """
    return diameter / 2 * (outer - inner)


@dataclass(frozen=True)
class PitchAfter:
    """A pitch that the fixture sets: cold on the fixture, and cold again after joining [mm]."""

    cold: float
    after: float

    @property
    def change(self) -> float:
        """The amount it has spread (positive) or closed up (negative) by [mm]."""
        return self.after - self.cold

    @property
    def set_cold(self) -> float:
        """The pitch to set on the fixture for it to come out as drawn [mm]."""
        return self.cold**2 / self.after


def pitch_after(spans: tuple[tuple[str, float], ...], fixture: str, freezes: float) -> PitchAfter:
    """The pitch after joining that the fixture holds until the filler freezes.

    spans: materials between its two ends, with the length of each [mm]; freezes: the filler's
    solidus [C], from where the pieces shrink as one; the fixture is taken to be as hot by then.
    """
    cold = sum(length for _, length in spans)
    at_freezing = cold * (1 + elongation(fixture, freezes))
    grown = sum(length * (1 + elongation(of, freezes)) for of, length in spans)
    return PitchAfter(cold, at_freezing * cold / grown)


def outgrows(of: str, fixture: str, heat: float, lag: float = LAG) -> tuple[float, float]:
    """By how much a piece outgrows the fixture at most and at least (mm/mm): fixture `lag` [K]
    behind and the piece of a quick-growing bar, fixture as hot and the piece of a slow one. heat:
    working temperature [C]. Bars of one material are taken to grow alike.

    Raises UnknownMaterialError, NoFigureError.
    """
    piece = elongation(of, heat)
    spread = 0.0 if of == fixture else SPREAD
    quick = piece * (1 + spread) - elongation(fixture, heat - lag)
    slow = piece * (1 - spread) - elongation(fixture, heat)
    return quick, slow
