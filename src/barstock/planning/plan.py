"""Plans a build, from the drawing and the shop to a route."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from math import floor, inf
from pathlib import Path

from barstock.drawing.build import Build, Face, Part, Pin
from barstock.errors import UnplannableError
from barstock.fabricating.fabrication_record import fabrication_of, shortened
from barstock.fabricating.heats_kept import keep_heats
from barstock.machines.saw import sawing_machine
from barstock.methods.kind import Kind
from barstock.planning.holding.way import Need, hold, way_of
from barstock.planning.holding.ways import usual
from barstock.planning.not_listed import bar_to_buy, tool_to_buy, unlisted
from barstock.planning.order.alike_setups import unlike
from barstock.planning.order.arranging import Arranged, arrange, saving
from barstock.planning.order.known_orders import Solver, fresh, kept_in
from barstock.planning.order.part_order import NoOrderError, Order, order_part
from barstock.planning.order.plain_orders import one_part, one_tool
from barstock.planning.order.precedence import Placed, one_side_each
from barstock.planning.order.shared_patterns import Shared, shared
from barstock.planning.order.user_pins import PinError, either_side, parted, priced, together_poses
from barstock.planning.parts.joined_work import pieces_first
from barstock.planning.preparing import Prepared, prepare
from barstock.planning.setup_making import (
    bar_state,
    held_together,
    in_setups,
    joined_state,
    make_setup,
    piece_state,
)
from barstock.planning.tasks.task import UnheldError, sawing_id
from barstock.route import (
    BarPiece,
    Cutter,
    Fabrication,
    Holding,
    Made,
    Operation,
    Process,
    Route,
    SawOff,
    Setup,
    Summary,
    Zero,
)
from barstock.route.statements import Caution, CautionKind, Note, NoteKind, ReasonKind, because
from barstock.route.work_done import Standing
from barstock.sequencing import SequencingError
from barstock.stocking.bar_choice import CLEAN_UP, Lengths, Stock, lacking
from barstock.workshop.shop import ToolKind, Workshop

MOST_PARTED = 6  # rounds of putting what parts pinned operations before or after them
MOST_UNHELD = 12  # orders tried for one whose setups can all be held

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class PartPlan:
    """One part planned: how its bar is cut up (a fabrication has none), its setups in order.

    could: the packings that would do for each setup [mm]; packings: those preferred.
    """

    prepared: Prepared
    bar: BarPiece | None
    setups: tuple[Setup, ...]
    order: Order
    could: tuple[frozenset[float], ...]
    packings: tuple[float, ...] = ()

    @property
    def part(self) -> Part:
        """The part that is planned."""
        return self.prepared.part


@dataclass(frozen=True)
class Whole:
    """All parts planned, their setups in order. bound: minutes that no order of them can beat;
    shared: the hole patterns that are made by an earlier setup's readings."""

    plans: tuple[PartPlan, ...]
    arranged: Arranged
    bound: float
    shared: tuple[Shared, ...] = ()

    @property
    def minutes(self) -> float:
        """The minutes of all setups."""
        return sum(s.minutes for s in self.arranged.setups)


def plan_build(
    build: Build,
    workshop: Workshop,
    kinds: Mapping[str, Kind] | None = None,
    *,
    progress: Progress | None = None,
    seconds: float = 4.0,
    cache: Path | None = None,
    resumed: tuple[Route, Standing] | None = None,
) -> Route:
    """Plan every part of a build. seconds: for sequencing each part. cache: a folder to keep
    orders of work in, so that a part which has not changed is not searched again.

    resumed: an earlier route and how far its work has come: what is done stays, the rest is planned
    anew. Raises UnplannableError (or NoBarError, PinError) saying which part and what would help.
    """
    solver = kept_in(cache) if cache else fresh
    if resumed:
        build = keep_heats(build, workshop, *resumed)
    planner = Planner(build, workshop, kinds, seconds, progress, solver, resumed)
    whole = planner.whole(build.pins)
    return planner.route(whole, planner.costs(build.pins, whole))


