"""Prepares everything about a part that its order is chosen from: tasks, ways, minutes, bar."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from barstock.drawing.build import Face, Part, Pin
from barstock.errors import UnplannableError, concerning
from barstock.machines import machine_type
from barstock.machines.spindle_speed import running
from barstock.methods.kind import Kind
from barstock.planning.holding.barred import Barred
from barstock.planning.holding.way import Need, way_of
from barstock.planning.holding.ways import offered, usual
from barstock.planning.holding.work_box import box_of
from barstock.planning.order.alike_setups import Room, rooms
from barstock.planning.order.part_order import Minutes
from barstock.planning.order.precedence import keep_grips
from barstock.planning.order.user_pins import (
    Clash,
    ClashError,
    clash_in,
    fewest,
    restrict,
    working_tools,
)
from barstock.planning.parts.breakdown import tasks_of
from barstock.planning.parts.floors import from_whole_faces, start_on_floors
from barstock.planning.parts.joined_work import lengths_of, stock_of
from barstock.planning.resuming import Begun, begun, rest
from barstock.planning.setup_making import cutting_minutes
from barstock.planning.tasks.task import Sink, Task
from barstock.planning.tasks.tooling import ToolChest
from barstock.planning.values import Zeros, cut
from barstock.planning.values.setup_givens import SetupGivens
from barstock.route import Route
from barstock.route.work_done import Standing
from barstock.stocking.bar_choice import Lengths, Section, Stock, choose_bar, cut_up
from barstock.workshop.shop import Tool, Workshop


@dataclass(frozen=True)
class Refused:
    """What is not to be planned again for a part. barred: ways of doing tasks; ways: by feature,
    the names of ways of making it; bars: those that will not do.
    """

    barred: tuple[Barred, ...] = ()
    ways: tuple[tuple[str, str], ...] = ()
    bars: tuple[Section, ...] = ()

    @property
    def by_feature(self) -> dict[str, Collection[str]]:
        """The names of the ways of making each feature that are refused."""
        names = dict.fromkeys(feature for feature, _ in self.ways)
        return {name: {way for one, way in self.ways if one == name} for name in names}


NOTHING_REFUSED = Refused()


@dataclass(frozen=True)
class Prepared:
    """A part ready to be put in order. lengths: of bars short enough for the mill's vise.

    offered: the tasks with every way of doing them, before holding the work leaves fewer.
    """

    tasks: tuple[Task, ...]
    offered: tuple[Task, ...]
    minutes: Minutes
    givens: SetupGivens
    stock: Stock
    lengths: Lengths
    pins: tuple[Pin, ...]
    to_buy: Mapping[str, Tool]
    begun: Begun | None = None

    @cached_property
    def rooms(self) -> list[list[Room]]:
        """The rooms that the poses of every task at readings leave open of its holding."""
        return rooms(self.tasks, self.part, self.stock, self.givens.workshop)

    @property
    def part(self) -> Part:
        """The part that is to be put in order."""
        return self.givens.part

    @property
    def copies(self) -> dict[str, int]:
        """The number of works to load, by stage."""
        return {"bar": self.lengths.count, "piece": self.part.copies}

    @property
    def whole_bars(self) -> Lengths:
        """The lengths of a bar that needs no milling before it is sawn."""
        if self.part.joined:
            return self.lengths
        longest = self.stock.bar.length
        return cut_up(self.part, self.stock, self.givens.workshop, longest)


def prepare(
    part: Part,
    workshop: Workshop,
    kinds: Mapping[str, Kind],
    pins: Sequence[Pin] = (),
    resumed: tuple[Route, Standing] | None = None,
    refused: Refused = NOTHING_REFUSED,
) -> Prepared:
    """Work out a part's tasks, the ways this shop has of doing each, and what they take.

    resumed: an earlier route and how far its work has come; only the rest is then prepared.

    Raises UnplannableError or NoBarError saying what would help, PinError for a pin that names
    nothing, ClashError where pins and rules leave no order.
    """
    chest = ToolChest(working_tools(workshop, pins))
    stock = stock_of(part) if part.joined else choose_bar(part, workshop, refused.bars)
    whole = ((0.0, 0.0, 0.0), part.size)
    givens = SetupGivens(part, workshop)
    longest = _longest_bar(workshop, stock)
    lengths = lengths_of(part) if part.joined else cut_up(part, stock, workshop, longest)
    offering = [
        _at_machines(t, workshop) for t in tasks_of(part, stock, kinds, chest, refused.by_feature)
    ]
    asked = offered(offering, givens, stock, lengths, refused.barred)
    found = start_on_floors(asked, chest)
    pins = tuple(pin for pin in pins if pin.concerns(part.name))
    clash, bare = clash_in(found, pins, whole), False
    if clash is not None:
        other = start_on_floors(from_whole_faces(asked), chest)
        for tasks, bare in ((other, False), (found, True), (other, True)):
            if clash_in(tasks, pins, whole, bare) is None:
                found, clash = tasks, None
                break
    if clash is not None and not clash.pins:
        keep_grips(found, whole, firm=True)
    if clash is not None:
        raise ClashError(clash)
    tasks = keep_grips(restrict(found, pins), whole, bare=bare)
    work = begun(part, *resumed, workshop) if resumed else None
    if resumed and work:
        if work.lengths.length > lengths.length + 0.01:
            tasks = [_on_pieces(t) for t in tasks]
        tasks, work = rest(tasks, work, resumed[1])
        lengths = work.lengths
    try:
        minutes = _minutes(tasks, givens, stock, lengths, refused.barred)
    except UnplannableError as reason:
        if pins:
            _blame(found, pins, givens, stock, lengths, str(reason))
        raise
    return Prepared(
        tuple(tasks), tuple(found), minutes, givens, stock, lengths, pins, chest.to_buy, work
    )


def _at_machines(task: Task, shop: Workshop) -> Task:
    """The task in the poses at machines that are owned and make its moves.

    Raises UnplannableError where there is none.
    """
    ways = {pose: way_of(pose) for pose in task.poses}
    there = tuple(
        pose
        for pose, way in ways.items()
        if task.job.moves <= machine_type(way.machine).moves
        and (way.by_hand or shop.machine(way.machine))
    )
    if there:
        return replace(task, poses=there)
    wanted = " or ".join(dict.fromkeys(way.machine for way in ways.values()))
    told = f"workshop.yaml lists no {wanted}, which it is done on"
    types = [machine_type(machine.kind) for machine in shop.machines]
    blind = [one.kind for one in types if one.table and not one.axes]
    told += "".join(f"; a {kind} has no slides to set a place by" for kind in blind)
    with concerning(task.feature):
        raise UnplannableError(told, task.part.name, task.named)


def _on_pieces(task: Task) -> Task:
    """The bars as they were cut are too long to be milled."""
    return replace(task, poses=tuple(p for p in task.poses if p.stage != "bar"))


def _blame(
    found: Sequence[Task],
    pins: Sequence[Pin],
    givens: SetupGivens,
    stock: Stock,
    lengths: Lengths,
    reason: str,
) -> None:
    """Raises ClashError with the fewest pins that leave a task without a way to be held."""
    whole = ((0.0, 0.0, 0.0), givens.part.size)

    def impossible(kept: Sequence[Pin]) -> bool:
        try:
            _minutes(keep_grips(restrict(found, kept), whole), givens, stock, lengths)
        except UnplannableError:
            return True
        return False

    if not impossible(()):
        raise ClashError(Clash(tuple(fewest(pins, impossible)), reason=reason))


def _longest_bar(workshop: Workshop, stock: Stock) -> float:
    """The longest bar that is held as usual and that the machine's table takes along [mm]."""
    thin = min(stock.y[1] - stock.y[0], stock.z[1] - stock.z[0])
    way = usual(Need.CUT, Face.TOP)
    machine = workshop.machine(way.machine)
    if machine is None:
        return stock.bar.length
    travel = machine.x.travel if machine.x else 1e9
    return min(way.longest(workshop, thin), travel - 40.0)


