"""Finds the heats of a fabrication: the fewest, exactly, and the careful order of one joint at a
time.

Every order of heats is looked through, layer by layer: after k heats, which joints can be made,
with which alloys, on which holding, in which attitude. The first layer in which all are made has
the least number of heats; among its plans the fewest strip-downs win, then the least time, then the
steepest joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from math import prod

from barstock.fabricating.firing import Firing, Work, wrongs
from barstock.fabricating.heat_details import PlannedHeat, detailed
from barstock.fabricating.heat_reasons import why_none, why_so_many
from barstock.fabricating.joining_findings import Finding, Mistake
from barstock.fabricating.joints import Attitude, Holding, Joint, Piece
from barstock.route import HeatReason, HeatReasonKind
from barstock.workshop.shop import ShopTimes

MOST_STATES = 20_000
"""Above so many sets of joints and alloys the search would take minutes."""


@dataclass(frozen=True)
class HeatPlan:
    """The heats in order. strips: times the work comes off its holding between heats; minutes: in
    all, the last cleaning with it; reasons: why no fewer heats would do. Without a plan heats is
    empty, and findings say what stands in the way."""

    heats: tuple[PlannedHeat, ...]
    strips: int
    minutes: float
    reasons: tuple[HeatReason, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class _Step:
    """The best way found to a state: what it costs, its last heat, and the step before.

    steep: how far upward the sides look that the joints were fed from, in all.
    """

    strips: int
    minutes: float
    steep: float = 0.0
    firing: Firing | None = None
    before: _Step | None = None

    def firings(self) -> list[Firing]:
        """The heats so far, the first first."""
        earlier = self.before.firings() if self.before else []
        return [*earlier, self.firing] if self.firing else earlier


_Done = tuple[str, ...]  # the filler of every joint, "" where it is not made
_State = tuple[_Done, int]  # and the place the last heat was made in


@dataclass(frozen=True)
class _Search:
    """One search. places: holdings with an attitude; most: joints in a heat; anew: the careful
    order, in which the work is cleaned and set up anew for every heat; order: the user's own, the
    joints of each heat by name."""

    work: Work
    places: Sequence[tuple[Holding, Attitude]]
    most: int
    times: ShopTimes
    anew: bool = False
    order: Sequence[frozenset[str]] = ()

    def best(self) -> _Step | None:
        """The best way to make all joints, None where there is none."""
        layer: dict[_State, _Step] = {(("",) * len(self.work.joints), -1): _Step(0, 0.0)}
        while layer:
            after: dict[_State, _Step] = {}
            for (done, place), step in layer.items():
                for state, reached in self._next(done, place, step):
                    best = after.get(state)
                    if best is None or _cost(reached) < _cost(best):
                        after[state] = reached
            made = [step for (done, _), step in after.items() if all(done)]
            if made:
                return min(made, key=_cost)
            layer = after
        return None

    def _next(self, done: _Done, place: int, step: _Step) -> Iterator[tuple[_State, _Step]]:
        joints = self.work.joints
        already = {joint.name: alloy for joint, alloy in zip(joints, done, strict=True) if alloy}
        for number, (holding, attitude) in enumerate(self.places):
            waiting = [
                n for n, alloy in enumerate(done) if not alloy and attitude.downhill(joints[n])
            ]
            strip, minutes = self._between(place, number)
            for chosen in _subsets(waiting, self.most):
                names = [joints[n].name for n in chosen]
                if self.order and set(names) != _next_in(self.order, already):
                    continue
                for alloys in product(*(joints[n].alloys for n in chosen)):
                    firing = Firing(dict(zip(names, alloys, strict=True)), holding, attitude)
                    if next(wrongs(self.work, already, firing), None) is not None:
                        continue
                    made = dict(zip(chosen, alloys, strict=True))
                    now = tuple(made.get(n, alloy) for n, alloy in enumerate(done))
                    steep = step.steep + sum(attitude.steepness(joints[n]) for n in chosen)
                    reached = _Step(
                        step.strips + strip, step.minutes + minutes, steep, firing, step
                    )
                    yield (now, number), reached

    def _between(self, before: int, now: int) -> tuple[int, float]:
        """Strip-downs before a heat, and the minutes it takes with what goes before it."""
        if before < 0:
            return 0, self.times.heat
        if self.anew:
            return 1, self.times.heat + self.times.strip_down + self.times.clean
        if before == now:
            return 0, self.times.heat
        if self.places[before][0] != self.places[now][0]:
            return 1, self.times.heat + self.times.strip_down
        return 0, self.times.heat + self.times.turn_over


def fewest_heats(
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    holdings: tuple[Holding, ...],
    *,
    most_per_heat: int = 0,
    flux: str = "FH10",
    times: ShopTimes | None = None,
) -> HeatPlan:
    """The plan with the fewest heats, then strip-downs, then minutes; exact.

    most_per_heat: 1 for one joint at a time, 0 for as many as will go. Raises UnknownError for an
    alloy, a flux or a material not known, CadmiumError.
    """
    sets = prod(len(joint.alloys) + 1 for joint in joints)
    if sets > MOST_STATES:
        what = f"{len(joints)} joints with a choice of alloys can be made in {sets:,} states"
        mend = "name one alloy for each joint, or join in two fabrications"
        return HeatPlan((), 0, 0.0, (), (Finding(Mistake.NO_HEAT, "heats", what, mend),))
    work = Work(pieces, joints, flux)
    places = _places(holdings)
    most = most_per_heat or len(joints)
    times = times or ShopTimes()
    anew = most_per_heat == 1
    best = _Search(work, places, most, times, anew).best()
    if best is None:
        return HeatPlan((), 0, 0.0, (), why_none(work, places))
    firings = best.firings()
    reasons = why_so_many(work, places, most, len(firings))
    heats = detailed(work, firings, anew=anew)
    return HeatPlan(heats, best.strips, best.minutes + times.clean, reasons)


def own_order(
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    holdings: tuple[Holding, ...],
    order: Sequence[Sequence[str]],
    *,
    anew: bool = False,
    flux: str = "FH10",
    times: ShopTimes | None = None,
) -> HeatPlan:
    """The user's own order of heats, each in the best holding and attitude; where it cannot stand,
    no heats and what is wrong with it.

    anew: the work is cleaned and set up anew for every heat. Raises UnknownError for an alloy, a
    flux or a material not known.
    """
    work, groups = Work(pieces, joints, flux), [frozenset(names) for names in order]
    places = _places(holdings)
    times = times or ShopTimes()
    best = _Search(work, places, len(joints), times, anew, groups).best()
    if best is not None:
        heats = detailed(work, best.firings(), anew=anew)
        own = HeatReason(kind=HeatReasonKind.OWN_ORDER)
        return HeatPlan(heats, best.strips, best.minutes + times.clean, (own,))
    faulty = _least_wrong(work, places, groups)
    return HeatPlan((), 0, 0.0, (), check_heats(pieces, joints, faulty, flux))


def _least_wrong(
    work: Work, places: Sequence[tuple[Holding, Attitude]], order: Sequence[frozenset[str]]
) -> list[Firing]:
    """The heats of an order that cannot stand, each where it is least wrong."""
    done: dict[str, str] = {}
    found = []
    for names in order:
        fired = {name: work.joint[name].alloys[0] for name in sorted(names)}
        ways = [Firing(fired, *place) for place in places]
        found.append(min(ways, key=lambda way: len(list(wrongs(work, done, way)))))
        done |= fired
    return found


def check_heats(
    pieces: tuple[Piece, ...],
    joints: tuple[Joint, ...],
    heats: Sequence[Firing],
    flux: str = "FH10",
) -> tuple[Finding, ...]:
    """The faults of heats in the user's own order: a joint melted again and not held, filler that
    would have to run uphill, alloys too far apart, a piece that melts, a joint never made.

    Raises UnknownError for an alloy, a flux or a material not known.
    """
    work, done = Work(pieces, joints, flux), dict[str, str]()
    found: list[Finding] = []
    for heat in heats:
        found += wrongs(work, done, heat)
        done |= heat.alloys
    for name in work.joint.keys() - done.keys():
        found.append(Finding(Mistake.NO_HEAT, name, "it is in no heat", "add it to one"))
    return tuple(found)


def _places(holdings: tuple[Holding, ...]) -> list[tuple[Holding, Attitude]]:
    return [(holding, attitude) for holding in holdings for attitude in holding.attitudes]


def _next_in(order: Sequence[frozenset[str]], already: Mapping[str, str]) -> frozenset[str]:
    return next((group for group in order if not group <= already.keys()), frozenset())


def _cost(step: _Step) -> tuple[int, float, float]:
    return step.strips, step.minutes, -step.steep


def _subsets(items: list[int], most: int) -> Iterator[tuple[int, ...]]:
    for size in range(1, min(most, len(items)) + 1):
        yield from combinations(items, size)
