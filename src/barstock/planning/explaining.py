"""Explains why an operation stands where it does, and what it would cost to have it otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.drawing.build import Pin
from barstock.errors import UnplannableError
from barstock.planning.holding.ways import WAYS
from barstock.planning.order.part_order import NoOrderError
from barstock.planning.order.plain_orders import changing, ready, zeroing
from barstock.planning.order.precedence import Placed
from barstock.planning.order.user_pins import ClashError, PinError, choice
from barstock.planning.part_plan import PartPlan
from barstock.planning.plan import Planner
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Task
from barstock.planning.whole_route import Whole
from barstock.reading.faults import nearest
from barstock.route import Operation, Setup
from barstock.route.explanation import Change, ChangeKind, WhatIf, Why
from barstock.route.statements import Reason


class UnknownOperationError(LookupError):
    """Raised where no operation, or more than one, goes by that name; says which there are."""


def why(planner: Planner, pins: Sequence[Pin], wanted: str) -> Why:
    """Explain an operation, named by its id or a piece of it.

    Raises UnknownOperationError, and what planning raises.
    """
    whole = planner.whole(pins)
    setups = whole.arranged.setups
    number, setup, operation = _find(setups, wanted)
    plan = next(p for p in whole.plans if setup in _same(setups, p))
    at = next((n for n, p in enumerate(plan.order.placed) if p.task.id == operation.id), None)
    found = Why(
        operation=operation.id,
        setup=setup,
        number=number,
        of=len(setups),
        unit=plan.part.unit,
        operations=tuple(o for s in _same(setups, plan) for o in s.operations),
        rules=setup.why,
    )
    if at is None:
        return found
    placed = plan.order.placed
    task = placed[at].task
    return found.model_copy(
        update={
            "rules": tuple(_rules(task, placed)),
            "savings": setup.why,
            "followers": _followers(task, placed),
            "alone": _alone(setup, planner),
            "same_tool": _same_tool(task, setup, planner),
            "what_if": tuple(_what_ifs(planner, pins, whole, plan, at)),
        }
    )


def _same(setups: Sequence[Setup], plan: PartPlan) -> list[Setup]:
    ids = {s.id for s in plan.setups}
    return [s for s in setups if s.id in ids]


def _find(setups: Sequence[Setup], wanted: str) -> tuple[int, Setup, Operation]:
    every = {o.id: (n, s, o) for n, s in enumerate(setups, 1) for o in s.operations}
    if wanted in every:
        return every[wanted]
    pieces = wanted.lower().replace("/", " ").split()
    ending = [name for name in every if name.endswith(f"/{wanted}")]
    like = [name for name in every if all(piece in name.lower() for piece in pieces)]
    like = ending if len(ending) == 1 else like
    if len(like) == 1:
        return every[like[0]]
    if like:
        listed = "".join(f"\n  {name}" for name in like)
        raise UnknownOperationError(f"'{wanted}' may mean any of these; name one:{listed}")
    features = dict.fromkeys(name.rpartition("/")[0] for name in every)
    mend = nearest(wanted, every) if nearest(wanted, every).startswith("did") else ""
    raise UnknownOperationError(
        f"there is no operation '{wanted}'; {mend or nearest(wanted, features)}"
    )


# -- what put it there -----------------------------------------------------------------------------


def _rules(task: Task, placed: Sequence[Placed]) -> Iterator[Reason]:
    """Why it comes after others, then what it is there for at all."""
    here = {p.task.id for p in placed}
    yield from (reason for reason in task.reasons if reason.after in here)
    yield from task.why


def _followers(task: Task, placed: Sequence[Placed]) -> dict[str, Reason]:
    """What must wait for it, by id."""
    waiting = {p.task.id: p.task.after[task.id] for p in placed if task.id in p.task.after}
    return {
        name: reason.model_copy(update={"after": task.id})
        for name, reason in waiting.items()
        if not reason.pinned
    }


def _alone(setup: Setup, planner: Planner) -> float:
    """Minutes that a setup of its own would take, 0 where it has one."""
    if len(setup.operations) == 1:
        return 0.0
    times = planner.workshop.times
    copies, loading = setup.copies, WAYS[setup.holding.way].loading(times)
    return ready(setup, times) + zeroing(setup, times, copies) + loading * copies


def _same_tool(task: Task, setup: Setup, planner: Planner) -> dict[str, float]:
    """Its neighbours with the same tool, each with the minutes of a change of tool less."""
    by_id = {o.id: o for o in setup.operations}
    here = list(by_id).index(task.id)
    saved = {}
    for other in list(by_id)[max(0, here - 1) : here + 2]:
        name = by_id[other].cutter.name
        if other != task.id and name == by_id[task.id].cutter.name:
            saved[other] = changing(setup, by_id[other], planner.workshop.times)
    return saved


# -- what it would cost otherwise ------------------------------------------------------------------


def _what_ifs(
    planner: Planner, pins: Sequence[Pin], whole: Whole, plan: PartPlan, at: int
) -> list[WhatIf]:
    placed = plan.order.placed
    task, pose, tool = placed[at].task, placed[at].pose, placed[at].tool
    trials: list[tuple[Change, list[Pin]]] = []
    for other in placed[max(0, at - 1) : at]:
        before = Change(kind=ChangeKind.BEFORE, names={"operation": other.task.id})
        trials.append((before, [Pin("before", (task.id, other.task.id))]))
    for other in placed[at + 1 : at + 2]:
        after = Change(kind=ChangeKind.AFTER, names={"operation": other.task.id})
        trials.append((after, [Pin("before", (other.task.id, task.id))]))
    offered = next(t for t in plan.prepared.offered if t.id == task.id)
    for other_pose in _other_poses(pose, offered.poses):
        stage, up = other_pose.stage, other_pose.up.value
        held = Change(kind=ChangeKind.HELD, names={"stage": stage, "up": up})
        rule = "only in the bar" if stage == "bar" else "never in the bar"
        trials.append((held, [Pin(rule, (task.id,)), Pin("up", (task.id,), up)]))
    for other_tool in offered.tools:
        if other_tool.name != tool.name:
            by = Change(kind=ChangeKind.TOOL, names={"tool": other_tool.name})
            trials.append((by, [Pin("tool", (task.id,), other_tool.name)]))
    return [_what_if(planner, pins, whole, change, forced) for change, forced in trials]


def _other_poses(mine: Pose, offered: Sequence[Pose]) -> list[Pose]:
    """One pose for every stage and upper face other than its own."""
    found = {(p.stage, p.up): p for p in offered if (p.stage, p.up) != (mine.stage, mine.up)}
    return list(found.values())


def _what_if(
    planner: Planner, pins: Sequence[Pin], whole: Whole, change: Change, forced: Sequence[Pin]
) -> WhatIf:
    """The plan made anew with that forced; as it need not be forced, it never costs less."""
    try:
        other = planner.whole([*pins, *forced])
    except ClashError as wrong:
        clash = wrong.clash
        return WhatIf(
            change=change,
            minutes=None,
            rules=clash.rules,
            pins=tuple(choice(p) for p in clash.pins if p.place),
            because=clash.reason,
        )
    except (PinError, NoOrderError, UnplannableError) as wrong:
        return WhatIf(change=change, minutes=None, because=str(wrong))
    minutes = round(max(0.0, other.minutes - whole.minutes), 1)
    return WhatIf(change=change, minutes=minutes)
