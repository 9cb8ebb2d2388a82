"""Judges sizes that no reading makes: a reamer's bore, a tap's thread, a tilt, a cutter's own
corner.

There is nothing to chain; what the tool leaves is compared with the drawing's limits instead.
Angles are in degrees, all else in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import atan, degrees

from barstock.drawing.build import Build
from barstock.drawing.dimension_runs import CheckSort, EndKind, between
from barstock.handbook.iso_fits import it
from barstock.handbook.threads import percentage_engagement, thread
from barstock.measuring.angles import sine_angle, sine_height
from barstock.methods.kind import Kind
from barstock.route import Route, TiltBy, TiltSetting
from barstock.route.statements import Given, GivenKind, Remedy, RemedyKind
from barstock.tolerancing.dimension_ends import Asked, all_asked
from barstock.tolerancing.shop_errors import BLOCKS, CUTTER, DRILLED, REAMED
from barstock.workshop.shop import ToolKind, Workshop

TINY = 1e-7

CONE = 0.5
"""A countersink is ground within this of its angle, either way [degrees]; common practice."""
TABLE, PROTRACTOR = 0.1, 0.25
"""A tilting table, and work set by a protractor, are set within this [degrees]; common practice."""
INDICATOR, SWEPT = 0.01, 0.8
"""A dial indicator tells a rise within this [mm], over this share of the work; common practice."""

LEAST_THREAD = 50.0
"""A thread of less depth than this strips before its screw breaks [%]; common practice."""


@dataclass(frozen=True)
class ByTool:
    """A dimension that a tool or a setting gives by itself, judged.

    given: what gives it. low, high: what that leaves [mm, or degrees of an angle], both None where
    nothing is reckoned. mend: what to do where it does not hold. suits: does the tool do for it;
    None where nothing is known of that.
    """

    asked: Asked
    given: Given
    low: float | None = None
    high: float | None = None
    mend: Remedy | None = None
    suits: bool | None = True

    @property
    def missing(self) -> float:
        """The amount by which the size may come beyond a limit [mm, degrees]."""
        d = self.asked.dimension
        if self.low is None or self.high is None:
            return 0.0
        return max(d.low - self.low, self.high - d.high, 0.0)

    @property
    def holds(self) -> bool | None:
        """Does what the tool leaves lie within the drawing's limits? None where it is not known."""
        return None if self.suits is None else self.suits and self.missing <= TINY


def by_tool(
    route: Route, build: Build, workshop: Workshop, kinds: Mapping[str, Kind] | None = None
) -> tuple[ByTool, ...]:
    """The checked dimensions that no chain of readings makes, in the route's order."""
    if kinds is None:
        from barstock.methods import KINDS

        kinds = KINDS
    asked = [a for a in all_asked(route, build, workshop, kinds) if a.chain is None]
    return tuple(_judge(one, asked_in(route, one), workshop) for one in asked)


def asked_in(route: Route, asked: Asked) -> dict[str, tuple[ToolKind, float, float]]:
    """The tools that make a dimension's feature: step -> kind, diameter [mm], point [degrees]."""
    feature = asked.check.name.rpartition("/")[0]
    return {
        o.id: (o.cutter.kind, o.cutter.diameter, o.cutter.point)
        for setup in route.setups
        for o in setup.operations
        if setup.work == asked.setup.work and feature in o.features
    }


_Tools = Mapping[str, tuple[ToolKind, float, float]]


def _judge(asked: Asked, tools: _Tools, shop: Workshop) -> ByTool:
    rule = _RULES.get(asked.check.sort, _unknown)
    return rule(asked, tools, shop)


def _unknown(asked: Asked, _: _Tools, __: Workshop) -> ByTool:
    return ByTool(asked, Given(kind=GivenKind.MEASURED), suits=None)


def _thread(asked: Asked, tools: _Tools, _: Workshop) -> ByTool:
    """The tap gives the thread; the tapping drill how much of it there is."""
    form = thread(asked.check.text)
    drills = [size for kind, size, _ in tools.values() if kind is ToolKind.DRILL]
    if not drills:
        return ByTool(asked, Given(kind=GivenKind.TAP))
    hole = max(drills)
    most = percentage_engagement(form, hole)
    least = percentage_engagement(form, _above(hole, DRILLED))
    given = Given(
        kind=GivenKind.TAPPING_DRILL,
        lengths={"drill": hole},
        numbers={"most": most, "least": least},
    )
    if least < LEAST_THREAD:
        return ByTool(asked, given, mend=Remedy(kind=RemedyKind.SMALLER_DRILL), suits=False)
    return ByTool(asked, given)


