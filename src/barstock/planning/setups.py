"""From an ordered list of placed tasks to the setups a person works through."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.machines.spindle_speed import running
from barstock.planning.holding.angle_plate import LOW_STOP
from barstock.planning.holding.clear_of_straps import under_the_cuts
from barstock.planning.holding.drill_press import CAUTIONS as PRESSED
from barstock.planning.holding.hold import (
    FINDER_SEES,
    Grip,
    by_the_middle,
    hold,
    sides_clear,
    touched,
)
from barstock.planning.holding.round_turning import turned_to
from barstock.planning.holding.straps import STRAPPED, UPRIGHT, lowered
from barstock.planning.holding.tilting import tilting
from barstock.planning.holding.v_block import LYING, in_sight, stands
from barstock.planning.not_listed import touch_gauge
from barstock.planning.order.loadings import group_passes
from barstock.planning.order.precedence import Placed, loading
from barstock.planning.parts.breakdown import DATUM_END
from barstock.planning.tasks.outline_path import edges_left
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.tasks.task import Bevel, Contour, End, Line, Sink, Task
from barstock.planning.values import Cutting, Zeros, cut
from barstock.planning.values.at_hand import Bench
from barstock.planning.values.cutting import BELOW
from barstock.planning.values.dimension_checks import expect
from barstock.planning.values.height_left import sunk
from barstock.route import (
    BodyKind,
    Cutter,
    Holding,
    Operation,
    Plunge,
    Process,
    Setup,
    Traverse,
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
from barstock.workshop.shop import (
    MachineKind,
    Tool,
    ToolKind,
    Workshop,
)

SAME = 1e-6  # a side is where the drawing has it [mm]
STOP_CLEAR = 0.5  # of a cutter's tip above the stop, which is set by eye [mm]; common practice
STANDS_OUT = 4.0  # how far an end to be squared is to stand past the jaws [mm]; common practice
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
        """Extremes (low corner, high corner) [mm]."""
        return ((self.x[0], self.y[0], self.z[0]), (self.x[1], self.y[1], self.z[1]))

    def after(self, placed: Sequence[Placed]) -> None:
        """Move the extremes in to the faces and ends these tasks have cut."""
        for p in placed:
            self.done.append(p.task)
            face = p.task.face
            if face is not None:
                ends = (self.x, self.y, self.z)[face.axis]
                ends[1 if face.sign > 0 else 0] = (
                    p.task.part.size[face.axis] if face.sign > 0 else 0.0
                )


def bar_state(stock: Stock, lengths: Lengths) -> State:
    """A bar length before anything is cut."""
    return State([-CLEAN_UP, lengths.length - CLEAN_UP], [*stock.y], [*stock.z])


def joined_state(part: Part) -> State:
    """The pieces of a fabrication, joined."""
    (x, y, z), (a, b, c) = part.raw
    return State([x, a], [y, b], [z, c])


def piece_state(part: Part, bar: State) -> State:
    """A piece as it comes off the saw."""
    return State([-CLEAN_UP, part.size[0] + CLEAN_UP], list(bar.y), list(bar.z), list(bar.done))


def in_setups(placed: Sequence[Placed]) -> list[list[Placed]]:
    """Runs of tasks done without disturbing the work."""
    return [
        list(group)
        for _, group in groupby(placed, key=lambda p: (p.pose.name, isinstance(p.task.job, Line)))
    ]


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
    if isinstance(run[0].task.job, Line):
        return True
    try:
        hold(run[0].pose, state.box, [p.task for p in run], shop)
    except UnplannableError:
        return False
    return True


def make_setup(
    number: str, group: Sequence[Placed], state: State, bench: Bench, copies: int, work: str
) -> Setup:
    """One setup with all its working values; `state` moves on to what is left afterwards."""
    if isinstance(group[0].task.job, Line):
        state.after(group)
        return _bench_work(number, group, bench, copies, work)
    shop, times = bench.workshop, bench.workshop.times
    pose = group[0].pose
    press = shop.machine(MachineKind.DRILL_PRESS) if pose.press else None
    bench = replace(bench, machine=press) if press else bench
    grip = hold(pose, state.box, [p.task for p in group], shop, bench.packings)
    lie = lay(pose, state.box, grip.packing)
    if pose.straps:
        grip = replace(grip, bodies=lowered(grip.bodies, lie, state.done))
    earlier, gone = list(state.done), 0.0 if pose.block else sunk(pose, state.box, state.done)
    if not (pose.tilt or pose.block or pose.straps or pose.vee):
        grip = replace(grip, grip=touched(pose, state.box, grip.grip, state.done))
    if not (pose.straps or pose.vee):
        grip = replace(grip, stick_up=grip.stick_up - gone)
    facing = any(
        p.task.does is Process.FACE or (isinstance(p.task.job, End) and stands(pose)) for p in group
    )
    from_rest = gone > 0 or facing
    _, high = lie.extent
    more = bench.shifts.get(number, (0.0, 0.0))
    clear = grip.stick_up >= FINDER_SEES and sides_clear(pose, state.box, state.done)
    found_x, found_y, at = _plan_zeros(group, lie, clear, bench, more)
    if press:
        found_x = found_y = Zero(find="none")
        at = (0.0, 0.0)
    zeros = Zeros(*at, grip.packing if from_rest else high[2])
    holding = _holding(pose, grip, lie, bench)
    operations = []
    for p in group:
        operations.append(_operation(p, lie, zeros, bench))
        state.after([p])
        lie = replace(lie, box=state.box)
    if pose.straps:
        times = replace(times, load=loading(True, times))
        there = under_the_cuts(grip.bodies, operations, zeros, high[2])
        holding = holding.model_copy(update={"bodies": there})
    if holding.stop != "none":
        below = _stop_below(operations, zeros)
        if pose.straps and pose.straps.plate:
            below = grip.packing + LOW_STOP
        holding = holding.model_copy(update={"stop_below": below})
    work_minutes = times.set_up + times.find_zero + (times.tilt if pose.tilt else 0.0)
    if press:
        work_minutes = times.press
    if pose.block:
        work_minutes += times.find_zero * (copies - 1)
    centred = [zero for zero in (found_x, found_y) if zero.find == "centre"]
    if pose.vee:
        turned = turned_to(pose, [p.task for p in group], earlier)
        holding = holding.model_copy(update={"turned": turned})
    if centred and not (pose.vee and not stands(pose)):
        work_minutes += times.find_zero / 2 * len(centred) * copies
    passes, cutting = group_passes(operations, [p.tool for p in group], copies, times)
    return Setup(
        id=number,
        work=work,
        stage="bar" if pose.stage == "bar" else "piece",
        copies=copies,
        machine=bench.machine.name,
        machine_kind=bench.machine.kind,
        holding=holding,
        zero_x=found_x,
        zero_y=found_y,
        zero_z=_above_rest(bench, grip.parallels) if from_rest else Zero(find="top"),
        operations=tuple(operations),
        passes=passes,
        cautions=tuple(_cautions(group, holding, lie)),
        why=tuple(_why(pose)),
        marks=tuple(_marks(group, pose)),
        minutes=round(work_minutes + cutting, 2),
        picture=f"setup-{number}.svg",
    )


def _above_rest(bench: Bench, used: Sequence[float]) -> Zero:
    """Zero at the packing's top, by a gauge of the shop's own on it."""
    gauge, of = touch_gauge(bench.workshop, used, bench.dial)
    return Zero(find="rest", set_to=gauge, gauge=gauge, gauge_of=of)


def _plan_zeros(
    group: Sequence[Placed], lie: Lie, clear: bool, bench: Bench, more: tuple[float, float]
) -> tuple[Zero, Zero, tuple[float, float]]:
    """How X and Y are zeroed, and where on the table their zeros lie.

    clear: the finder reaches both sides at the jaws; more: what the readings are to grow by [mm].
    """
    tip, half = bench.finder, bench.finder / 2
    job = group[0].task.job
    low, high = lie.extent
    if lie.pose.vee:
        return _on_the_axis(lie, tip, more)
    if not isinstance(job, Contour):
        x = Zero(find="left", set_to=more[0] - half, finder=tip)
        y = Zero(find="fixed jaw", set_to=more[1] - half, finder=tip)
        at = [-more[0], -more[1]]
        if _from_the_middle(group, lie, lie.pose.right.axis):
            x = Zero(find="centre", set_to=more[0], finder=tip)
            at[0] += (low[0] + high[0]) / 2
        if clear and _from_the_middle(group, lie, lie.pose.fixed_jaw.axis):
            y = Zero(find="centre", set_to=more[1], finder=tip)
            at[1] += (low[1] + high[1]) / 2
        return x, y, (at[0], at[1])
    sides = edges_left(job.cut, group[0].task.part.size)
    left, back = ((face.axis, face.sign) in sides for face in (lie.pose.left, lie.pose.fixed_jaw))
    x = Zero(find="left" if left else "right", set_to=-half if left else half, finder=tip)
    y = Zero(find="back" if back else "front", set_to=half if back else -half, finder=tip)
    return x, y, ((low if left else high)[0], (high if back else low)[1])


def _on_the_axis(
    lie: Lie, tip: float, more: tuple[float, float]
) -> tuple[Zero, Zero, tuple[float, float]]:
    """Zeros on the axis of round work: both sides touched, half way between; of lying work X from
    its left end."""
    low, high = lie.extent
    middle = [(low[i] + high[i]) / 2 for i in (0, 1)]
    y = Zero(find="centre", set_to=more[1], finder=tip)
    x = Zero(find="centre", set_to=more[0], finder=tip)
    if not stands(lie.pose):
        y = y if in_sight(lie, tip) else y.model_copy(update={"on": BodyKind.V_BLOCK})
        x, middle[0] = Zero(find="left", set_to=more[0] - tip / 2, finder=tip), low[0]
    return x, y, (middle[0] - more[0], middle[1] - more[1])


def _from_the_middle(group: Sequence[Placed], lie: Lie, axis: int) -> bool:
    """Must zero be half way between the work's finished sides, and can it?"""
    part = group[0].task.part
    jobs = [p.task.job for p in group]
    beside = (isinstance(j, Sink) or (isinstance(j, End) and j.face.axis != axis) for j in jobs)
    if lie.pose.tilt or not all(beside):
        return False
    low, high = lie.box[0][axis], lie.box[1][axis]
    if abs(low) > SAME or abs(high - part.size[axis]) > SAME:
        return False
    return by_the_middle([p.task for p in group], axis)


