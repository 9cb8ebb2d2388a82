"""The first copy measured: is it within limits, and what to feed next towards them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barstock.drawing.build import Build
from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.measuring.closing_in import Advice, close_in
from barstock.measuring.closing_in import Cut as Taken
from barstock.measuring.feed_effect import DEPTH, Making, countersunk, on_slope, usual
from barstock.methods.cuts import Check, Cut, HoleCut
from barstock.methods.kind import Kind
from barstock.quantities import Dimension, Unit
from barstock.route import Cutter, Expect, Operation, Setup
from barstock.workshop.shop import Axis, Machine, ToolKind

NEAR, SHARE, BANDS = 2.0, 0.25, 5.0
"""A reading further from the drawing's than 2 mm or degrees, a quarter of it, and five times the
limits' distance is taken for a slip (80.5 for 8.05, inches for millimetres): common practice."""
TINY = 1e-9


@dataclass(frozen=True)
class Judged:
    """A size judged against its limits. verdict: "within", "below" or "above" the drawing's, or
    "loose": within those, but not within what has to be held here. past: beyond the nearer limit
    [mm or degrees], 0 within.
    """

    verdict: str
    past: float


def to_hold(check: Expect) -> tuple[float, float]:
    """The limits to work to: closer than the drawing's where every copy is only then good."""
    return (check.hold_low, check.hold_high) if check.hold_high else (check.low, check.high)


def judge(check: Expect, reading: float) -> Judged:
    """Is a measured size within its limits?"""
    if reading < check.low - TINY:
        return Judged("below", check.low - reading)
    if reading > check.high + TINY:
        return Judged("above", reading - check.high)
    low, high = to_hold(check)
    past = max(low - reading, reading - high)
    return Judged("loose", past) if past > TINY else Judged("within", 0.0)


def plausible(check: Expect, reading: float) -> bool:
    """NextWork this be a size of the work at all, and no slip of the finger?"""
    room = max(NEAR, SHARE * abs(check.nominal), BANDS * (check.high - check.low))
    return abs(reading - check.nominal) <= room


def making_of(
    build: Build, part: str, operation: Operation, check: Expect, kinds: Mapping[str, Kind]
) -> Making | None:
    """How a check's dimension answers to feed, as its feature's cuts say.

    None where none mends it: a thread, an angle, a hole as wide as its drill or reamer.
    """
    feature, _, name = check.name.rpartition("/")
    for found in build.part(part).features:
        if found.name == feature:
            for way in kinds[found.kind].ways(found.spec, build.part(part)):
                for cut in way.cuts:
                    for one in cut.checks:
                        if one.name == name:
                            return _making(one, cut, operation.cutter)
    return None


def _making(check: Check, cut: Cut, cutter: Cutter) -> Making | None:
    if check.sort is CheckSort.COUNTERSINK:
        if check.has(EndKind.MOUTH):
            return DEPTH  # it grows as it is fed, whatever its angle
        cone = cut.countersink if isinstance(cut, HoleCut) else None
        return countersunk(cone[1]) if cone else None
    if check.sort is CheckSort.DIAMETER and cutter.kind is not ToolKind.BORING_HEAD:
        return None
    return usual(check.sort.value)


def fed_axis(making: Making, machine: Machine | None) -> Axis | None:
    """The axis that is fed; None where it cannot be read: at the bench, the saw, a drill press."""
    if machine is None:
        return None
    return machine.z if making.where == "down" else machine.x


def advise(
    check: Expect,
    making: Making,
    setup: Setup,
    axis: Axis,
    cuts: Sequence[Taken],
    *,
    toward: int,
    unit: Unit,
) -> Advice:
    """The next cut towards a check's dimension, after these cuts and what was measured of them.

    toward: 1 where feed makes the reading greater, -1 smaller. Raises ClosingError where the cuts
    lead nowhere.
    """
    if setup.holding.tilt:
        making = on_slope(making, setup.holding.tilt)
    low, high = to_hold(check)
    want = Dimension(check.nominal, low - check.nominal, high - check.nominal, check.text, unit)
    return close_in(want, making, axis, cuts, toward=toward)
