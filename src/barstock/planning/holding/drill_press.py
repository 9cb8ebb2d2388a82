"""Holes that the drill press drills faster: spotted on the mill, they are followed there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from barstock.drawing.build import Face
from barstock.machines.spindle_speed import running
from barstock.planning.holding.grip import Grip
from barstock.planning.holding.vise import InVise
from barstock.planning.holding.way import Found, Need, Way
from barstock.planning.tasks.pose import Lie, Pose
from barstock.planning.tasks.task import Sink, Task
from barstock.route import Holding, Zero
from barstock.route.statements import Caution, CautionKind, Reason, ReasonKind, because
from barstock.workshop.shop import Machine, MachineKind, ShopTimes, Workshop

FASTER = 1.25  # times the mill's share of the wanted speed that is to be reached; common practice
PRESSED = (CautionKind.VISE_KEPT, CautionKind.FINDS_SPOT)


@dataclass(frozen=True)
class OnPress(InVise):
    """Work in a vise that stands free on the press's table; what is cut is brought under the drill
    by eye.
    """

    name = "drill press"
    machine = MachineKind.DRILL_PRESS
    stop = False
    by_eye = True
    slides = False

    @classmethod
    def usual(cls, need: Need, up: Face) -> Way | None:
        """The way is never thought of first, only besides others."""
        return None

    @classmethod
    def besides(cls, task: Task, shop: Workshop) -> Sequence[Pose]:
        """For through holes that the press turns the drill nearer its speed for: a depth is read
        on the mill."""
        press, job, material = shop.machine(cls.machine), task.job, task.part.material
        if press is None or not press.speeds:
            return ()
        if not (isinstance(job, Sink) and job.step == "drill" and job.through):
            return ()

        def faster(slow: Machine | None) -> bool:
            """Is any of the tools turned so much nearer its speed?"""
            return slow is not None and any(
                running(tool, job.size, material, press).share
                >= FASTER * running(tool, job.size, material, slow).share
                for tool in task.tools
            )

        return tuple(
            replace(p, way=cls(p.way.vise, p.way.near))
            for p in task.poses
            if isinstance(p.way, InVise) and p.way.slides and p.stage != "bar" and not p.tilt
            if faster(shop.machine(p.way.machine))
        )

    @classmethod
    def ready(cls, times: ShopTimes, tilted: bool) -> float:
        """Minutes of setting up, before any work is loaded."""
        return times.press

    @classmethod
    def kept(cls, times: ShopTimes, tilted: bool) -> float:
        """No minutes are saved, for nothing stays from one to the next."""
        return 0.0

    def pose_words(self, pose: Pose) -> str:
        """The vise, and where it is, for the name of a pose."""
        return f"{super().pose_words(pose)}, on the drill press"

    def zeros(
        self, tasks: Sequence[Task], lie: Lie, grip: Grip, tip: float,
        more: tuple[float, float], done: Sequence[Task],
    ) -> Found:  # fmt: skip
        """No axis is zeroed: the spots are found by eye."""
        return Zero(find="none"), Zero(find="none"), (0.0, 0.0)

    def cautions(self, tasks: Sequence[Task], holding: Holding, lie: Lie) -> Iterator[Caution]:
        """What to beware of as with any vise, and that this one is kept from turning."""
        yield from super().cautions(tasks, holding, lie)
        for kind in PRESSED:
            yield Caution(kind=kind)

    def reasons(self) -> Iterator[Reason]:
        """The press turns nearer to the drill's speed."""
        yield because(ReasonKind.DRILL_PRESS)


WAY = OnPress
