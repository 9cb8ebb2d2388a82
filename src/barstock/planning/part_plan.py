"""Plans one part: its quickest order, then its setups with all working values."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from barstock.drawing.build import Face, Part
from barstock.errors import UnplannableError
from barstock.machines.saw import sawing_machine
from barstock.planning.holding.way import Need, hold, way_of
from barstock.planning.holding.ways import usual
from barstock.planning.order.known_orders import Solver, fresh
from barstock.planning.order.part_order import NoOrderError, Order, order_part
from barstock.planning.order.precedence import Placed, one_side_each
from barstock.planning.order.user_pins import either_side, parted, together_poses
from barstock.planning.preparing import Prepared
from barstock.planning.setup_making import (
    bar_state,
    held_together,
    in_setups,
    joined_state,
    make_setup,
    piece_state,
)
from barstock.planning.tasks.pose import lay
from barstock.planning.tasks.task import UnheldError, sawing_id
from barstock.route import BarPiece, Cutter, Holding, Operation, Process, SawOff, Setup, Zero
from barstock.route.statements import Caution, CautionKind, ReasonKind, because
from barstock.sequencing import SequencingError
from barstock.stocking.bar_choice import CLEAN_UP, Lengths, Stock
from barstock.workshop.shop import ToolKind, Workshop

MOST_PARTED = 6  # rounds of putting what parts pinned operations before or after them


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


def choose(prepared: Prepared, steps: int, alike: float, solver: Solver = fresh) -> Order:
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
                    steps // len(waiting), saved, solver,
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
        raise NoOrderError(trouble)
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
            tasks, pose = [p.task for p in group], group[0].pose
            try:
                grip = hold(pose, state.box, tasks, givens.workshop)
                way_of(pose).after(grip, lay(pose, state.box, grip.packing), state.done)
                could.append(grip.could)
            except UnplannableError as reason:
                raise UnheldError(reason.why, pose, tasks) from reason

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


def packed_alike(plans: Sequence[PartPlan], made: Sequence[PartPlan] = ()) -> list[PartPlan]:
    """The plans with their setups on as few different packings as will do: the commonest first.

    made: plans of the same parts that are there already. A plan that the others' packings do not
    suit, for what is cut off leaves too little to grip there, keeps its own.
    """
    left = [could for plan in plans for could in plan.could]
    wanted: list[float] = []
    while any(left):
        count = Counter(height for could in left for height in could)
        best = max(count, key=lambda height: (count[height], -height))
        wanted.append(best)
        left = [could for could in left if best not in could]
    found = []
    for p, other in zip_longest(plans, made):
        heights = [h for h in wanted if any(h in c for c in p.could)]
        try:
            found.append(planned(p.prepared, p.order, heights, other))
        except UnplannableError:
            found.append(p)
    return found


def planned(
    prepared: Prepared, order: Order, packings: Sequence[float], made: PartPlan | None
) -> PartPlan:
    """The setups of an order; those `made` already where it is of the same."""
    if made and (made.order.placed, made.packings) == (order.placed, tuple(packings)):
        return replace(made, order=order)
    return plan_part(prepared, order, packings)


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