class Planner:
    """Plans a build, again and again with other pins; parts that no pin changes are kept."""

    def __init__(
        self,
        build: Build,
        workshop: Workshop,
        kinds: Mapping[str, Kind] | None = None,
        seconds: float = 4.0,
        progress: Progress | None = None,
        solver: Solver = fresh,
        resumed: tuple[Route, Standing] | None = None,
    ) -> None:
        if kinds is None:
            from barstock.methods import KINDS

            kinds = KINDS
        self.build, self.workshop, self.kinds = build, workshop, kinds
        self.seconds, self.tell, self.solver = seconds, progress or _silent, solver
        self.resumed = resumed
        self._known: dict[tuple[Part, tuple[Pin, ...]], tuple[PartPlan, PartPlan]] = {}

    def whole(self, pins: Sequence[Pin]) -> Whole:
        """The build planned with some pins.

        Two plans are made of each part: the quickest for itself, and the quickest where its setups
        may follow others held alike; the better set of them is taken.
        """
        parts = []
        for n, part in enumerate(self.build.parts):
            self.tell(f"planning {part.name}", n / len(self.build.parts))
            parts.append(self.part(part, pins))
        self.tell("putting the setups of all parts in order", 0.95)
        alone = _packed_alike([pair[0] for pair in parts])
        among = _packed_alike([pair[1] for pair in parts], alone)
        times = self.workshop.times
        before = [*pieces_first(self.build), *(pin for pin in pins if pin.rule == "before")]
        sets = [among] if alone == among else [alone, among]
        arranged = [
            (plans, arrange([p.setups for p in plans], times, self.seconds, before, self.solver))
            for plans in sets
        ]
        plans, best = min(arranged, key=lambda a: sum(s.minutes for s in a[1].setups))
        self.tell("planned", 1.0)
        patterns = [p for p in shared(best.setups) if self._reads(p, best.setups)]
        best = replace(best, setups=_shifted(best.setups, plans, patterns))
        kept = self._kept(plans)
        best = replace(best, setups=(*kept, *best.setups))
        bound = self._bound(among, plans) + sum(s.minutes for s in kept)
        return Whole(tuple(plans), best, bound, tuple(patterns))

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
        mine = tuple(pin for pin in pins if pin.rule == "broken" or pin.concerns(part.name))
        if (part, mine) not in self._known:
            prepared = prepare(part, self.workshop, self.kinds, mine, self.resumed)
            first = self._held(prepared, 0.0, None)
            self._known[part, mine] = first, self._held(prepared, 1.0, first)
        return self._known[part, mine]

    def _held(self, prepared: Prepared, alike: float, made: PartPlan | None) -> PartPlan:
        """The quickest order whose setups can all be held, the work as large as it then is: what
        cannot be is done another way. alike: see choose; made: a plan of the same part."""
        left, bound = prepared, inf
        for _ in range(MOST_UNHELD):
            order = choose(left, self.seconds / 2, alike, self.solver)
            bound = min(bound, order.bound)
            try:
                return _planned(prepared, replace(order, bound=bound), (), made)
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

        The plan with the pin does without it too: where none quicker is found, it costs nothing.
        """
        found = {}
        for pin in pins:
            without = self.whole([other for other in pins if other is not pin])
            found[pin] = round(max(0.0, whole.minutes - without.minutes), 1)
        return found

    def route(self, whole: Whole, costs: Mapping[Pin, float]) -> Route:
        """The route of a plan. costs: minutes of each pin."""
        saved = {p.part.name: self._saved_in_bar(p, list(costs)) for p in whole.plans}
        return _route(self.build, whole, self.workshop, costs, saved)

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


def choose(prepared: Prepared, seconds: float, alike: float, solver: Solver = fresh) -> Order:
    """A part's quickest order, over the sides its holes are made from and the poses of its pins.

    alike: share of what a setup saves after one held alike that is counted on. Raises NoOrderError.
    """
    shop = prepared.givens.workshop
    poses = (p for t in prepared.tasks for p in t.poses)
    saved = {p.name: way_of(p).kept(shop.times, bool(p.tilt)) * alike for p in poses}
    choices = [
        variant
        for sides in one_side_each(prepared.tasks)
        for variant in together_poses(sides, prepared.pins)
    ]
    found: list[Order] = []
    trouble = "its pinned operations share no way of being held"
    waiting, depth = choices, 0
    while waiting and depth < MOST_PARTED:
        depth += 1
        again = []
        for tasks in waiting:
            try:
                order = order_part(
                    tasks, prepared.minutes, prepared.copies, shop.times,
                    seconds / len(waiting), saved, solver,
                )  # fmt: skip
            except (NoOrderError, SequencingError) as reason:
                trouble = str(reason)
                continue
            between = parted(order.placed, prepared.pins)
            if between is None:
                found.append(order)
            else:
                again += either_side(tasks, *between)
        waiting = again
    if not found:
        raise NoOrderError(f"part {prepared.part.name!r}: {trouble}")
    best = min(found, key=lambda order: order.minutes)
    return replace(best, bound=min(order.bound for order in found))


def plan_part(
    prepared: Prepared,
    order: Order,
    packings: Sequence[float] = (),
    shifts: Mapping[str, tuple[float, float]] | None = None,
) -> PartPlan:
    """The setups of an order with all working values; named for the part, in order.

    packings, shifts: see values.setup_givens.
    """
    part, stock = prepared.part, prepared.stock
    givens = replace(prepared.givens, packings=tuple(packings), shifts=shifts or {})
    begun = prepared.begun
    in_bar = begun is not None or any(p.pose.stage == "bar" for p in order.placed)
    lengths = prepared.lengths if in_bar else prepared.whole_bars
    done = begun.placed if begun else ()
    if part.joined:
        bar = None
        state = joined_state(part)
    else:
        bar = begun.bar if begun else _bar_piece(part, stock, lengths)
        state = bar_state(stock, lengths)
    state.after([p for p in done if p.pose.stage == "bar"])
    setups: list[Setup] = []

    def number_of() -> str:
        return f"{part.name} {len(setups) + 1}"

    could: list[frozenset[float]] = []

    def note(group: Sequence[Placed]) -> None:
        if not way_of(group[0].pose).by_hand:
            tasks = [p.task for p in group]
            try:
                could.append(hold(group[0].pose, state.box, tasks, givens.workshop).could)
            except UnplannableError as reason:
                told = f"part {part.name!r}, {tasks[0].named}: {reason}"
                raise UnheldError(told, group[0].pose, tasks) from reason

    groups = in_setups(order.placed)
    if bar:
        for run in [g for g in groups if g[0].pose.stage == "bar"]:
            for group in held_together(run, state, givens.workshop):
                note(group)
                setups.append(make_setup(number_of(), group, state, givens, lengths.count, bar.id))
        if not (begun and begun.sawn):
            setups.append(_sawing(number_of(), part, bar, lengths, givens.workshop))
        state = piece_state(lengths, state)
    state.after([p for p in done if p.pose.stage != "bar"])
    for run in [g for g in groups if g[0].pose.stage != "bar"]:
        for group in held_together(run, state, givens.workshop):
            note(group)
            setups.append(make_setup(number_of(), group, state, givens, part.copies, part.name))
    return PartPlan(prepared, bar, tuple(setups), order, tuple(could), tuple(packings))


def _packed_alike(plans: Sequence[PartPlan], made: Sequence[PartPlan] = ()) -> list[PartPlan]:
    """The plans with their setups on as few different packings as will do: the commonest first.

    made: plans of the same parts that are there already.
    """
    left = [could for plan in plans for could in plan.could]
    wanted: list[float] = []
    while any(left):
        count = Counter(height for could in left for height in could)
        best = max(count, key=lambda height: (count[height], -height))
        wanted.append(best)
        left = [could for could in left if best not in could]
    return [
        _planned(p.prepared, p.order, [h for h in wanted if any(h in c for c in p.could)], other)
        for p, other in zip_longest(plans, made)
    ]


def _planned(
    prepared: Prepared, order: Order, packings: Sequence[float], made: PartPlan | None
) -> PartPlan:
    """The setups of an order; those `made` already where it is of the same."""
    if made and (made.order.placed, made.packings) == (order.placed, tuple(packings)):
        return replace(made, order=order)
    return plan_part(prepared, order, packings)


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


def _silent(words: str, share: float) -> None:
    """Tell nobody how far planning has come; for callers that do not ask."""


def _bar_piece(part: Part, stock: Stock, lengths: Lengths) -> BarPiece:
    return BarPiece(
        id=f"bar for {part.name}",
        part=part.name,
        material=part.material,
        stock=stock.bar.name,
        shape="round" if part.round else "rectangle",
        width=stock.y[1] - stock.y[0],
        height=stock.z[1] - stock.z[0],
        length=lengths.length,
        pieces=lengths.pieces,
        count=lengths.count,
        last_pieces=0 if lengths.last == lengths.pieces else lengths.last,
        start=(-CLEAN_UP, stock.y[0], stock.z[0]),
        to_buy=stock.bar.to_buy,
    )


def _sawing(number: str, part: Part, bar: BarPiece, lengths: Lengths, shop: Workshop) -> Setup:
    saw, off = sawing_machine(shop), sawing_id(part)
    none = Zero(find="none")
    return Setup(
        id=number,
        work=bar.id,
        stage="bar",
        copies=lengths.count,
        pieces=part.copies,
        machine=saw.name,
        machine_kind=saw.kind,
        holding=Holding(
            way=usual(Need.SAWN, Face.TOP).name,
            device=f"{saw.name} vise",
            up=Face.TOP,
            fixed_jaw=Face.BACK,
            stop="right",
        ),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=(
            Operation(
                id=off,
                does=Process.SAW_OFF,
                features=(),
                cutter=Cutter(
                    name=f"{saw.name} blade", kind=ToolKind.SAW_BLADE, diameter=0, holder="hand"
                ),
                moves=(SawOff(each=lengths.each, pieces=lengths.pieces, kerf=lengths.kerf),),
                cautions=(Caution(kind=CautionKind.SAWN_OFF),),
                minutes=round(shop.times.saw_each * lengths.pieces, 2),
            ),
        ),
        passes=((off,),),
        cautions=(Caution(kind=CautionKind.DEBURR),),
        why=(because(ReasonKind.BAR_DONE),),
        minutes=round(5.0 + (shop.times.saw_each + shop.times.deburr) * part.copies, 2),
        picture=f"setup-{number}.svg",
    )


# -- the whole -----------------------------------------------------------------------------------


def _route(
    build: Build,
    whole: Whole,
    shop: Workshop,
    costs: Mapping[Pin, float],
    saved_in_bar: Mapping[str, float],
) -> Route:
    plans = whole.plans
    setups = tuple(
        s.model_copy(update={"id": str(n), "picture": f"setup-{n}.svg"})
        for n, s in enumerate(whole.arranged.setups, 1)
    )
    setups = _patterned(setups, whole)
    minutes = {s.id: s.minutes for s in setups}
    total = sum(minutes.values())
    tools = {name: tool for p in plans for name, tool in p.prepared.to_buy.items()}
    buy = [tool_to_buy(tool) for tool in tools.values()]
    sawing = [
        (p.prepared.stock.bar, p.bar.length, p.bar.count)
        for p in plans
        if p.bar and not (p.prepared.begun and p.prepared.begun.sawn)
    ]
    buy += map(bar_to_buy, lacking(sawing, sawing_machine(shop).kerf))
    buy += unlisted(setups, shop, {p.bar.id: p.part.name for p in plans if p.bar})
    saved = whole.arranged.saved
    notes = []
    if saved >= 1:
        notes.append(Note(kind=NoteKind.HELD_ALIKE, numbers={"minutes": saved}))
    for p in plans:
        if p.bar and any(s.stage == "bar" and not s.saws for s in p.setups):
            numbers = {"pieces": p.bar.pieces, "minutes": saved_in_bar[p.part.name]}
            named = {"part": p.part.name}
            notes.append(Note(kind=NoteKind.IN_THE_BAR, names=named, numbers=numbers))
    chains = [p.setups for p in plans]
    after = {p.task.id: set(p.task.after) for plan in plans for p in plan.order.placed}
    begun = total - sum(s.minutes for s in whole.arranged.setups[-sum(map(len, chains)) :])
    if any(p.prepared.begun for p in plans):
        notes.append(Note(kind=NoteKind.DONE_STAYS))
    fabrications = tuple(fabrication_of(part, shop, setups) for part in build.fabrications)
    notes += [_hearth_note(one) for one in fabrications]
    begun_on = {p.part.name for p in plans if p.prepared.begun}
    # what is machined after joining has been at the hearth when it has begun
    hearth = sum(one.left for one in fabrications if one.part not in begun_on)
    bound = min(whole.bound, total) + hearth
    total, begun = total + hearth, begun + hearth
    return Route(
        build=build.name,
        bars=tuple(p.bar for p in plans if p.bar),
        setups=setups,
        fabrications=fabrications,
        index=tuple(_index(plans, setups)),
        summary=Summary(
            hours=round(total / 60, 3),
            hearth_hours=round(hearth / 60, 3),
            minutes_by_setup=minutes,
            buy=tuple(buy),
            shorten=shortened(build.fabrications, shop),
            bound_hours=floor(bound / 60 * 100) / 100,
            optimal=total <= bound + 0.05,
            one_part_at_a_time_hours=round((one_part(chains, shop.times) + begun) / 60, 2),
            one_tool_at_a_time_hours=round((one_tool(chains, after, shop.times) + begun) / 60, 2),
            pins=tuple(priced(pin, cost) for pin, cost in costs.items()),
            notes=tuple(notes),
        ),
    )


def _hearth_note(one: Fabrication) -> Note:
    heats, minutes = one.careful
    numbers = {
        "heats": len(one.heats),
        "minutes": one.minutes,
        "careful_heats": heats,
        "careful_minutes": minutes,
    }
    return Note(kind=NoteKind.HEARTH, names={"part": one.part}, numbers=numbers)


def _patterned(setups: Sequence[Setup], whole: Whole) -> tuple[Setup, ...]:
    """The numbered setups, with word of the hole patterns that an earlier one's readings make."""
    number = {old.id: new for old, new in zip(whole.arranged.setups, setups, strict=True)}
    told = {}
    for p in whole.shared:
        earlier, setup = number[p.earlier], number[p.setup]
        pattern = because(
            ReasonKind.PATTERN,
            feature=p.feature,
            setup=earlier.id,
            work=earlier.work,
            other=p.earlier_feature,
        )
        told[setup.id] = setup.model_copy(update={"why": (*setup.why, pattern)})
    return tuple(told.get(s.id, s) for s in setups)


def _index(plans: Sequence[PartPlan], setups: tuple[Setup, ...]) -> list[Made]:
    names = {p.bar.id: p.part.name for p in plans if p.bar}
    names |= {p.part.name: p.part.name for p in plans}
    found = []
    for setup in setups:
        for operation in setup.operations:
            for check in operation.checks:
                found.append(
                    Made(
                        part=names[setup.work],
                        dimension=check.name,
                        operation=operation.id,
                        setup=setup.id,
                    )
                )
    return sorted(found, key=lambda m: m.part)