def _operation(p: Placed, lie: Lie, zeros: Zeros, bench: Bench) -> Operation:
    task, tool = p.task, p.tool
    values = cut(task, tool, lie, zeros, bench.dial)
    size = task.job.size if isinstance(task.job, Sink) and task.job.size else tool.diameter
    run = running(tool, size, task.part.material, bench.machine)
    checks = tuple(
        expect(task.part, task.feature, c, bench.workshop, bench.dial.step("X"))
        for c in task.checks
    )
    minutes = cutting_minutes(task, tool, values, run.feed, bench)
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


def cutting_minutes(task: Task, tool: Tool, values: Cutting, feed: float, bench: Bench) -> float:
    """Minutes of one operation on one copy: cutting, moving and measuring."""
    times = bench.workshop.times
    if isinstance(task.job, Line):
        return max(1.0, values.travel / 100 * times.file_per_100mm)
    if isinstance(task.job, Sink) and task.job.step == "tap":
        return times.tap_hole * len(task.job.at)
    return (
        values.travel / max(feed, 1.0)
        + values.approaches * times.move
        + (times.measure if task.checks else 0.0)
    )


def _tool_cautions(task: Task, tool: Tool, share: float) -> Iterator[Caution]:
    job = task.job
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


def _holding(pose: Pose, grip: Grip, lie: Lie, bench: Bench) -> Holding:
    shop, (low, high) = bench.workshop, lie.extent
    tilt_set = None
    if pose.tilt:
        tilt_set = tilting(pose.tilt, grip.opening, high[0] - low[0], shop, bench.part.unit)
    return Holding(
        way=pose.way,
        device=grip.vise.name,
        up=pose.up,
        fixed_jaw=pose.fixed_jaw,
        stop="none" if pose.press or pose.block or (pose.vee and stands(pose)) else "left",
        tilt=pose.tilt,
        tilt_set=tilt_set,
        packing=round(grip.packing, 4),
        parallels=grip.parallels,
        parallel_thickness=shop.parallel_thickness,
        parallels_out=grip.parallels_out,
        grip=round(grip.grip, 3),
        stick_up=round(grip.stick_up, 3),
        jaws_from=round(grip.jaws[0], 3),
        jaws_to=round(grip.jaws[1], 3),
        jaw_top=grip.vise.jaw_depth,
        opening=round(grip.opening, 3),
        largest_opening=grip.vise.opening,
        bodies=grip.bodies,
    )


