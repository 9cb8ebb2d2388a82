"""The gap a joint is designed with, cold and at heat, against what its filler can fill."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.handbook.brazing import FILLS, LONG_RANGE, BrazingAlloy, brazing_alloy
from barstock.quantities import Dimension, Length


@dataclass(frozen=True)
class Link:
    """A size in the chain from pieces to gap. what: its name, "" for the fixture's pitch; sign: +1
    where it opens the gap, -1 where it closes it; share: 0.5 for a diameter seen from its axis."""

    what: str
    size: Dimension
    sign: int
    share: float = 1.0

    @property
    def low(self) -> float:
        """The least that it gives the gap [mm]."""
        return self.share * (self.size.low if self.sign > 0 else -self.size.high)

    @property
    def high(self) -> float:
        """The most that it gives the gap [mm]."""
        return self.share * (self.size.high if self.sign > 0 else -self.size.low)


@dataclass(frozen=True)
class Gap:
    """A gap's limits, worst case [mm]: cold, and at heat; links: the sizes it comes from."""

    joint: str
    least: float
    most: float
    least_hot: float
    most_hot: float
    links: tuple[Link, ...] = ()

    def heated(self, opens: tuple[float, float]) -> Gap:
        """The same gap with what it opens by at heat, least and most [mm]."""
        return replace(self, least_hot=self.least + opens[0], most_hot=self.most + opens[1])


def gap_of(joint: str, links: tuple[Link, ...]) -> Gap:
    """The gap that a chain of sizes leaves, worst case, cold."""
    least = round(sum(link.low for link in links), 9)
    most = round(sum(link.high for link in links), 9)
    return Gap(joint, least, most, least, most, links)


def check_gap(gap: Gap, alloy: str) -> tuple[Finding, ...]:
    """The faults of a gap for an alloy: closed at heat, too narrow or too wide; with a cure.

    Raises CadmiumError, UnknownAlloyError.
    """
    return tuple(_wrong(gap, brazing_alloy(alloy)))


def _wrong(gap: Gap, alloy: BrazingAlloy) -> Iterator[Finding]:
    least, most = alloy.gap
    cold = f"{Length(gap.least, gap.most):.3f} cold"
    hot = f"{Length(gap.least_hot, gap.most_hot):.3f} at heat"
    about = f"its gap is {cold}, {hot}"
    wants = f"{alloy.name} wants {Length(least, most):g}"
    if gap.least_hot < 0:
        what = f"{about}: the pieces press on each other and no filler gets in; {wants}"
        yield Finding(Mistake.GAP, gap.joint, what, _open_by(least - gap.least_hot))
    elif gap.least_hot < least - 1e-9:
        what = f"{about}, which may be too narrow; {wants}"
        mend = f"{_open_by(least - gap.least_hot)}, or raise three dots with a centre punch"
        yield Finding(Mistake.GAP, gap.joint, what, mend, stops=False)
    if gap.most_hot > most + 1e-9:
        other = alloy.melting_range < LONG_RANGE and gap.most_hot <= FILLS[1]
        mend = f"close it by {_up(gap.most_hot - most)}"
        mend += ", or take an alloy with a longer melting range: Ag 134, Ag 130" if other else ""
        yield Finding(Mistake.GAP, gap.joint, f"{about}, too wide to draw filler in; {wants}", mend)


def _open_by(amount: float) -> str:
    return f"open it by {_up(amount)}"


def _up(amount: float) -> str:
    """An amount to the next micrometre, hundredths where those will do."""
    up = ceil(amount * 1000 - 1e-6) / 1000
    hundredths = abs(up * 100 - round(up * 100)) < 1e-6
    return f"{Length(up):.2f}" if hundredths else f"{Length(up):.3f}"