def _minutes(
    tasks: Sequence[Task],
    givens: SetupGivens,
    stock: Stock,
    lengths: Lengths,
    barred: Sequence[Barred] = (),
) -> dict[tuple[str, str, str], float]:
    """Minutes of every task in every pose with every tool, for all works."""
    part, times = givens.part, givens.workshop.times
    found: dict[tuple[str, str, str], float] = {}
    for task in tasks:
        trouble = UnplannableError("no tool reaches all the way")
        for pose in task.poses:
            bar, way = pose.stage == "bar", way_of(pose)
            here = givens.at(way.machine)
            box = box_of(pose, task, part, stock, lengths)
            try:
                grip = way.hold(pose, box, [task], givens.workshop)
            except UnplannableError as reason:
                trouble = reason
                continue
            lie = way.lie(pose, box, grip)
            low, high = lie.extent
            zeros = Zeros(0.0, 0.0, high[2])
            for tool in task.tools:
                shut = [one for one in barred if one.shuts_tool(task, pose, tool.name)]
                if shut:
                    trouble = UnplannableError(shut[0].refusal)
                    continue
                if task.by_the_side(pose.up) and tool.flute < high[2] - low[2] + 1.0:
                    continue
                values = cut(task, tool, lie, zeros, here.dial)
                if met := way.in_the_way(values, tool, lie, zeros, givens.workshop):
                    trouble = UnplannableError(f"{met} ({pose.name})")
                    continue
                size = (
                    task.job.size if isinstance(task.job, Sink) and task.job.size else tool.diameter
                )
                feed = 1.0 if way.by_hand else running(tool, size, part.material, here.machine).feed
                each = round(cutting_minutes(task, way.machine, values, feed, times), 2)
                found[task.id, pose.name, tool.name] = each * (
                    lengths.count if bar else part.copies
                )
        if not any(key[0] == task.id for key in found):
            with concerning(task.feature):
                raise UnplannableError(trouble.why, part.name, trouble.step or task.named)
    return found
