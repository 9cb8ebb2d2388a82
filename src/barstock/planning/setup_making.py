"""Makes the setups a person works through from an ordered list of placed tasks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.machines import machine_type
from barstock.machines.machine_type import WorkSort
from barstock.machines.spindle_speed import running
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.tilting import tilting
from barstock.planning.holding.way import hold, way_of
from barstock.planning.not_listed import touch_gauge
from barstock.planning.order.loadings import group_passes
from barstock.planning.order.precedence import Placed, tool_change
from barstock.planning.parts.breakdown import DATUM_END
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Bevel, End, Facing, FiledEnd, Sink, Slit, Task
from barstock.planning.values import Cutting, Zeros, cut
from barstock.planning.values.dimension_checks import expect
from barstock.planning.values.setup_givens import SetupGivens
from barstock.route import (
    Cutter,
    Holding,
    Operation,
    Setup,
    Turned,
    Zero,
)
from barstock.route.statements import (
    Caution,
    CautionKind,
    Mark,
    MarkKind,
    Reason,
    ReasonKind,
    because,
)
from barstock.stocking.bar_choice import CLEAN_UP, Lengths, Stock
from barstock.workshop.shop import MachineKind, ShopTimes, Tool, ToolKind, Workshop

BY_HAND = {ToolKind.FILE: CautionKind.FILE_BY_HAND, ToolKind.SAW_BLADE: CautionKind.SAW_BY_HAND}
TALL = 3.0  # times its grip that work may stand up before a warning; common practice


@dataclass
class State:
    """The work's extremes in the part's frame as cutting goes on, and what is done to it."""

    x: list[float]
    y: list[float]
    z: list[float]
    done: list[Task] = field(default_factory=list)

    @property
    def box(self) -> Box:
        """The work's extremes (low corner, high corner) [mm]."""
        return ((self.x[0], self.y[0], self.z[0]), (self.x[1], self.y[1], self.z[1]))

    def after(self, placed: Sequence[Placed]) -> None:
        """Move the extremes in to the faces and ends these tasks have cut."""
        for p in placed:
            self.done.append(p.task)
            face = p.task.face
            part_way = isinstance(p.task.job, Facing) and p.task.job.part_way
            if face is not None and not part_way:
                ends = (self.x, self.y, self.z)[face.axis]
                ends[1 if face.sign > 0 else 0] = (
                    p.task.part.size[face.axis] if face.sign > 0 else 0.0
                )


def bar_state(stock: Stock, lengths: Lengths) -> State:
    """The state of a bar length before anything is cut."""
    return State([-CLEAN_UP, lengths.length - CLEAN_UP], [*stock.y], [*stock.z])


def joined_state(part: Part) -> State:
    """The state of a fabrication's pieces, joined."""
    (x, y, z), (a, b, c) = part.raw
    return State([x, a], [y, b], [z, c])


def piece_state(lengths: Lengths, bar: State) -> State:
    """The state of a piece as it comes off the saw."""
    return State([-CLEAN_UP, lengths.each - CLEAN_UP], list(bar.y), list(bar.z), list(bar.done))


def in_setups(placed: Sequence[Placed]) -> list[list[Placed]]:
    """The runs of tasks done without disturbing the work."""
    return [list(group) for _, group in groupby(placed, key=lambda p: p.pose.name)]


def held_together(
    group: Sequence[Placed], state: State, shop: Workshop
) -> Iterator[Sequence[Placed]]:
    """A run's tasks in as few setups as the work can be held for, mostly one: what is too much for
    one grip waits until the first have made the work smaller. `state` moves on between them."""
    left = list(group)
    while left:
        many = len(left)
        while many > 1 and not _holds(left[:many], state, shop):
            many -= 1
        yield left[:many]
        left = left[many:]


def _holds(run: Sequence[Placed], state: State, shop: Workshop) -> bool:
    try:
        hold(run[0].pose, state.box, [p.task for p in run], shop)
    except UnplannableError:
        return False
    return True


