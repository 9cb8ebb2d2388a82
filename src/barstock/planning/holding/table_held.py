"""What is common to all work that is held on the table itself, without a vise."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from typing import ClassVar

from barstock.planning.holding.cutter_runs import Run, runs
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.way import Way
from barstock.planning.tasks.pose import Box, Lie, Pose, lay
from barstock.planning.values import Cutting, Zeros
from barstock.quantities import Length
from barstock.route import Body, BodyKind
from barstock.workshop.shop import Machine, ShopTimes, Tool, Workshop

CLEAR = 1.0  # a cutter keeps so far from straps, parallels and fence [mm]; common practice
UNDER_CUT = 0.3  # that the fence stays under a cutter [mm]; common practice
BESIDE = 2.0  # from work or fence to a stud's washer [mm]; common practice
NUT = 22.0  # a washer's diameter [mm]; common practice
STRAPS = (BodyKind.STRAP, BodyKind.NUT)


class OnTable(Way):
    """Work on the table, its back against something straight."""

    seat = "fence"
    obstructs: ClassVar[bool] = True
    trued_by = ("dial indicator",)

    @abstractmethod
    def bodies(self, lie: Lie, thickness: float) -> tuple[Body, ...]:
        """The bodies that stand about work that lies so. thickness: of a parallel [mm]."""

    @abstractmethod
    def seat_top(self, lie: Lie) -> float:
        """The least height of what the work's back is against [mm]."""

    @classmethod
    def loading(cls, times: ShopTimes) -> float:
        """Minutes to load one work and strap it down."""
        return times.load + times.clamp

    def lie(self, pose: Pose, box: Box, grip: Grip) -> Lie:
        """The work as its cuts are tried, at its height on the table."""
        return lay(pose, box, grip.packing)

    def grip(self, lie: Lie, could: Sequence[float], shop: Workshop) -> Grip:
        """The grip of work that lies so. could: heights it might lie at [mm]."""
        there = self.bodies(lie, shop.parallel_thickness)
        carried = any(body.kind is BodyKind.PARALLEL for body in there)
        return Grip(
            self.device,
            lie.packing,
            (lie.packing,) if carried else (),
            could=frozenset(could),
            least=min(could),
            most=max(could),
            bodies=there,
        )

    @property
    def device(self) -> str:
        """What holds the work, in the trade's words."""
        return self.name

    def in_the_way(
        self, values: Cutting, tool: Tool, lie: Lie, zeros: Zeros, shop: Workshop
    ) -> str:
        """What these moves would run into, or how far they are beyond the machine's travel."""
        bodies, there = self.bodies(lie, shop.parallel_thickness), shop.machine(self.machine)
        low, high = lie.extent
        passes = [run for move in values.moves for run in runs(move, tool.diameter, zeros, high[2])]
        for run in passes:
            for body in bodies:
                if met := self.met(run, tool, body, lie):
                    return met
        ends = [end for run in passes for end in (run.start, run.end)]
        return _beyond([low[0], *(x for x, _ in ends)], [high[1], *(y for _, y in ends)], there)

    def met(self, run: Run, tool: Tool, body: Body, lie: Lie) -> str:
        """What of a body a run would meet, "" where nothing is."""
        near = run.near(body, run.radius + CLEAR)
        if body.bears == "up":
            into = body.kind is not BodyKind.BOARD and run.tip < lie.packing and near
            return "the cutter would go through the work into a parallel" if into else ""
        if body.bears == "front":
            into = run.tip < self.seat_top(lie) + UNDER_CUT and near
            return f"the cutter would run into the {body.name}" if into else ""
        return run.met(tool, body, named(body), CLEAR)


def named(body: Body) -> str:
    """The words for a body on the table."""
    if body.kind in STRAPS:
        return f"the strap over the {body.over}" if body.over else "a strap across the front"
    return f"the {body.name}"


def _beyond(x: Sequence[float], y: Sequence[float], there: Machine | None) -> str:
    """Is the machine's travel too short to go from the stop or the fence to every cut?"""
    axes = (("X", x, there.x), ("Y", y, there.y)) if there else ()
    for name, span, axis in axes:
        far = max(span) - min(span)
        if there and axis and far > axis.travel:
            has = f"the {there.kind} has {Length(axis.travel):g}"
            return f"it asks for {Length(far):.0f} of travel along {name}; {has}"
    return ""