def _diameter(asked: Asked, _: _Tools, shop: Workshop) -> ByTool:
    cutter = asked.operation.cutter
    size = cutter.diameter
    if cutter.kind is ToolKind.BORING_HEAD:
        return _measured(asked, shop)
    mend = Remedy(kind=RemedyKind.BORE)
    if cutter.kind is ToolKind.REAMER:
        given, low, high = Given(kind=GivenKind.REAMER), size, _above(size, REAMED)
    elif cutter.kind is ToolKind.DRILL:
        given, low, high = Given(kind=GivenKind.DRILL), size, _above(size, DRILLED)
        mend = Remedy(kind=RemedyKind.DRILL_AND_BORE)
    else:
        given = Given(kind=GivenKind.CUTTER, names={"cutter": cutter.name})
        low, high = size - CUTTER, size + CUTTER
    return ByTool(asked, given, low, high, mend)


def _measured(asked: Asked, shop: Workshop) -> ByTool:
    """A bore that is measured and bored again until it fits."""
    d = asked.dimension
    tool = next((i for i in shop.instruments if i.name == asked.check.with_), None)
    if tool is None:
        blind, get = Given(kind=GivenKind.BORED_BLIND), Remedy(kind=RemedyKind.GET_GAUGE)
        return ByTool(asked, blind, mend=get, suits=False)
    error = tool.step or BLOCKS
    given = Given(kind=GivenKind.BORED, names={"instrument": tool.name}, lengths={"error": error})
    low, high = d.middle - error, d.middle + error
    return ByTool(asked, given, low, high, Remedy(kind=RemedyKind.PLUG))


def _angle(asked: Asked, tools: _Tools, shop: Workshop) -> ByTool:
    if asked.check.runs == between(EndKind.CUTTER, EndKind.CUTTER):
        cones = [point for kind, _, point in tools.values() if kind is ToolKind.COUNTERSINK]
        if not cones:
            return ByTool(asked, Given(kind=GivenKind.CUTTER_ANGLE))
        low, high = cones[0] - CONE, cones[0] + CONE
        other = Remedy(kind=RemedyKind.OTHER_COUNTERSINK)
        return ByTool(asked, Given(kind=GivenKind.COUNTERSINK), low, high, other)
    holding = asked.setup.holding
    made, setting = abs(holding.tilt), holding.tilt_set or TiltSetting(by=TiltBy.PROTRACTOR)
    bar: dict[str, float] = {}
    seat = degrees(atan(shop.vise_repeat / asked.along))
    if setting.by is TiltBy.SINE_BAR and shop.sine_bar:
        bar = {"bar": shop.sine_bar}
        height = sum(setting.blocks) or sine_height(made, shop.sine_bar)
        made = sine_angle(height, shop.sine_bar)
        error = sine_angle(height + BLOCKS, shop.sine_bar) - made
    elif setting.by is TiltBy.DIAL_INDICATOR:  # run along the work itself, as it is gripped
        error, seat = degrees(atan(INDICATOR / (SWEPT * asked.along))), 0.0
    else:
        error = TABLE if setting.by is TiltBy.TILTING_TABLE else PROTRACTOR
    given = Given(
        kind=GivenKind.TILT,
        names={"by": setting.by},
        lengths=bar,
        numbers={"error": error, "seat": seat},
    )
    low, high = made - error - seat, made + error + seat
    return ByTool(asked, given, low, high, Remedy(kind=RemedyKind.INDICATE))


def _inside(asked: Asked, _: _Tools, __: Workshop) -> ByTool:
    """An inside corner."""
    radius = asked.operation.cutter.diameter / 2
    low, high = radius - CUTTER / 2, radius + CUTTER / 2
    other = Remedy(kind=RemedyKind.CUTTER_OF_RADIUS)
    return ByTool(asked, Given(kind=GivenKind.CUTTER_RADIUS), low, high, other)


def _above(size: float, grade: str) -> float:
    return size + it(size, grade) / 1000


_RULES: dict[CheckSort, Callable[[Asked, _Tools, Workshop], ByTool]] = {
    CheckSort.THREAD: _thread,
    CheckSort.DIAMETER: _diameter,
    CheckSort.ANGLE: _angle,
    CheckSort.INSIDE: _inside,
}