def make_setup(
    number: str, group: Sequence[Placed], state: State, givens: SetupGivens, copies: int, work: str
) -> Setup:
    """One setup with all its working values; `state` moves on to what is left afterwards."""
    pose, tasks = group[0].pose, [p.task for p in group]
    way = way_of(pose)
    if way.by_hand:
        state.after(group)
        return _bench_work(number, group, givens, copies, work)
    shop, times = givens.workshop, givens.workshop.times
    givens, machine = givens.at(way.machine), shop.machine(way.machine)
    assert machine is not None, way.machine
    grip = way.hold(pose, state.box, tasks, shop, givens.packings)
    lie, earlier = lay(pose, state.box, grip.packing), list(state.done)
    grip = way.after(grip, lie, earlier)
    from_rest = way.sunk(lie, earlier) > 0 or any(t.face is pose.up for t in tasks)
    _, high = lie.extent
    more = givens.shifts.get(number, (0.0, 0.0))
    found_x, found_y, at = way.zeros(tasks, lie, grip, givens.finder, more, earlier)
    zeros = Zeros(*at, grip.packing if from_rest else high[2])
    holding = _holding(grip, lie, givens, way.turned(pose, tasks, earlier))
    operations = []
    for p in group:
        operations.append(_operation(p, lie, zeros, givens))
        state.after([p])
        lie = replace(lie, box=state.box)
    holding = way.settled(holding, operations, zeros, high[2])
    ready = way.ready(times, bool(pose.tilt)) + way.anew(times, (found_x, found_y), copies)
    changes = [tool_change(pose, p.tool, times) for p in group]
    passes, cutting = group_passes(operations, changes, copies, way.loading(times))
    return Setup(
        id=number,
        work=work,
        stage="bar" if pose.stage == "bar" else "piece",
        copies=copies,
        machine=machine.name,
        machine_kind=machine.kind,
        holding=holding,
        zero_x=found_x,
        zero_y=found_y,
        zero_z=_above_rest(givens, grip.parallels) if from_rest else Zero(find="top"),
        operations=tuple(operations),
        passes=passes,
        cautions=tuple(_cautions(group, holding, lie)),
        why=tuple(_why(pose)),
        marks=tuple(_marks(group, pose)),
        minutes=round(ready + cutting, 2),
        picture=f"setup-{number}.svg",
    )


def _above_rest(givens: SetupGivens, used: Sequence[float]) -> Zero:
    """Zero at the packing's top, by a gauge of the shop's own on it."""
    gauge, of = touch_gauge(givens.workshop, used, givens.dial)
    return Zero(find="rest", set_to=gauge, gauge=gauge, gauge_of=of)


def _operation(p: Placed, lie: Lie, zeros: Zeros, givens: SetupGivens) -> Operation:
    task, tool = p.task, p.tool
    values = cut(task, tool, lie, zeros, givens.dial)
    size = task.job.size if isinstance(task.job, Sink) and task.job.size else tool.diameter
    run = running(tool, size, task.part.material, givens.machine)
    checks = tuple(
        expect(task.part, task.feature, c, givens.workshop, givens.dial.step("X"))
        for c in task.checks
    )
    kind, times = way_of(p.pose).machine, givens.workshop.times
    minutes = cutting_minutes(task, kind, values, run.feed, times)
    return Operation(
        id=task.id,
        does=task.does,
        features=(task.feature,),
        face=task.face,
        cut=task.cut,
        to_size=task.to_size,
        size=task.job.cut.size[0] if isinstance(task.job, Bevel) else 0.0,
        cutter=Cutter(
            name=tool.name,
            kind=tool.kind,
            diameter=tool.diameter,
            flute=tool.flute,
            reach=tool.reach,
            shank=tool.shank,
            point=tool.point,
            holder=tool.holder.value,
            thread=tool.thread,
            plunges=tool.centre_cutting,
        ),
        moves=tuple(values.moves),
        rpm=round(run.rpm),
        feed=round(run.feed),
        surface_speed=round(run.surface, 1),
        speed_share=round(run.share, 3),
        checks=checks,
        why=(*task.why, *task.reasons),
        cautions=tuple(_tool_cautions(task, tool, run.share)),
        minutes=round(minutes, 2),
    )


def cutting_minutes(
    task: Task, machine: MachineKind, values: Cutting, feed: float, times: ShopTimes
) -> float:
    """The minutes of one operation on one copy: cutting, moving and measuring."""
    if isinstance(task.job, Sink) and task.job.step == "tap":
        return times.tap_hole * len(task.job.at)
    kind = machine_type(machine)
    cutting = kind.minutes(values.travel, values.approaches, feed, times)
    measured = task.checks and kind.work is WorkSort.CUTTING  # by hand one measures as one goes
    return cutting + (times.measure if measured else 0.0)


def _tool_cautions(task: Task, tool: Tool, share: float) -> Iterator[Caution]:
    job = task.job
    if isinstance(job, Slit):
        yield Caution(kind=CautionKind.SLITTING)
    if share < 0.95 and tool.kind is not ToolKind.TAP:
        yield Caution(kind=CautionKind.SLOW_SPINDLE, numbers={"share": round(share, 3)})
    if not isinstance(job, Sink):
        return
    if job.step == "drill":
        if tool.diameter and job.depth > 3 * tool.diameter:
            yield Caution(kind=CautionKind.DEEP_HOLE)
        if job.through:
            yield Caution(kind=CautionKind.BREAKS_THROUGH)
    if job.step == "tap":
        yield Caution(kind=CautionKind.TAP_BY_HAND)