def _stop_below(operations: Sequence[Operation], zeros: Zeros) -> float | None:
    """Height on the table under which the stop at x = 0 must stay for the cutters to pass over it;
    None where none comes there."""
    over = []
    for o in operations:
        for move in o.moves:
            if isinstance(move, Plunge) and not move.touch:
                left, radius, z = move.x, max(move.wide, o.cutter.diameter) / 2, move.z
            elif isinstance(move, Traverse):
                left, radius, z = min(x for x, _ in move.points), o.cutter.diameter / 2, move.z
            else:
                continue
            if zeros.x + left - radius < -SAME:
                over.append(zeros.z + z)
    return round(min(over) - STOP_CLEAR, 3) if over else None


def _marks(group: Sequence[Placed], pose: Pose) -> Iterator[Mark]:
    if any(isinstance(p.task.job, End) and not p.task.job.second for p in group):
        yield Mark(kind=MarkKind.SQUARED_END, names={"end": DATUM_END})
    if pose.tilt:
        names: dict[str, str] = {"end": pose.left, "up": pose.up, "right": pose.right}
        yield Mark(kind=MarkKind.TO_THE_STOP, names=names)


def _why(pose: Pose) -> Iterator[Reason]:
    if pose.stage == "bar":
        yield because(ReasonKind.IN_THE_BAR)
    if pose.press:
        yield because(ReasonKind.DRILL_PRESS)
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
    pose = group[0].pose
    yield Caution(kind=CautionKind.SPINDLE)
    if pose.block:
        yield Caution(kind=CautionKind.INTO_BLOCK, lengths={"deep": BELOW})
    if holding.parallels_out:
        yield Caution(kind=CautionKind.PARALLELS_OUT)
    lying = pose.vee is not None and not stands(pose)
    if any(isinstance(p.task.job, End) for p in group) and not (lying or stands(pose)):
        past = CautionKind.PAST_PARALLELS if pose.straps else CautionKind.PAST_JAWS
        yield Caution(kind=past, lengths={"past": STANDS_OUT})
    if not (pose.straps or pose.block or pose.vee) and _to_one_side(holding, lie):
        yield Caution(kind=CautionKind.TO_ONE_SIDE, lengths={"opening": holding.opening})
    if pose.straps:
        for kind in UPRIGHT if pose.straps.plate else STRAPPED:
            yield Caution(kind=kind)
    elif lying:
        for kind in LYING:
            yield Caution(kind=kind)
    elif holding.grip < 4:
        yield Caution(kind=CautionKind.LITTLE_GRIP, lengths={"grip": holding.grip})
    if holding.stick_up > TALL * holding.grip and not lying:
        yield Caution(kind=CautionKind.TALL, lengths={"stick_up": holding.stick_up})
    if any(p.tool.kind is ToolKind.DRILL and p.tool.diameter > 6 for p in group):
        yield Caution(kind=CautionKind.DRILL_SNATCHES)
    for kind in PRESSED if pose.press else ():
        yield Caution(kind=kind)


