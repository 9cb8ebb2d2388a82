"""Plans a build and proves the plan. What is refused, by the planner or by the proof, is planned
another way, and left to the person where there is none; the other parts are planned all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from barstock.api.telling import Progress, share_of
from barstock.drawing.build import Build, Pin
from barstock.fabricating.heats_kept import keep_heats
from barstock.planning.attempt import (
    Attempt,
    Objection,
    plan_on_trial,
    planned_as_far,
    search,
)
from barstock.planning.order.known_orders import fresh, kept_in
from barstock.planning.order.user_pins import ClashError, PinError
from barstock.planning.other_ways import made_otherwise, to_plan
from barstock.planning.part_plan import PartPlan
from barstock.planning.parts.dependents import hanging_on
from barstock.planning.plan import STEPS, Planner
from barstock.planning.resuming import DoneError
from barstock.planning.whole_route import Whole
from barstock.proving.kept_proofs import PROOFS
from barstock.proving.proof_record import PartProof, Proof, Violation
from barstock.proving.prove import begin, finish, works_of
from barstock.quantities import told_in
from barstock.reading.faults import Fault
from barstock.route import Fabrication, Left, LeftHow, Route, Setup, Summary, Tried
from barstock.route.work_done import Standing
from barstock.solids.workers import Workers
from barstock.tolerancing.by_tool import by_tool
from barstock.tolerancing.first_off_limits import with_working_limits
from barstock.tolerancing.fits_of_build import mated
from barstock.tolerancing.guarantee import guarantees
from barstock.tolerancing.limit_notes import fit_notes, notes, tool_notes
from barstock.words.reasons import rule
from barstock.workshop.shop import Workshop

BREAKS = 6  # a whole that cannot be put together is taken apart so many times at most


def proven_plan(
    build: Build,
    workshop: Workshop,
    *,
    tell: Progress,
    workers: Workers,
    cache: Path | None,
    found: Sequence[Fault] = (),
    looked: Callable[[], Sequence[Fault]] = tuple,
    begun: Callable[[Route], None] | None = None,
    steps: int = STEPS,
    resumed: tuple[Route, Standing] | None = None,
) -> ProvenPlan:
    """Plan and prove a build as far as it goes, and tell of every dimension not guaranteed.

    build: all that can be read of it. found: the faults known yet; looked: asked for all, which may
    take its time. begun: called with a route while it is proved. Raises UnplannableError for what
    is said to be done and cannot be.
    """
    work = ProvenPlan(
        build,
        workshop,
        tell=share_of(tell, 0.0, 0.5),
        workers=workers,
        cache=cache,
        steps=steps,
        resumed=resumed,
    )
    work.leave_faulty(found)
    work.plan()
    work.leave_faulty(looked())
    while True:
        route = _noted(work.put_together(), build, workshop)
        work.tell = share_of(tell, 0.5, 1.0, "proving ")
        if not work.mend(route, work.prove(route, begun)):
            return work
        work.tell = tell


class ProvenPlan:
    """A build on its way to a plan that its proof passes.

    build: as drawn, all that can be read of it. pins: the person's, as far as they can all hold;
    faults: what is wrong with them. Raises UnplannableError for what is done and cannot be.
    """

    def __init__(
        self,
        build: Build,
        workshop: Workshop,
        *,
        tell: Progress,
        workers: Workers,
        cache: Path | None,
        steps: int = STEPS,
        resumed: tuple[Route, Standing] | None = None,
    ) -> None:
        if resumed:
            build = keep_heats(build, workshop, *resumed)
        planned = to_plan(build)
        self.build, self.pins = build, tuple(planned.pins)
        self.faults: list[Fault] = []
        self.tell, self.workers = tell, workers
        self.proofs = cache / PROOFS if cache else None
        solver = kept_in(cache / "orders") if cache else fresh
        self.planner = Planner(planned, workshop, None, steps, None, solver, resumed)
        kinds = self.planner.kinds
        self.attempts = {part.name: Attempt(part, kinds) for part in planned.parts}
        self.unread = {
            one.name: [Tried(refusal=f"it waits for {one.of}, which has faults")] * bool(one.of)
            for one in build.unread
        }
        for part in planned.parts:
            attempt, drawn = self.attempts[part.name], build.part(part.name)
            attempt.left |= dict.fromkeys(sorted(part.unread), LeftHow.LEFT)
            by_hand = [f.name for f in drawn.features if f.by_hand is not None]
            attempt.hang(hanging_on(by_hand, drawn, kinds))
        self.whole: Whole | None = None
        self._route: Route | None = None
        self._proof: Proof | None = None

    @property
    def route(self) -> Route:
        """The route that is proved."""
        assert self._route is not None
        return self._route

    @property
    def proof(self) -> Proof:
        """Its proof, which passes."""
        assert self._proof is not None
        return self._proof

    # -- what the reading refuses ------------------------------------------------------------------

    def leave_faulty(self, faults: Sequence[Fault]) -> None:
        """Leave what has faults: the features that they name, else the whole part."""
        for fault in faults:
            if fault.grade == "error" and fault.part in self.unread:
                self.unread[fault.part].append(Tried(refusal=_told(fault)))
        for name, attempt in self.attempts.items():
            by_hand = {f.name for f in self.build.part(name).features if f.by_hand is not None}
            wrong = [f for f in faults if f.grade == "error" and f.part == name]
            wrong = [fault for fault in wrong if fault.feature not in by_hand]
            if not wrong or attempt.whole:
                continue
            known = {*attempt.names, *attempt.left}
            for fault in wrong:
                about = [fault.feature] if fault.feature in known else []
                attempt.note(about, "", _told(fault))
            if not known.issuperset(f.feature for f in wrong):
                attempt.whole = True
            elif mine := [n for n in attempt.names if n in {f.feature for f in wrong}]:
                attempt.leave(mine)

    # -- planning ----------------------------------------------------------------------------------

    def plan(self, names: Collection[str] | None = None) -> dict[str, PartPlan]:
        """The plans of parts, or of all, as far as they go."""
        wanted = [name for name in self.attempts if names is None or name in names]
        found = {}
        for n, name in enumerate(wanted):
            self.tell(f"planning {name}", n / len(wanted))
            plan = self._planned(name)
            if plan is not None:
                found[name] = plan
        parts = (a.rest for a in self.attempts.values() if not a.whole)
        self.planner.build = replace(self.planner.build, parts=tuple(parts))
        return found

    def _planned(self, name: str) -> PartPlan | None:
        """The plan of a part, without the pins on it that cannot hold; None where it is left."""
        while True:
            try:
                return planned_as_far(self.attempts[name], self.planner, self.asked, _words)
            except PinError as wrong:
                self._drop_pins(wrong)

    def put_together(self) -> Route:
        """The route of all that is planned; what cannot be put together is left."""
        self.plan()
        self.tell("putting the setups of all parts in order", 0.95)
        for _ in range(BREAKS):
            try:
                self.whole = self.planner.whole(self.asked)
                route = self.planner.route(self.whole, self.planner.costs(self.asked, self.whole))
                self._route = route.model_copy(update={"left": self.left})
                return self._route
            except PinError as wrong:
                self._drop_pins(wrong)
            except DoneError:
                raise
            except Exception as reason:  # the parts' plans are good each by itself: take those
                self._settle_all(reason)
        for attempt in self.attempts.values():
            attempt.whole = True
        self.whole, self._route = None, None
        self._route = self._trial({}).model_copy(update={"left": self.left})
        return self._route

    @property
    def asked(self) -> list[Pin]:
        """The pins on what is planned."""
        kept = list(self.pins)
        for attempt in self.attempts.values():
            kept = attempt.pins(kept)
        return kept

    def _drop_pins(self, wrong: PinError) -> None:
        """Plan without the last pin that names nothing or leaves no order of work, and say so."""
        told, mend = _words(wrong), "the plan is made without it"
        gone = wrong.choices[-1:] or tuple(pin for pin in self.pins if pin.rule == "before")
        for pin in gone:
            if pin.place is not None:
                self.faults.append(Fault(pin.place, told, mend, grade="warning"))
        self.pins = tuple(pin for pin in self.pins if pin not in gone)

    def _settle_all(self, reason: Exception) -> None:
        """Take each part's plan for itself; where they are so taken already, leave a joined one."""
        plans = self.plan()
        fresh_ones = [p for name, p in plans.items() if name not in self.planner.settled]
        for plan in fresh_ones:
            self.planner.settle(plan, self.asked)
        if not fresh_ones:
            joined = [a for a in self.attempts.values() if a.part.joined and not a.whole]
            for attempt in joined or [a for a in self.attempts.values() if not a.whole]:
                attempt.note([], "", _words(reason))
                attempt.whole = True

    @property
    def left(self) -> tuple[Left, ...]:
        """All that is left to the person: what they say they make, then what found no way."""
        found = list(made_otherwise(self.build))
        for name, tried in self.unread.items():
            found.append(Left(part=name, tried=tuple(dict.fromkeys(tried))))
        for attempt in self.attempts.values():
            found += attempt.told()
        order = {part.name: n for n, part in enumerate(self.build.parts)}
        return tuple(sorted(found, key=lambda one: order.get(one.part, len(order))))

    def prove(self, route: Route, begun: Callable[[Route], None] | None) -> Proof:
        """The proof of a route. begun: called while it is made, where there is time for more."""
        answers = begin(route, self.build, self.proofs, self.workers)
        if begun is not None and not all(answer.done() for answer in answers.values()):
            begun(route)
        self._route, self._proof = route, finish(answers, self.tell)
        return self._proof

    # -- proving -----------------------------------------------------------------------------------

    def mend(self, route: Route, proof: Proof) -> bool:
        """Plan what the proof refuses another way, until it passes or is left; False where the
        proof refuses nothing."""
        proofs = {one.part: one for one in proof.parts}
        refused = self._to_mend({n: p for n, p in proofs.items() if not p.ok})
        plans = {p.part.name: p for p in self.whole.plans} if self.whole else {}
        if not refused:
            return False
        for name in refused:
            if name in self.planner.settled or name not in plans:
                self._give_up(name, proofs[name])
            else:
                setups = works_of(route, plans[name].part)[1]
                self._give_way(name, plans[name], setups, proofs[name])
        pending = [name for name in refused if not self.attempts[name].whole]
        while pending:
            self.tell(f"planning {', '.join(pending)} another way", 0.5)
            plans = self.plan(pending)
            tried = self._proofs(plans)
            for name, plan in plans.items():
                if tried[name].ok:
                    self.planner.settle(plan, self.asked)
                    pending.remove(name)
                else:
                    self._give_way(name, plan, plan.setups, tried[name])
            pending = [n for n in pending if not self.attempts[n].whole]
        return True

    def _to_mend(self, refused: Mapping[str, PartProof]) -> list[str]:
        """The parts refused for what is their own: not what is joined from pieces refused."""
        found = []
        for name in refused:
            joined = self.attempts[name].part.joined if name in self.attempts else None
            pieces = joined.parts if joined else ()
            if name in self.attempts and not any(piece.name in refused for piece in pieces):
                found.append(name)
        return found

    def _give_up(self, name: str, proof: PartProof) -> None:
        attempt = self.attempts[name]
        with told_in(attempt.part.unit):
            for fault in _errors(proof):
                attempt.note([], "", _refusal(fault))
        attempt.whole = True

    def _give_way(
        self, name: str, plan: PartPlan, setups: Sequence[Setup], proof: PartProof
    ) -> None:
        """Bar what the proof refuses of a plan, or leave what it cannot be without; all of a part
        whose proof took too long, for that of another plan would too.
        """
        if any(fault.about == "time" for fault in _errors(proof)):
            self._give_up(name, proof)
            return
        attempt = self.attempts[name]
        faults = _first(_errors(proof), setups)
        with told_in(attempt.part.unit):
            objections = [one for fault in faults for one in _objections(fault, setups)]
            every = "; ".join(map(_refusal, faults))
        if not objections:
            objections = [Objection(every, _milled_in_bar(setups))]
        if not attempt.objected(plan, objections, self.planner.workshop):
            search(attempt, every, self._passes)

    def _passes(self, attempt: Attempt) -> bool:
        """Is there a plan of what is left of a part that its proof passes as it is?"""
        name, plan = attempt.part.name, plan_on_trial(attempt, self.planner, self.asked)
        return plan is not None and self._proofs({name: plan}, attempt)[name].ok

    def _proofs(
        self, plans: Mapping[str, PartPlan], on_trial: Attempt | None = None
    ) -> dict[str, PartProof]:
        """The proofs of plans, each of a part alone. on_trial: how one of them is tried."""
        attempts = {**self.attempts, **({on_trial.part.name: on_trial} if on_trial else {})}
        left = [one for attempt in attempts.values() for one in attempt.told()]
        left += made_otherwise(self.build)
        trial = self._trial(plans).model_copy(update={"left": tuple(left)})
        needed = set(plans)
        for plan in plans.values():
            joined = plan.part.joined
            needed |= {piece.name for piece in joined.parts} if joined else set()
        parts = tuple(part for part in self.build.parts if part.name in needed)
        answers = begin(trial, replace(self.build, parts=parts), self.proofs, self.workers)
        return {one.part: one for one in finish(answers).parts}

    def _trial(self, plans: Mapping[str, PartPlan]) -> Route:
        """A route of plans; all else as in the route there is already, if there is one."""
        bars = [plan.bar for plan in plans.values() if plan.bar]
        setups = [setup for plan in plans.values() for setup in plan.setups]
        fabrications: list[Fabrication] = []
        if self._route is not None:
            route = self._route
            works = {*plans, *(bar.id for bar in route.bars if bar.part in plans)}
            bars += [bar for bar in route.bars if bar.part not in plans]
            setups += [setup for setup in route.setups if setup.work not in works]
            fabrications += route.fabrications
        return Route(
            build=self.build.name,
            bars=tuple(bars),
            setups=tuple(setups),
            fabrications=tuple(fabrications),
            summary=Summary(hours=0.0),
        )


