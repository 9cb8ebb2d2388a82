"""What holding the work, floors and sides ask of the order of a part's tasks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

from barstock.drawing.build import Face
from barstock.errors import UnplannableError, concerning
from barstock.machines import machine_type
from barstock.planning.holding.metal import Needed
from barstock.planning.holding.way import way_of
from barstock.planning.tasks.pose import Box, Pose
from barstock.planning.tasks.task import Contour, Line, Sink, Task
from barstock.route.statements import Reason, ReasonKind, because
from barstock.workshop.shop import ShopTimes, Tool

MOST_SIDES = 5  # through holes of one part whose side is left open to the search


@dataclass(frozen=True)
class Placed:
    """A task with the pose and the tool chosen for it."""

    task: Task
    pose: Pose
    tool: Tool


def tool_change(pose: Pose, tool: Tool, times: ShopTimes) -> float:
    """Minutes to put a tool in, in a pose, and to touch it off."""
    return machine_type(way_of(pose).machine).changing(tool.holder, tool.kind, times)


def keep_grips(
    tasks: Sequence[Task], box: Box, *, firm: bool = False, bare: bool = False
) -> list[Task]:
    """Drop the poses that an earlier cut would spoil; where none would be left, cut that later.

    Where what must be cut first leaves nothing to hold a task by, it keeps no pose; firm: raises
    UnplannableError instead. bare: rather than wait, a cut is made in a pose where the others leave
    the least that will do.
    """
    by_id = {t.id: t for t in tasks}
    after: dict[str, dict[str, Reason]] = {t.id: dict(t.after) for t in tasks}
    kept: dict[str, Task] = {}
    seats: dict[Pose, Needed] = {}

    def seat_of(task: Task, pose: Pose) -> Needed:
        """What the work needs in a pose, asked once."""
        if pose not in seats:
            seats[pose] = way_of(pose).needs(pose, box, task.part)
        return seats[pose]

    def spoilers_of(task: Task, pose: Pose, others: Sequence[Task]) -> list[Task]:
        """The tasks which together would leave too little to hold the work by in a pose."""
        return seat_of(task, pose).spoilt_by(others)

    def before(first: str, then: str, seen: frozenset[str] = frozenset()) -> bool:
        """Must `first` come before `then` already?"""
        return any(
            p == first or (p not in seen and before(first, p, seen | {p}))
            for p in after[then]
            if p in by_id
        )

    def barely(pose: Pose, others: Sequence[Task]) -> bool:
        """Is what all these leave the least that will do?"""
        needed = seat_of(others[0], pose).barely()
        return not needed.spoilt_by(others)

    def following(task: Task) -> set[str]:
        """The tasks that must come after it, itself among them."""
        found = {task.id}
        grown = True
        while grown:
            more = {
                t for t, firsts in after.items() if t not in found and not found.isdisjoint(firsts)
            }
            found |= more
            grown = bool(more)
        return found

    def settle(task: Task, offered: Sequence[Pose]) -> None:
        """Keep the poses that stay good; where there are none, let what spoils one wait."""
        later = following(task)
        others = [o for o in tasks if o.id not in later and not isinstance(o.job, Line)]
        spoilers: dict[Pose, list[Task]] = {}
        for pose in offered:
            if pose.stage == "bar":
                continue
            bad = spoilers_of(task, pose, others)
            if bad:
                spoilers[pose] = bad
        good = tuple(p for p in offered if p not in spoilers)
        if bare and not good:
            good = tuple(p for p in spoilers if barely(p, others))
        if good:
            kept[task.id] = replace(task, poses=good)
            return
        # Every pose would be spoilt: do this one first, in the pose that holds up fewest others.
        waits = {
            pose: [o for o in bad if not before(o.id, task.id)] for pose, bad in spoilers.items()
        }
        pose = min(spoilers, key=lambda p: (len(spoilers[p]) - len(waits[p]), len(waits[p])))
        done = [o for o in spoilers[pose] if o not in waits[pose]]
        if spoilers_of(task, pose, done):
            kept[task.id] = replace(task, poses=tuple(p for p in spoilers if barely(p, others)))
            if kept[task.id].poses:
                return
            if not firm:
                return
            cut = list(dict.fromkeys(o.feature for o in done))
            come = "is cut, which comes" if len(cut) == 1 else "are cut, which come"
            with concerning(task.feature):
                raise UnplannableError(
                    f"once {' and '.join(cut)} {come} first, too little is left to hold the work "
                    "by; make that smaller or shallower, or this another way",
                    task.part.name,
                    task.named,
                )
        for other in waits[pose]:
            after[other.id][task.id] = because(ReasonKind.JAWS_HOLD_IT)
        kept[task.id] = replace(task, poses=(pose,))

    def late(task: Task) -> bool:
        """Is it left to the bar though it comes after what is only done to pieces?"""
        poses = kept[task.id].poses
        return (
            bool(poses)
            and all(p.stage == "bar" for p in poses)
            and any(
                before(o.id, task.id)
                for o in kept.values()
                if all(p.stage != "bar" for p in o.poses)
            )
        )

    for task in tasks:
        if isinstance(task.job, Line | Contour) or not task.poses:
            kept[task.id] = task
        else:
            settle(task, task.poses)
    for task in tasks:
        pieces = [p for p in task.poses if p.stage != "bar"]
        if pieces and len(pieces) < len(task.poses) and late(task):
            settle(task, pieces)
    return [replace(kept[t.id], after=after[t.id]) for t in tasks]


def one_side_each(tasks: Sequence[Task]) -> list[list[Task]]:
    """Every choice of the side each through hole is made from: all its steps from the same one."""
    sides: dict[str, set[Face]] = {}
    for t in tasks:
        if isinstance(t.job, Sink):
            ups = {p.up for p in t.poses}
            sides[t.feature] = sides.get(t.feature, ups) & ups or ups
    open_ones = sorted(f for f, ups in sides.items() if len(ups) > 1)[:MOST_SIDES]
    choices = []
    for picks in product(*(sorted(sides[f]) for f in open_ones)):
        chosen = dict(zip(open_ones, picks, strict=True))
        choices.append(
            [
                replace(t, poses=tuple(p for p in t.poses if p.up is chosen[t.feature]))
                if t.feature in chosen
                else t
                for t in tasks
            ]
        )
    return choices