def _to_one_side(holding: Holding, lie: Lie) -> bool:
    """Does the screw in the vise's middle press beside the work? Common practice."""
    low, high = lie.extent
    middle = (holding.jaws_from + holding.jaws_to) / 2
    return not low[0] <= middle <= high[0]


def _bench_work(
    number: str, group: Sequence[Placed], bench: Bench, copies: int, work: str
) -> Setup:
    """Marking out, sawing and filing at the bench vise."""
    times = bench.workshop.times
    operations = []
    for p in group:
        values = cut(p.task, p.tool, _nowhere(p.pose), Zeros(0, 0, 0), bench.dial)
        operations.append(
            Operation(
                id=p.task.id,
                does=p.task.does,
                features=(p.task.feature,),
                face=p.task.face,
                cut=p.task.cut,
                cutter=Cutter(name=p.tool.name, kind=p.tool.kind, diameter=0, holder="hand"),
                moves=tuple(values.moves),
                checks=tuple(
                    expect(p.task.part, p.task.feature, c, bench.workshop, 0.0)
                    for c in p.task.checks
                ),
                why=p.task.why,
                cautions=(Caution(kind=BY_HAND[p.tool.kind]),),
                minutes=round(cutting_minutes(p.task, p.tool, values, 1.0, bench), 2),
            )
        )
    pose = group[0].pose
    none = Zero(find="none")
    cutting = sum(o.minutes for o in operations) * copies
    return Setup(
        id=number,
        work=work,
        stage="piece",
        copies=copies,
        machine="bench",
        machine_kind=MachineKind.BENCH,
        holding=Holding(
            way="bench vise", device="bench vise", up=pose.up, fixed_jaw=pose.fixed_jaw, stop="none"
        ),
        zero_x=none,
        zero_y=none,
        zero_z=none,
        operations=tuple(operations),
        passes=(tuple(o.id for o in operations),),
        cautions=(Caution(kind=CautionKind.EYES),),
        why=_distinct(why for p in group for why in p.task.why),
        minutes=round(2.0 + copies * times.load + cutting, 2),
        picture=f"setup-{number}.svg",
    )


def _nowhere(pose: Pose) -> Lie:
    return Lie(pose, (0.0, 0.0, 0.0), ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)), 0.0)
