"""A hole's tasks: spot it, drill it, then whatever finishes it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import inf, radians, tan

from barstock.drawing.build import Feature, Part
from barstock.drawing.dimension_runs import CheckSort, EndKind
from barstock.errors import UnplannableError
from barstock.handbook.drills import CHUCK
from barstock.handbook.threads import BLUNT_LEAD, thread
from barstock.methods.cuts import Check, HoleCut
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Sink, Task, numbered, task_id
from barstock.planning.tasks.tooling import PAST, REAM, ToolChest, point_height
from barstock.quantities import Dimension
from barstock.route import Process
from barstock.route.statements import ReasonKind, because
from barstock.workshop.shop import Tool

THROUGH = ("drill", "ream", "tap", "bore")
WALL = ("drill", "ream", "bore", "flat")
BOTTOM = (EndKind.FULL_DIAMETER, EndKind.FLOOR, EndKind.SURFACE)
BORED = 8.0  # the smallest hole a boring head is bought for [mm]; common practice
LARGEST = 16.0  # mill that is plunged before boring [mm]; common practice
WANDERS = 0.05  # that a drill cuts larger than it is [mm]; common practice
NEAR = 0.018  # a drilled wall lies no further off than this from one drawn without limits [mm]
SPOT = 0.3  # depth of the spot as a share of the hole's diameter; common practice


@dataclass
class HoleTasks:
    """Builds the chain of tasks of one hole cut.

    metal: that lies over its entry while it is made [mm].
    """

    part: Part
    feature: Feature
    cut: HoleCut
    nth: int
    poses: tuple[Pose, ...]
    chest: ToolChest
    metal: float = 0.0
    tasks: list[Task] = field(default_factory=list)

    def build(self) -> list[Task]:
        """The tasks in order, each after the one before."""
        cut, chest = self.cut, self.chest
        if cut.finish == "countersunk":
            self._countersink(cut.diameter)
            return self.tasks
        spot = chest.spot()
        drilled = self._drilled_size()
        self._add(
            "spot",
            Process.SPOT,
            spot,
            min(SPOT * min(spot.diameter, drilled), cut.depth / 2),
            0.0,
        )
        pointed = cut.finish == "drilled" and not cut.through and cut.diameter <= CHUCK
        larger = cut.diameter > chest.largest_drill() + 0.005 and not pointed
        finish = "bored" if larger else cut.finish
        if cut.finish == "tapped":
            self._tapped(drilled)
        elif cut.finish == "reamed":
            self._reamed()
        elif cut.flat:
            self._flat()
        elif finish == "bored":
            self._bored()
        else:
            tool = self._drill(*self._within(), cut.diameter, drilled)
            self._add("drill", Process.DRILL, tool, cut.depth, tool.diameter, self._sizes())
        if cut.counterbore:
            wide, deep = cut.counterbore
            tool, checks = self._counterbore(wide, deep), filter(_widened, cut.checks)
            self._add("counterbore", Process.COUNTERBORE, tool, deep, wide, tuple(checks))
        if cut.countersink and cut.finish != "tapped":
            job = self.tasks[-1].job
            self._countersink(job.size if isinstance(job, Sink) else cut.diameter)
        self._check_place()
        return self.tasks

    def _check_place(self) -> None:
        """Where it lies is checked as soon as its wall stands: before a thread, a wider mouth."""
        size, made = max(
            (t.job.size, i)
            for i, t in enumerate(self.tasks)
            if isinstance(t.job, Sink) and t.job.step in WALL
        )
        places = (replace(check, hole=size) for check in self._of(CheckSort.POSITION))
        task = self.tasks[made]
        self.tasks[made] = replace(task, checks=(*places, *task.checks))

    # -- the finishes ----------------------------------------------------------------------------

    def _tapped(self, drilled: float) -> None:
        cut, chest = self.cut, self.chest
        depth = cut.drill_depth or cut.depth
        threaded = cut.thread_depth or cut.depth
        if self._bored_for_thread(drilled, depth):
            made = drilled
        else:
            tool = self._drill(drilled * 0.995 - 0.02, drilled * 1.02 + 0.03, drilled, drilled)
            made, checks = tool.diameter, self._deep(tool.diameter, EndKind.TAPPING_DRILL)
            if cut.flat and not cut.through:
                self._flat_for_thread(tool, depth, threaded, checks)
            else:
                self._add("drill", Process.DRILL_FOR_THREAD, tool, depth, made, checks)
        if cut.countersink:
            self._countersink(made)
        self._add(
            "tap",
            Process.TAP,
            chest.tap(cut, threaded + self._past("tap")),
            threaded,
            cut.diameter,
            (*self._of(CheckSort.THREAD), *self._deep(made, EndKind.FULL_THREAD)),
        )

    def _bored_for_thread(self, size: float, depth: float) -> bool:
        """Bore to a thread's size what is wider than the drills owned, where a boring head of the
        shop does; else False."""
        deep, out = self.metal + depth, self.below + depth
        wide = size > max(CHUCK, self.chest.largest_drill() + WANDERS)
        if self.cut.flat or not wide or not self.chest.bores(size, deep, out):
            return False
        most = self.chest.largest_drill()
        pilot = self._drill(most - 3, most, most - 0.5, most)
        self._add("drill", Process.DRILL_FOR_BORING, pilot, depth, pilot.diameter)
        head = self.chest.boring_head(size, deep, out)
        checks = self._deep(size, EndKind.TAPPING_DRILL)
        self._add("bore", Process.BORE, head, depth, size, checks)
        return True

    def _flat_for_thread(
        self, drill: Tool, depth: float, threaded: float, checks: tuple[Check, ...]
    ) -> None:
        """Drilled until the point is at the bottom; flattened where that is dimensioned, or the
        tap's lead asks it, by a slot drill of that size or a drill ground flat.
        """
        lead = BLUNT_LEAD * thread(self.cut.thread).pitch
        short = depth - point_height(drill)
        enough = short >= threaded + lead - 1e-6
        self._add("drill", Process.DRILL_FOR_THREAD, drill, short, drill.diameter)
        if enough and not checks:
            return
        over, out = self.metal + depth, self.below + depth
        mill = self.chest.largest_flat(drill.diameter + 0.05, over, out)
        if mill is None or mill.diameter < drill.diameter - 0.05:
            mill = self.chest.ground_flat(drill)
        self._add("flat", Process.FLATTEN, mill, depth, mill.diameter, checks)

    def _reamed(self) -> None:
        cut, chest = self.cut, self.chest
        if cut.flat and not cut.through:
            raise UnplannableError(
                "a reamer does not cut to a flat bottom; leave 'bottom: flat' out, or the hole is "
                "milled or bored: leave 'reamed' out",
                self.part.name,
                self.feature.name,
            )
        deep = self.below + cut.depth + self._past("ream")
        reamer = chest.reamer(*self._reamed_within(), deep)
        best = reamer.diameter - min(0.2, 0.02 * reamer.diameter + 0.1)
        low, high = reamer.diameter - REAM[1], reamer.diameter - REAM[0]
        tool = self._drill(low, high, best, cut.diameter)
        deep = cut.drill_depth or cut.depth
        self._add("drill", Process.DRILL_FOR_REAMING, tool, deep, tool.diameter)
        self._add(
            "ream",
            Process.REAM,
            reamer,
            cut.depth,
            reamer.diameter,
            self._sizes(),
        )

    def _bored(self) -> None:
        cut, chest = self.cut, self.chest
        most = min(chest.largest_drill(), cut.diameter - 0.5)
        pilot = self._drill(most - 3, most, most - 0.5, most)
        deep = cut.drill_depth or cut.depth
        self._add("drill", Process.DRILL_FOR_BORING, pilot, deep, pilot.diameter)
        self._add(
            "bore",
            Process.BORE,
            self._boring_head(),
            cut.depth,
            cut.diameter,
            self._sizes(),
        )

    def _flat(self) -> None:
        """Drilled short, then flattened; bored to size where no cutter is that size."""
        cut, chest, (low, high) = self.cut, self.chest, self._within()
        deep, out = self.metal + cut.depth, self.below + cut.depth
        size = chest.flat_size(low, cut.diameter, high, deep, out)
        bored = cut.finish == "bored" or not chest.owns_flat(size, deep, out)
        sold = chest.sells_flat(size, deep)
        if bored and (chest.bores(size, deep, out) or (size >= BORED and not sold)):
            mill = chest.largest_flat(size - 0.3, deep, out)
            if mill is None:
                self._drilled_short(min(size - 0.5, chest.largest_drill()))
                mill = chest.flat_to_buy(min(size - 0.3, LARGEST), deep, out)
            self._add("flat", Process.MILL_UNDER_SIZE, mill, cut.depth, mill.diameter)
            head = self._boring_head()
            self._add("bore", Process.BORE, head, cut.depth, cut.diameter, self._sizes())
            return
        self._drilled_short(min(size - 0.5, chest.largest_drill()))
        flat = self._flat_drill(size, cut.depth)
        self._add("flat", Process.FLATTEN, flat, cut.depth, size, self._sizes())

    def _drilled_short(self, best: float) -> None:
        """Drilled until the point is just above a flat bottom, with a drill of about that size."""
        size = self.cut.diameter
        pilot = self._drill(min(0.6 * size, best - 3), min(size - 0.2, best + 0.3), best, size)
        short = self.cut.depth - 0.31 * pilot.diameter
        if short > 0.5:
            self._add("drill", Process.DRILL_UNDER_SIZE, pilot, short, pilot.diameter)

    def _boring_head(self) -> Tool:
        deep = self.cut.depth + self._past("bore")
        return self.chest.boring_head(self.cut.diameter, self.metal + deep, self.below + deep)

    def _past(self, step: str) -> float:
        """How far a tool goes out of the far side of the hole [mm]."""
        return PAST[step] if self.cut.through else 0.0

    def _countersink(self, hole: float) -> None:
        assert self.cut.countersink
        top, angle = self.cut.countersink
        depth = (top - hole) / 2 / tan(radians(angle / 2))
        self._add(
            "countersink",
            Process.COUNTERSINK,
            self.chest.countersink(angle, top),
            depth,
            top,
            self._of(CheckSort.COUNTERSINK, CheckSort.ANGLE),
            hole=hole,
        )

    # -- the parts of them -----------------------------------------------------------------------

    def _drilled_size(self) -> float:
        cut = self.cut
        return (cut.tap_drill or 0.84 * cut.diameter) if cut.finish == "tapped" else cut.diameter

    @property
    def below(self) -> float:
        """How far below the face it starts: what stands beside it, tools must reach past [mm]."""
        return self.cut.below(self.part.size)

    def _drill(self, low: float, high: float, best: float, size: float) -> Tool:
        """A drill between two sizes, nearest to the best, that reaches for a hole of a size."""
        deep = (self.cut.drill_depth or self.cut.depth) + 0.3 * size + 0.5
        return self.chest.drill(low, high, best, self.metal + deep, self.below + deep)

    def _counterbore(self, wide: float, deep: float) -> Tool:
        return self.chest.counterbore(wide, self.metal + deep, self.below + deep)

    def _flat_drill(self, size: float, depth: float) -> Tool:
        return self.chest.flat_drill(size, self.metal + depth, self.below + depth)

    def _within(self) -> tuple[float, float]:
        """The drills that make the hole within its limits, and near enough to the size drawn."""
        size = self.cut.diameter
        made = next((c.dimension for c in self._of(CheckSort.DIAMETER)), None)
        low, high = size - 0.015, size + 0.015
        if made is None or not made.low <= size <= made.high:
            return low, high
        near = self._near(made)
        return (
            min(low, max(made.low, size - near)),
            max(high, min(made.high - WANDERS, size + near)),
        )

    def _near(self, made: Dimension) -> float:
        """How far from the size drawn a hole's may lie, besides its limits [mm]."""
        return 2 * (NEAR + (abs(made.middle - self.cut.diameter) if made.stated else 0.0))

    def _reamed_within(self) -> tuple[float, float, float]:
        """The reamers that make the hole: least, best and most. The drawn size itself, or one
        within limits that are stated."""
        size = self.cut.diameter
        made = next((c.dimension for c in self._of(CheckSort.DIAMETER)), None)
        if made is None or not made.stated or not made.low <= size <= made.high:
            return size, size, size
        near = self._near(made)
        return max(made.low, size - near), size, min(made.high, size + near)

    def _of(self, *sorts: CheckSort) -> tuple[Check, ...]:
        """The checks of these sorts, but for those of its mouth's counterbore."""
        return tuple(c for c in self.cut.checks if c.sort in sorts and not _widened(c))

    def _sizes(self) -> tuple[Check, ...]:
        bottom = self._deep(self.cut.diameter, *BOTTOM)
        left_under = (c for c in self._of(CheckSort.OUTSIDE) if c.has(*BOTTOM))
        return (*self._of(CheckSort.DIAMETER), *bottom, *left_under)

    def _deep(self, hole: float, *ends: EndKind) -> tuple[Check, ...]:
        """The check of a depth to one of these ends, down a hole of that diameter [mm]."""
        deep = (c for c in self._of(CheckSort.DEPTH) if c.has(*ends))
        return tuple(replace(c, hole=hole) for c in deep)

    def _add(
        self,
        step: str,
        does: Process,
        tool: Tool,
        depth: float,
        size: float,
        checks: tuple[Check, ...] = (),
        hole: float = 0.0,
    ) -> None:
        cut = self.cut
        job = Sink(
            cut.face,
            cut.at,
            step,
            depth,
            (cut.through and step in THROUGH) or (cut.drilled_through and step == "drill"),
            size,
            hole,
            tool.point,
            inf if cut.through else cut.depth,
        )
        before = {self.tasks[-1].id: because(ReasonKind.STEP_BEFORE)} if self.tasks else {}
        self.tasks.append(
            Task(
                task_id(self.part, self.feature.name, numbered(step, self.nth)),
                self.part,
                self.feature.name,
                does,
                job,
                (tool,),
                self.poses,
                before,
                checks,
            )
        )


def _widened(check: Check) -> bool:
    """Is it of the counterbore at the hole's mouth?"""
    return check.has(EndKind.COUNTERBORE)