def _holding(grip: Grip, lie: Lie, givens: SetupGivens, turned: Turned | None) -> Holding:
    shop, pose, (low, high) = givens.workshop, lie.pose, lie.extent
    way = way_of(pose)
    tilt_set = None
    if pose.tilt:
        tilt_set = tilting(pose.tilt, grip.opening, high[0] - low[0], shop, givens.part.unit)
    return Holding(
        way=way.name,
        device=grip.device,
        up=pose.up,
        fixed_jaw=pose.fixed_jaw,
        stop="left" if way.stop else "none",
        tilt=pose.tilt,
        tilt_set=tilt_set,
        turned=turned,
        packing=round(grip.packing, 4),
        parallels=grip.parallels,
        parallel_thickness=shop.parallel_thickness,
        parallels_out=grip.parallels_out,
        grip=round(grip.grip, 3),
        stick_up=round(grip.stick_up, 3),
        jaws_from=round(grip.jaws[0], 3),
        jaws_to=round(grip.jaws[1], 3),
        jaw_top=grip.vise.jaw_depth if grip.vise else 0.0,
        opening=round(grip.opening, 3),
        largest_opening=grip.vise.opening if grip.vise else 0.0,
        bodies=grip.bodies,
    )


def _marks(group: Sequence[Placed], pose: Pose) -> Iterator[Mark]:
    if any(isinstance(p.task.job, End | FiledEnd) and not p.task.job.second for p in group):
        yield Mark(kind=MarkKind.SQUARED_END, names={"end": DATUM_END})
    if pose.tilt:
        names: dict[str, str] = {"end": pose.left, "up": pose.up, "right": pose.right}
        yield Mark(kind=MarkKind.TO_THE_STOP, names=names)


def _why(pose: Pose) -> Iterator[Reason]:
    if pose.stage == "bar":
        yield because(ReasonKind.IN_THE_BAR)
    yield from way_of(pose).reasons()
    if pose.tilt:
        yield because(ReasonKind.TILTED, tilt=pose.tilt)


def _distinct(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """Each reason once, in order."""
    found: list[Reason] = []
    for one in reasons:
        if one not in found:
            found.append(one)
    return tuple(found)


def _cautions(group: Sequence[Placed], holding: Holding, lie: Lie) -> Iterator[Caution]:
    yield Caution(kind=CautionKind.SPINDLE)
    yield from way_of(lie.pose).cautions([p.task for p in group], holding, lie)
    if any(p.tool.kind is ToolKind.DRILL and p.tool.diameter > 6 for p in group):
        yield Caution(kind=CautionKind.DRILL_SNATCHES)


def _bench_work(
    number: str, group: Sequence[Placed], givens: SetupGivens, copies: int, work: str
) -> Setup:
    """Marking out, sawing and filing at the bench vise."""
    times, pose = givens.workshop.times, group[0].pose
    way, operations = way_of(pose), []
    for p in group:
        values = cut(p.task, p.tool, _nowhere(p.pose), Zeros(0, 0, 0), givens.dial)
        operations.append(
            Operation(
                id=p.task.id,
                does=p.task.does,
                features=(p.task.feature,),
                face=p.task.face,
                cut=p.task.cut,
                to_size=p.task.to_size,
                cutter=Cutter(name=p.tool.name, kind=p.tool.kind, diameter=0, holder="hand"),
                moves=tuple(values.moves),
                checks=tuple(
                    expect(p.task.part, p.task.feature, c, givens.workshop, 0.0)
                    for c in p.task.checks
                ),
                why=p.task.why,
                cautions=(Caution(kind=BY_HAND[p.tool.kind]),),
                minutes=round(cutting_minutes(p.task, way.machine, values, 1.0, times), 2),
            )
        )
    none = Zero(find="none")
    cutting = sum(o.minutes for o in operations) * copies
    return Setup(
        id=number,
        work=work,
        stage="piece",
        copies=copies,
        machine=way.machine.value,
        machine_kind=way.machine,
        holding=Holding(
            way=way.name, device=way.name, up=pose.up, fixed_jaw=pose.fixed_jaw, stop="none"
        ),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=tuple(operations),
        passes=(tuple(o.id for o in operations),),
        cautions=(Caution(kind=CautionKind.EYES),),
        marks=tuple(_marks(group, pose)),
        why=_distinct(why for p in group for why in p.task.why),
        minutes=round(way.ready(times, False) + copies * way.loading(times) + cutting, 2),
        picture=f"setup-{number}.svg",
    )


def _nowhere(pose: Pose) -> Lie:
    return Lie(pose, (0.0, 0.0, 0.0), ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)), 0.0)
