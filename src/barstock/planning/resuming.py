"""Planning on from half-done work: what is done stays as it was done, the rest is planned anew.

What is done is kept with the very readings it was done by, as the first setups of the route, so
that the proof cuts the whole of it. A setup whose work is only partly done stays as it was for the
copies that still lack it. Spoiled pieces are made again from a further length of bar like those cut
before, through all the setups kept. What cannot be done: bring a half-made piece back into the bar,
or change how an operation is done that some copies already have.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from barstock.drawing.build import Part
from barstock.errors import UnplannableError
from barstock.machines.saw import sawing_machine
from barstock.planning.holding.way import Need
from barstock.planning.holding.ways import WAYS, usual
from barstock.planning.order.plain_orders import changing, ready, zeroing
from barstock.planning.order.precedence import Placed
from barstock.planning.parts.joined_work import lengths_of
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Task, sawing_id
from barstock.quantities import show
from barstock.route import BarPiece, Operation, Route, Setup
from barstock.route.explanation import Rule
from barstock.route.work_done import ALL, Standing
from barstock.stocking.bar_choice import Lengths, sawn
from barstock.workshop.shop import ShopTimes, Workshop

SAME = 1e-6  # lengths that differ by no more are one [mm]


class DoneError(UnplannableError):
    """Raised where what is said to be done cannot be, as the drawing now stands."""


class OutOfOrderError(DoneError):
    """Raised where something was done before what it must come after."""

    def __init__(self, where: str, broken: Rule) -> None:
        self.where, self.broken = where, broken
        super().__init__(self.in_words())

    def in_words(self, tell: Callable[[Rule], str] = str) -> str:
        """The tasks done too early, in words. tell: gives the line of a rule."""
        then, first = self.broken.then, self.broken.first
        return (
            f"{self.where}{then} cannot be done while {first} is not: {tell(self.broken)}; say "
            "that it is done too, or that neither is"
        )


@dataclass(frozen=True)
class Begun:
    """A part that is begun; a fabrication has no bar. kept: setups done or partly done; placed:
    their tasks, as done."""

    bar: BarPiece | None
    lengths: Lengths
    kept: tuple[Setup, ...]
    placed: tuple[Placed, ...] = ()

    @property
    def sawn(self) -> bool:
        """Is any of its bars sawn?"""
        return any(s.saws for s in self.kept)


def begun(part: Part, route: Route, standing: Standing, shop: Workshop) -> Begun | None:
    """The part as it is begun by an earlier route; None where nothing of it is done."""
    if part.joined:
        return _joined(part, route, standing, shop)
    old = next((bar for bar in route.bars if bar.part == part.name), None)
    if old is None:
        return None
    works = {old.id, part.name}
    setups = [s for s in route.setups if s.work in works]
    if not any(standing.done.get(o.id) for s in setups for o in s.operations):
        return None
    spoiled = standing.spoiled.get(part.name, 0)
    wanted = part.copies + spoiled
    count = max(old.count, ceil(wanted / old.pieces))
    last = wanted - old.pieces * (count - 1)
    bar = old.model_copy(
        update={"count": count, "last_pieces": 0 if last >= old.pieces else max(1, last)}
    )
    each = next((s.saws.each for s in setups if s.saws), sawn(part))
    if each < part.length.low - SAME:
        short = _standing_pieces(part, old, setups, standing)
        if short > 0:
            raise _too_short(part, each, short)
        if any(s.saws for s in setups if standing.done.get(s.operations[0].id)):
            return None
    kerf = sawing_machine(shop).kerf
    lengths = Lengths(bar.pieces, count, last, each, bar.length, kerf)
    kept = []
    for setup in setups:
        now = count if setup.stage == "bar" else part.copies
        most = old.count if setup.stage == "bar" else now
        if setup.saws and _more_from_the_last(old, bar):
            most -= 1
        every = most if setup.stage == "bar" else now - spoiled  # good ones, where not counted
        done = {o.id: standing.done.get(o.id, 0) for o in setup.operations}
        good = {name: every if n >= ALL else min(n, most) for name, n in done.items()}
        if any(good.values()):
            kept.append(_kept(setup, good, now, shop.times))
    return Begun(bar, lengths, tuple(kept))


def _standing_pieces(part: Part, old: BarPiece, setups: Sequence[Setup], standing: Standing) -> int:
    """How many pieces are sawn and not spoiled."""
    bars = max(
        (standing.done.get(o.id, 0) for s in setups if s.saws for o in s.operations), default=0
    )
    pieces = min(min(bars, old.count) * old.pieces, part.copies)
    return pieces - standing.spoiled.get(part.name, 0)


def _too_short(part: Part, each: float, short: int) -> DoneError:
    """Why sawn pieces do not give the part as now drawn, and the two ways out."""
    unit, copies = part.unit, f"copies 1 to {short}" if short > 1 else "copy 1"
    return DoneError(
        f"{copies} of {part.name!r} are sawn {show(each, unit)} long, and the drawing now asks for "
        f"{show(part.length.nominal, unit)}: too short. Write the length that they can give, or "
        f"say that they are spoiled ('spoiled: {{{part.name}: {short}}}') and saw new ones"
    )


def _joined(part: Part, route: Route, standing: Standing, shop: Workshop) -> Begun | None:
    """What is done of a fabrication after joining; it is then joined. A spoiled one needs new
    pieces, which are spoiled too."""
    setups = [s for s in route.setups if s.work == part.name]
    kept = []
    for setup in setups:
        most = part.copies - standing.spoiled.get(part.name, 0)
        done = {o.id: standing.done.get(o.id, 0) for o in setup.operations}
        good = {name: most if n >= ALL else min(n, most) for name, n in done.items()}
        if any(good.values()):
            kept.append(_kept(setup, good, part.copies, shop.times))
    return Begun(None, lengths_of(part), tuple(kept)) if kept else None


def _more_from_the_last(old: BarPiece, bar: BarPiece) -> bool:
    """Are more pieces to be sawn from the last of the bars already cut?"""
    made = old.last_pieces or old.pieces
    last = bar.pieces if bar.count > old.count else bar.last_pieces or bar.pieces
    return last > made


def _kept(setup: Setup, good: dict[str, int], copies: int, times: ShopTimes) -> Setup:
    """A setup with what is done of it; good: copies that have each operation."""
    operations = tuple(o for o in setup.operations if good[o.id])
    left = {o.id: copies - good[o.id] for o in operations}
    passes = tuple(tuple(i for i in ids if good.get(i)) for ids in setup.passes)
    return setup.model_copy(
        update={
            "operations": operations,
            "passes": tuple(ids for ids in passes if ids),
            "copies": copies,
            "left": max(left.values()),
            "minutes": round(_left(setup, operations, left, times), 2),
        }
    )


def _left(
    setup: Setup, operations: tuple[Operation, ...], left: dict[str, int], times: ShopTimes
) -> float:
    """Minutes of what is left of a setup: a pass for every operation."""
    most = max(left.values())
    if not most:
        return 0.0
    total = ready(setup, times) + zeroing(setup, times, most)
    load = WAYS[setup.holding.way].loading(times)
    tool = ""
    for o in operations:
        if left[o.id]:
            change = changing(setup, o, times) if o.cutter.name != tool else 0.0
            total += change + left[o.id] * (load + o.minutes)
            tool = o.cutter.name
    return total


def rest(tasks: list[Task], work: Begun, standing: Standing) -> tuple[list[Task], Begun]:
    """The tasks still to be planned, and the work begun with its tasks as they were done.

    Raises OutOfOrderError where something was done before what it needs.
    """
    by_id = {t.id: t for t in tasks}
    placed = []
    for setup in work.kept:
        for operation in setup.operations:
            task = by_id.get(operation.id)
            if task is not None:
                placed.append(_placed(task, setup, operation))
            elif not setup.saws:
                raise DoneError(
                    f"{standing.where(operation.id)}{operation.id} is done, but the drawing as it "
                    "now stands does not ask for it; write the drawing as it was, or spoil the work"
                )
    done = {p.task.id for p in placed}
    for p in placed:
        lacking = [first for first in p.task.after if first in by_id and first not in done]
        if lacking:
            reason = p.task.after[lacking[0]]
            broken = Rule(then=p.task.id, first=lacking[0], reason=reason)
            raise OutOfOrderError(standing.where(p.task.id), broken)
    if work.bar and any(s.stage == "piece" for s in work.kept) and not work.sawn:
        part = tasks[0].part
        raise DoneError(
            f"pieces of {part.name!r} are worked on, so their bar is sawn: add "
            f"'{sawing_id(part)}: all' to what is done"
        )
    left = [_after_sawing(t) if work.sawn else t for t in tasks if t.id not in done]
    return left, replace(work, placed=tuple(placed))


def _after_sawing(task: Task) -> Task:
    poses = tuple(p for p in task.poses if p.stage != "bar")
    if not poses:
        raise DoneError(f"{task.id} can only be done in the bar, and the bar is sawn")
    return replace(task, poses=poses)


def _placed(task: Task, setup: Setup, operation: Operation) -> Placed:
    held = setup.holding
    way = usual(Need.CUT, held.up)
    pose = Pose(setup.stage, held.up, held.fixed_jaw, way, held.tilt)
    tool = next((t for t in task.tools if t.name == operation.cutter.name), task.tools[0])
    return Placed(task, pose, tool)
