"""Planning a build: from the drawing and the shop to a route."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from barstock.drawing.model import Build, Face, Part
from barstock.methods.kind import Kind
from barstock.planning.arranging import Arranged, arrange
from barstock.planning.breakdown import UnplannableError, tasks_of
from barstock.planning.holding import hold
from barstock.planning.ordering import Order, keep_grips, one_side_each, order_part, start_on_floors
from barstock.planning.poses import lay
from barstock.planning.route import (
    BarPiece,
    Cutter,
    Expect,
    Holding,
    Made,
    Operation,
    Route,
    SawOff,
    Setup,
    Step,
    Summary,
    Zero,
)
from barstock.planning.running import running
from barstock.planning.setups import (
    Bench,
    bar_state,
    cutting_minutes,
    in_setups,
    make_setup,
    piece_state,
)
from barstock.planning.tasks import End, Line, Sink, Task
from barstock.planning.tooling import ToolChest
from barstock.planning.working_values import Zeros, cut
from barstock.stocking.bars import Lengths, Stock, choose_bar, cut_up
from barstock.workshop.model import MachineKind, ShopTimes, ToolKind, Workshop

OVERHANG = 0.5  # share of a jaw's width that a bar may stand past each end of the jaws

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class PartPlan:
    """One part planned: how its bar is cut up, and its setups in order."""

    part: Part
    bar: BarPiece
    setups: tuple[Setup, ...]
    order: Order


def plan_build(
    build: Build,
    workshop: Workshop,
    kinds: Mapping[str, Kind] | None = None,
    *,
    progress: Progress | None = None,
    seconds: float = 4.0,
) -> Route:
    """Plan every part of a build. seconds: for sequencing each part.

    Raises UnplannableError (or NoBarError) saying which part and what would help.
    """
    if kinds is None:
        from barstock.methods import KINDS

        kinds = KINDS
    chest = ToolChest(workshop)
    plans = []
    for index, part in enumerate(build.parts):
        if progress:
            progress(f"planning {part.name}", index / len(build.parts))
        plans.append(plan_part(part, workshop, kinds, chest, seconds))
    if progress:
        progress("putting the setups of all parts in order", 0.95)
    arranged = arrange([p.setups for p in plans], workshop.times, seconds)
    if progress:
        progress("planned", 1.0)
    return _route(build, plans, arranged, chest, workshop)


def plan_part(
    part: Part,
    workshop: Workshop,
    kinds: Mapping[str, Kind],
    chest: ToolChest,
    seconds: float,
) -> PartPlan:
    """Plan one part; its setups are named for it, in order."""
    mill = workshop.machine(MachineKind.MILL)
    if mill is None:
        raise UnplannableError("workshop.yaml lists no mill, and these parts are milled")
    finder = next((t.diameter for t in workshop.tools if t.kind is ToolKind.EDGE_FINDER), 0.0)
    bench = Bench(part, workshop, mill, finder)
    stock = choose_bar(part, workshop)
    whole = ((0.0, 0.0, 0.0), part.size)
    tasks = keep_grips(start_on_floors(tasks_of(part, stock, kinds, chest), chest), whole)
    longest = _longest_bar(workshop, mill)
    milled_lengths = cut_up(part, stock, workshop, longest)
    minutes = _minutes(tasks, bench, stock, milled_lengths)
    loads = {
        "bar": workshop.times.load * milled_lengths.count,
        "piece": workshop.times.load * part.copies,
    }
    choices = one_side_each(tasks)
    order = min(
        (order_part(c, minutes, loads, workshop.times, seconds / len(choices)) for c in choices),
        key=lambda found: found.minutes,
    )
    in_bar = any(p.pose.stage == "bar" for p in order.placed)
    lengths = milled_lengths if in_bar else cut_up(part, stock, workshop, stock.bar.length)
    bar = _bar_piece(part, stock, lengths)
    state = bar_state(stock, lengths)
    setups: list[Setup] = []

    def number_of() -> str:
        return f"{part.name} {len(setups) + 1}"

    groups = in_setups(order.placed)
    for group in [g for g in groups if g[0].pose.stage == "bar"]:
        setups.append(make_setup(number_of(), group, state, bench, lengths.count, bar.id))
    setups.append(_sawing(number_of(), part, bar, lengths, workshop))
    state = piece_state(part, state)
    for group in [g for g in groups if g[0].pose.stage != "bar"]:
        setups.append(make_setup(number_of(), group, state, bench, part.copies, part.name))
    return PartPlan(part, bar, tuple(setups), order)


def _longest_bar(workshop: Workshop, mill: object) -> float:
    """The longest bar the widest vise holds without too much standing past its jaws [mm]."""
    from barstock.workshop.model import Machine

    assert isinstance(mill, Machine)
    jaw = max((v.jaw_width for v in workshop.vises), default=80.0)
    travel = mill.x.travel if mill.x else 1e9
    return min(jaw * (1 + 2 * OVERHANG), travel - 40.0)


def _bar_piece(part: Part, stock: Stock, lengths: Lengths) -> BarPiece:
    from barstock.stocking.bars import CLEAN_UP

    return BarPiece(
        id=f"bar for {part.name}",
        part=part.name,
        material=part.material,
        stock=stock.bar.name,
        shape="rectangle",
        width=stock.y[1] - stock.y[0],
        height=stock.z[1] - stock.z[0],
        length=round(lengths.length, 3),
        pieces=lengths.pieces,
        count=lengths.count,
        last_pieces=0 if lengths.last == lengths.pieces else lengths.last,
        start=(-CLEAN_UP, stock.y[0], stock.z[0]),
        to_buy=stock.bar.to_buy,
    )


def _minutes(
    tasks: list[Task], bench: Bench, stock: Stock, lengths: Lengths
) -> dict[tuple[str, str, str], float]:
    """Minutes of every task in every pose with every tool, for all works."""
    part = bench.part
    whole = ((0.0, 0.0, 0.0), part.size)
    long = ((0.0, stock.y[0], stock.z[0]), (lengths.length, stock.y[1], stock.z[1]))
    found: dict[tuple[str, str, str], float] = {}
    for task in tasks:
        for pose in task.poses:
            bar = pose.stage == "bar"
            box = long if bar else whole
            try:
                if not isinstance(task.job, Line):
                    hold(pose, box, [task], bench.workshop)
            except UnplannableError as reason:
                trouble = reason
                continue
            lie = lay(pose, box, 0.0)
            zeros = Zeros(0.0, 0.0, lie.extent[1][2])
            for tool in task.tools:
                if isinstance(task.job, End) and tool.flute < lie.extent[1][2] + 1.0:
                    continue
                values = cut(task, tool, lie, zeros, bench.dial)
                size = (
                    task.job.size if isinstance(task.job, Sink) and task.job.size else tool.diameter
                )
                feed = (
                    1.0
                    if isinstance(task.job, Line)
                    else running(tool, size, part.material, bench.machine).feed
                )
                each = cutting_minutes(task, tool, values, feed, bench)
                found[task.id, pose.name, tool.name] = each * (
                    lengths.count if bar else part.copies
                )
        if not any(key[0] == task.id for key in found):
            raise UnplannableError(f"part {part.name!r}, {task.title}: {trouble}")
    return found


def _sawing(number: str, part: Part, bar: BarPiece, lengths: Lengths, shop: Workshop) -> Setup:
    saw = shop.machine(MachineKind.SAW)
    none = Zero(find="none")
    each = round(lengths.each, 2)
    name = saw.name if saw else "hacksaw"
    return Setup(
        id=number,
        title=f"saw {part.copies} pieces",
        work=bar.id,
        stage="bar",
        copies=lengths.count,
        machine=name,
        machine_kind=MachineKind.SAW,
        holding=Holding(device=f"{name} vise", up=Face.TOP, fixed_jaw=Face.BACK, stop="right"),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=(
            Operation(
                id=f"{part.name}/saw/off",
                title=f"saw to {each:g} mm",
                features=(),
                cutter=Cutter(
                    name=f"{name} blade", kind=ToolKind.SAW_BLADE, diameter=0, holder="hand"
                ),
                moves=(SawOff(each=each, pieces=lengths.pieces, kerf=lengths.kerf),),
                steps=(
                    Step(words="Set the saw's stop and saw", dial={"length": f"{each:.1f} mm"}),
                    Step(
                        words="Pieces",
                        dial={"from each bar": " / ".join(str(n) for n in lengths.per_bar)},
                    ),
                ),
                cautions=(
                    "Support the piece that falls off; fingers never in line with the blade.",
                ),
                minutes=round(shop.times.saw_each * lengths.pieces, 2),
            ),
        ),
        passes=((f"{part.name}/saw/off",),),
        cautions=("Eye protection on. Deburr the sawn ends before measuring or holding by them.",),
        why=("sawn when nothing more can be cut along the whole bar",),
        minutes=round(5.0 + (shop.times.saw_each + shop.times.deburr) * part.copies, 2),
        picture=f"setup-{number}.svg",
    )


# -- the whole -----------------------------------------------------------------------------------


def _route(
    build: Build, plans: list[PartPlan], arranged: Arranged, chest: ToolChest, shop: Workshop
) -> Route:
    setups = tuple(
        s.model_copy(update={"id": str(n), "picture": f"setup-{n}.svg"})
        for n, s in enumerate(arranged.setups, 1)
    )
    minutes = {s.id: s.minutes for s in setups}
    total = sum(minutes.values())
    buy = [t.name for t in chest.to_buy.values()]
    for p in plans:
        if p.bar.to_buy:
            buy.append(f"{p.bar.count * p.bar.length:.0f} mm of {p.bar.material} {p.bar.stock}")
    alone = total + arranged.saved
    notes = [
        f"Keeping alike setups together saves {arranged.saved:.0f} minutes of setting up.",
    ]
    for p in plans:
        if any(s.stage == "bar" and s.machine_kind is MachineKind.MILL for s in p.setups):
            notes.append(f"{p.part.name}: cut in the bar, {p.bar.pieces} pieces at a time.")
    return Route(
        build=build.name,
        bars=tuple(p.bar for p in plans),
        setups=setups,
        index=tuple(_index(plans, setups)),
        summary=Summary(
            hours=round(total / 60, 2),
            minutes_by_setup=minutes,
            buy=tuple(buy),
            optimal=arranged.proven and all(p.order.proven for p in plans),
            one_part_at_a_time_hours=round(_one_copy(setups, shop.times) / 60, 2),
            one_tool_at_a_time_hours=round(_one_tool(setups, shop.times, alone) / 60, 2),
            notes=tuple(notes),
        ),
    )


def _one_copy(setups: tuple[Setup, ...], times: ShopTimes) -> float:
    """Minutes if every copy were finished before the next is begun."""
    total = 0.0
    for s in setups:
        fixed = 2.0 if s.machine_kind is not MachineKind.MILL else times.set_up + times.find_zero
        fixed += times.tilt if s.holding.tilt else 0.0
        change = times.change_chuck * len(s.operations)
        each = fixed + change + times.load + sum(o.minutes for o in s.operations)
        total += each * s.copies
    return total


def _one_tool(setups: tuple[Setup, ...], times: ShopTimes, total: float) -> float:
    """Minutes if each tool, once in the spindle, did all its work before the next: a new setup for
    every operation."""
    extra = 0.0
    for s in setups:
        if s.machine_kind is MachineKind.MILL:
            again = len(s.operations) - 1
            tilt = times.tilt if s.holding.tilt else 0.0
            extra += again * (times.set_up + times.find_zero + tilt)
            extra += (len(s.operations) - len(s.passes)) * times.load * s.copies
    return total + extra


def _index(plans: list[PartPlan], setups: tuple[Setup, ...]) -> list[Made]:
    names = {p.bar.id: p.part.name for p in plans} | {p.part.name: p.part.name for p in plans}
    found = []
    for setup in setups:
        for operation in setup.operations:
            for check in operation.checks:
                found.append(
                    Made(
                        part=names[setup.work],
                        dimension=check.name,
                        text=check.text or f"{check.nominal:g}",
                        operation=operation.id,
                        setup=setup.id,
                        how=_how(check),
                    )
                )
    return sorted(found, key=lambda m: m.part)


def _how(check: Expect) -> str:
    return f"{check.how}, {check.with_}" if check.with_ else check.how