def _words(reason: Exception) -> str:
    """What stops a plan, in words."""
    if isinstance(reason, ClashError):
        return reason.in_words(rule)
    told = str(reason) or type(reason).__name__
    return told if isinstance(reason, ValueError) else f"{type(reason).__name__}: {told}"


def _errors(proof: PartProof) -> list[Violation]:
    return [v for v in proof.violations if v.severity == "error"]


def _refusal(fault: Violation) -> str:
    """A fault in words, without the number of a setup of a plan that nobody sees."""
    return str(replace(fault, setup=""))


def _first(faults: Sequence[Violation], setups: Sequence[Setup]) -> list[Violation]:
    """The faults of the first setup that has any, for what is wrong later may follow from them;
    else all."""
    for setup in setups:
        mine = [fault for fault in faults if fault.setup == setup.id]
        if mine:
            return mine
    return list(faults)


def _milled_in_bar(setups: Sequence[Setup]) -> tuple[str, ...]:
    """What is done before sawing, which is barred first where a fault names nothing."""
    return tuple(o.id for s in setups if s.stage == "bar" and s.saws is None for o in s.operations)


def _objections(fault: Violation, setups: Sequence[Setup]) -> Iterator[Objection]:
    """What a fault of the proof is to the planner; nothing where it names nothing planned."""
    ids = [o.id for s in setups if s.id == fault.setup for o in s.operations]
    if fault.operation or ids:
        operations = (fault.operation,) if fault.operation else tuple(ids)
        yield Objection(_refusal(fault), operations, cutter=fault.about == "cutter")
    elif fault.feature:
        yield Objection(_refusal(fault), features=(fault.feature,))


def _noted(route: Route, build: Build, workshop: Workshop) -> Route:
    """The route with its working limits, and a note for every dimension and fit not guaranteed."""
    judged = guarantees(route, build, workshop)
    tools = tool_notes(by_tool(route, build, workshop))
    found = (*notes(judged), *tools, *fit_notes(mated(build, workshop)))
    summary = route.summary.model_copy(update={"notes": (*route.summary.notes, *found)})
    held = with_working_limits(route, judged, workshop.instruments)
    return held.model_copy(update={"summary": summary})


def _told(fault: Fault) -> str:
    """A fault as the refusal of what it is about, which need not be named again."""
    mend = f"; {fault.mend}" if fault.mend else ""
    return f"{Path(fault.place.file).name}, line {fault.place.line}: {fault.what}{mend}"
