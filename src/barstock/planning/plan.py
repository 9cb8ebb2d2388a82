"""Plans a build, from the drawing and the shop to a route."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from math import inf
from pathlib import Path

from barstock.drawing.build import Build, Part, Pin
from barstock.errors import UnplannableError
from barstock.fabricating.heats_kept import keep_heats
from barstock.methods.kind import Kind
from barstock.planning.alike_following import alike_following
from barstock.planning.order.alike_setups import saving, unlike
from barstock.planning.order.arranging import Arranged, arrange
from barstock.planning.order.known_orders import Solver, fresh, kept_in
from barstock.planning.order.part_order import NoOrderError
from barstock.planning.order.shared_patterns import Shared, shared
from barstock.planning.order.user_pins import PinError
from barstock.planning.part_plan import PartPlan, choose, packed_alike, plan_part, planned
from barstock.planning.parts.joined_work import pieces_first
from barstock.planning.preparing import NOTHING_REFUSED, Prepared, Refused, prepare
from barstock.planning.tasks.task import UnheldError
from barstock.planning.whole_route import Whole, route_of
from barstock.quantities import told_in
from barstock.route import Route, Setup
from barstock.route.work_done import Standing
from barstock.sequencing.allowance import A_SECOND
from barstock.stocking.bar_choice import NoBarError
from barstock.workshop.shop import Workshop

STEPS = 4 * A_SECOND  # of search for each part, where no order is proven the best before
MOST_UNHELD = 12  # orders tried for one whose setups can all be held

Progress = Callable[[str, float], None]


def plan_build(
    build: Build,
    workshop: Workshop,
    kinds: Mapping[str, Kind] | None = None,
    *,
    progress: Progress | None = None,
    steps: int = STEPS,
    cache: Path | None = None,
    resumed: tuple[Route, Standing] | None = None,
) -> Route:
    """Plan every part of a build. steps: of search, for each part. cache: a folder to keep
    orders of work in, so that a part which has not changed is not searched again.

    resumed: an earlier route and how far its work has come: what is done stays, the rest is planned
    anew. Raises UnplannableError (or NoBarError, PinError) saying which part and what would help.
    """
    solver = kept_in(cache) if cache else fresh
    if resumed:
        build = keep_heats(build, workshop, *resumed)
    planner = Planner(build, workshop, kinds, steps, progress, solver, resumed)
    whole = planner.whole(build.pins)
    return planner.route(whole, planner.costs(build.pins, whole))


class Planner:
    """Plans a build, again and again with other pins; parts that no pin changes are kept.

    refused: by part, what is not to be planned again. settled: by part, the plan that is taken as
    it is, whatever the others are packed on, with the pins that it was made for.
    """

    def __init__(
        self,
        build: Build,
        workshop: Workshop,
        kinds: Mapping[str, Kind] | None = None,
        steps: int = STEPS,
        progress: Progress | None = None,
        solver: Solver = fresh,
        resumed: tuple[Route, Standing] | None = None,
    ) -> None:
        if kinds is None:
            from barstock.methods import KINDS

            kinds = KINDS
        self.build, self.workshop, self.kinds = build, workshop, kinds
        self.steps, self.tell, self.solver = steps, progress or _silent, solver
        self.resumed = resumed
        self.refused: dict[str, Refused] = {}
        self.settled: dict[str, tuple[tuple[Pin, ...], PartPlan]] = {}
        self._known: dict[tuple[Part, tuple[Pin, ...], Refused], tuple[PartPlan, PartPlan]] = {}

    def whole(self, pins: Sequence[Pin]) -> Whole:
        """The build planned with some pins.

        Two plans are made of each part: the quickest for itself, and the quickest where its setups
        may follow others held alike; the better set of them is taken, with the setups of each part
        that are held alike one after another where that is quicker still.
        """
        parts = []
        for n, part in enumerate(self.build.parts):
            self.tell(f"planning {part.name}", n / len(self.build.parts))
            parts.append(self.part(part, pins))
        self.tell("putting the setups of all parts in order", 0.95)
        settled = self._settled(pins)
        alone = packed_alike([pair[0] for pair in parts])
        among = packed_alike([pair[1] for pair in parts], alone)
        alone = [settled.get(p.part.name, p) for p in alone]
        among = [settled.get(p.part.name, p) for p in among]
        before = [*pieces_first(self.build), *(pin for pin in pins if pin.rule == "before")]
        arranged = [
            self._arranged(plans, before)
            for plans in ([among] if alone == among else [alone, among])
        ]
        plans, best = min(arranged, key=_minutes)
        following = [alike_following(p, self.steps // 2, self.solver) for p in plans]
        following = [settled.get(p.part.name, p) for p in following]
        if following != plans:
            plans, best = min((plans, best), self._arranged(following, before), key=_minutes)
        self.tell("planned", 1.0)
        fixed = {s.id for p in settled.values() for s in p.setups}
        patterns = [
            p for p in shared(best.setups) if p.setup not in fixed and self._reads(p, best.setups)
        ]
        best = replace(best, setups=_shifted(best.setups, plans, patterns))
        kept = self._kept(plans)
        best = replace(best, setups=(*kept, *best.setups))
        bound = self._bound(among, plans) + sum(s.minutes for s in kept)
        return Whole(tuple(plans), best, bound, tuple(patterns))

    def _arranged(
        self, plans: list[PartPlan], before: Sequence[Pin]
    ) -> tuple[list[PartPlan], Arranged]:
        """The plans with all their setups in order."""
        chains, times = [p.setups for p in plans], self.workshop.times
        after = {p.task.id: set(p.task.after) for one in plans for p in one.order.placed}
        return plans, arrange(chains, times, self.steps, before, self.solver, after)

    def _reads(self, pattern: Shared, setups: Sequence[Setup]) -> bool:
        """Has its machine a readout to set to any figure? On a handwheel zero is best left at 0."""
        name = next(s.machine for s in setups if s.id == pattern.setup)
        machine = next(m for m in self.workshop.machines if m.name == name)
        return all(axis and axis.readout for axis in (machine.x, machine.y))

    def _kept(self, plans: Sequence[PartPlan]) -> list[Setup]:
        """The setups already done, in the order they had."""
        if self.resumed is None:
            return []
        kept = {s.id: s for p in plans if p.prepared.begun for s in p.prepared.begun.kept}
        return [kept[s.id] for s in self.resumed[0].setups if s.id in kept]

    def part(self, part: Part, pins: Sequence[Pin]) -> tuple[PartPlan, PartPlan]:
        """A part's plan for itself alone, and its plan among others held alike."""
        mine = _concerning(part.name, pins)
        refused = self.refused.get(part.name, NOTHING_REFUSED)
        key = part, mine, refused
        if key not in self._known:
            with told_in(part.unit):
                prepared = prepare(part, self.workshop, self.kinds, mine, self.resumed, refused)
                first = self._held(prepared, 0.0, None)
                self._known[key] = first, self._held(prepared, 1.0, first)
        return self._known[key]

    def settle(self, plan: PartPlan, pins: Sequence[Pin]) -> None:
        """Take a part's plan as it is from now on, where no other pins are asked of it."""
        self.settled[plan.part.name] = _concerning(plan.part.name, pins), plan

    def _settled(self, pins: Sequence[Pin]) -> dict[str, PartPlan]:
        return {
            name: plan
            for name, (mine, plan) in self.settled.items()
            if mine == _concerning(name, pins) and plan.part in self.build.parts
        }

    def _held(self, prepared: Prepared, alike: float, made: PartPlan | None) -> PartPlan:
        """The quickest order whose setups can all be held, the work as large as it then is: what
        cannot be is done another way. alike: see choose; made: a plan of the same part."""
        left, bound = prepared, inf
        for _ in range(MOST_UNHELD):
            order = choose(left, self.steps // 2, alike, self.solver)
            bound = min(bound, order.bound)
            try:
                return planned(prepared, replace(order, bound=bound), (), made)
            except UnheldError as reason:
                unheld = reason
                left = replace(left, tasks=reason.otherwise(left.tasks))
            if not all(t.poses for t in left.tasks):
                break
        raise unheld

    def _bound(self, among: Sequence[PartPlan], plans: Sequence[PartPlan]) -> float:
        """Minutes that no order can beat: every setup as if it followed one held alike, and, for
        every way of holding there must be, one setup that cannot."""
        times = self.workshop.times
        sawn = [s for p in plans for s in p.setups if s.saws]
        fixed = sum(s.minutes for s in sawn)
        fixed -= saving(sawn[0], times) * (len(sawn) - 1) if sawn else 0.0
        firsts = sum(
            min(way.kept for way in ways)
            for ways in unlike(t for p in among for t in p.prepared.rooms)
        )
        return fixed + sum(p.order.bound for p in among) + firsts

    def costs(self, pins: Sequence[Pin], whole: Whole) -> dict[Pin, float]:
        """The minutes that each pin costs against the plan without it.

        The plan with the pin does without it too: where none quicker is found, or none at all, it
        costs nothing.
        """
        found = dict.fromkeys(pins, 0.0)
        for pin in pins:
            with suppress(UnplannableError, NoBarError, NoOrderError, PinError):
                without = self.whole([other for other in pins if other is not pin])
                found[pin] = round(max(0.0, whole.minutes - without.minutes), 1)
        return found

    def route(self, whole: Whole, costs: Mapping[Pin, float]) -> Route:
        """The route of a plan. costs: minutes of each pin."""
        saved = {p.part.name: self._saved_in_bar(p, list(costs)) for p in whole.plans}
        return route_of(self.build, whole, self.workshop, costs, saved)

    def _saved_in_bar(self, plan: PartPlan, pins: Sequence[Pin]) -> float:
        """Minutes saved by what a part has milled in the bar, against sawing it first; 0 where it
        must be or nothing is."""
        if plan.prepared.begun or not any(p.pose.stage == "bar" for p in plan.order.placed):
            return 0.0
        sawn = Pin("never in the bar", (plan.part.name,))
        try:
            other = self.part(plan.part, [*pins, sawn])[0]
        except (PinError, NoOrderError, UnplannableError):
            return 0.0
        return max(0.0, other.order.minutes - self.part(plan.part, pins)[0].order.minutes)


def _minutes(one: tuple[list[PartPlan], Arranged]) -> float:
    return sum(s.minutes for s in one[1].setups)


def _shifted(
    setups: Sequence[Setup], plans: Sequence[PartPlan], patterns: Sequence[Shared]
) -> tuple[Setup, ...]:
    """The setups with the readings of those that share a hole pattern made the earlier one's."""
    shifts = {p.setup: p.shift for p in patterns}
    made = {
        s.id: s
        for p in plans
        if any(s.id in shifts for s in p.setups)
        for s in plan_part(p.prepared, p.order, p.packings, shifts).setups
    }
    return tuple(
        made[s.id].model_copy(update={"minutes": s.minutes, "why": s.why}) if s.id in made else s
        for s in setups
    )


def _concerning(part: str, pins: Sequence[Pin]) -> tuple[Pin, ...]:
    return tuple(pin for pin in pins if pin.rule == "broken" or pin.concerns(part))


def _silent(words: str, share: float) -> None:
    """Tell nobody how far planning has come; for callers that do not ask."""
