"""How work and fixture grow on the way to soldering heat, and what that does to holes and gaps.

Linear growth from 20 C by the mean coefficient of the material between 20 C and the temperature
(handbook/hot.py). A piece grows about the place where the fixture holds it; the fixture about its
datum.
"""

from __future__ import annotations

from dataclasses import dataclass

from barstock.joining.model import Finding


@dataclass(frozen=True)
class Hold:
    """A screw or pin that holds a piece on the fixture.

    at: its centre in the fixture's frame, from the fixture's datum [mm]; hole: in the piece,
    shank: of the screw or pin [mm]; locates: meant to fix the piece's place (close hole or pin);
    error: how far the two holes may be out of line cold [mm].
    """

    name: str
    piece: str
    at: tuple[float, float]
    hole: float
    shank: float
    locates: bool = False
    error: float = 0.05


@dataclass(frozen=True)
class HoleGrowth:
    """What the heat does at one hold. shift: of the piece's hole against the fixture's (x, y) [mm].

    needs: least hole in the piece for it to be free at heat [mm]; has: the hole [mm]. locates: as
    planned. Closed holds with needs > has make the fixture too tight.
    """

    hold: Hold
    shift: tuple[float, float]
    needs: float
    has: float

    @property
    def spare(self) -> float:
        """Room left at heat [mm]; negative: the screw binds."""
        return self.has - self.needs


@dataclass(frozen=True)
class Side:
    """One side of a gap along one axis. held: where the fixture holds the piece, face: where its
    face of the joint is, both in the fixture's frame [mm]."""

    piece: str
    held: float
    face: float


def hole_growths(
    holds: tuple[Hold, ...],
    materials: dict[str, str],
    fixture: str,
    heat: float,
    lag: float = 150.0,
) -> tuple[HoleGrowth, ...]:
    """What the heat does at every hold, the worse of a fixture as hot as the work and one behind.

    materials: piece -> material; fixture: its material; heat: working temperature [C]; lag: how far
    a thick fixture stays behind the flame [K], common practice.
    """
    raise NotImplementedError


def too_tight(growths: tuple[HoleGrowth, ...]) -> tuple[Finding, ...]:
    """The holds that bind, each with the hole that would do."""
    raise NotImplementedError


def gap_hot(
    gap: float, low: Side, high: Side, materials: dict[str, str], fixture: str, heat: float
) -> float:
    """A gap between two faces at heat [mm]; low is the side nearer the fixture's datum, gap its
    clearance cold [mm]."""
    raise NotImplementedError


def spigot_gap_hot(gap: float, diameter: float, outer: str, inner: str, heat: float) -> float:
    """A spigot's radial gap at heat [mm]; gap: cold, radial [mm]; diameter: of the spigot [mm]."""
    raise NotImplementedError


@dataclass(frozen=True)
class PitchAfter:
    """A pitch set cold on the fixture, as it comes out. cold, after [mm]; at_freezing [mm]."""

    cold: float
    at_freezing: float
    after: float

    @property
    def change(self) -> float:
        """What it spreads (positive) or closes up (negative) by on cooling [mm]."""
        return self.after - self.cold

    @property
    def set_cold(self) -> float:
        """What to set on the fixture for the pitch to come out as drawn [mm]."""
        return self.cold - self.change


def pitch_after(spans: tuple[tuple[str, float], ...], fixture: str, freezes: float) -> PitchAfter:
    """What becomes of a pitch that the fixture holds until the filler freezes.

    spans: the materials between its two ends with the length of each [mm], in order; freezes: the
    filler's solidus [C], where the pieces become one.
    """
    raise NotImplementedError
