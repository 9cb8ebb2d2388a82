"""Why an operation stands where it does, and what it would cost to have it otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barstock.drawing.build import Pin
from barstock.errors import UnplannableError
from barstock.planning.order.part_order import NoOrderError
from barstock.planning.order.precedence import Placed, loading, tool_change
from barstock.planning.order.user_pins import PINNED, ClashError, PinError
from barstock.planning.plan import PartPlan, Planner, Whole
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Task
from barstock.reading.faults import nearest
from barstock.route import Operation, Setup

STAGES = {"bar": "in the bar", "piece": "on the sawn piece"}


class UnknownOperationError(LookupError):
    """No operation, or more than one, goes by that name; says which there are."""


@dataclass(frozen=True)
class WhatIf:
    """One thing done otherwise. minutes: what the whole plan would take more; None: it cannot be,
    for the reasons in `because`."""

    words: str
    minutes: float | None
    because: tuple[str, ...] = ()


@dataclass(frozen=True)
class Why:
    """All there is to say of one operation's place.

    rules: what must come before it; followers: what must wait for it; savings: of its place.
    """

    operation: str
    title: str
    setup: str
    place: str
    rules: tuple[str, ...]
    followers: tuple[str, ...]
    savings: tuple[str, ...]
    what_if: tuple[WhatIf, ...]


def why(planner: Planner, pins: Sequence[Pin], wanted: str) -> Why:
    """Explain an operation, named by its id or a piece of it.

    Raises UnknownOperationError, and what planning raises.
    """
    whole = planner.whole(pins)
    setups = whole.arranged.setups
    number, setup, operation = _find(setups, wanted)
    plan = next(p for p in whole.plans if setup in _same(setups, p))
    at = next((n for n, p in enumerate(plan.order.placed) if p.task.id == operation.id), None)
    place = f"{setup.title}, setup {number} of {len(setups)}, {setup.copies} to load"
    found = Why(operation.id, operation.title, str(number), place, setup.why, (), (), ())
    if at is None:
        return found
    placed = plan.order.placed
    task = placed[at].task
    return Why(
        operation.id,
        operation.title,
        str(number),
        place,
        tuple(_rules(task, placed)),
        tuple(_followers(task, placed)),
        tuple(_savings(task, setup, planner)),
        tuple(_what_ifs(planner, pins, whole, plan, at)),
    )


def _same(setups: Sequence[Setup], plan: PartPlan) -> list[Setup]:
    ids = {s.id for s in plan.setups}
    return [s for s in setups if s.id in ids]


def _find(setups: Sequence[Setup], wanted: str) -> tuple[int, Setup, Operation]:
    every = {o.id: (n, s, o) for n, s in enumerate(setups, 1) for o in s.operations}
    if wanted in every:
        return every[wanted]
    pieces = wanted.lower().replace("/", " ").split()
    like = [name for name in every if all(piece in name.lower() for piece in pieces)]
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


def _rules(task: Task, placed: Sequence[Placed]) -> list[str]:
    titles = {p.task.id: p.task.title for p in placed}
    found = [
        f"after '{titles[first]}': {reason}"
        for first, reason in task.after.items()
        if first in titles
    ]
    return [*found, *task.why]


def _followers(task: Task, placed: Sequence[Placed]) -> list[str]:
    return [
        f"'{p.task.title}' waits for it: {p.task.after[task.id]}"
        for p in placed
        if task.id in p.task.after and not p.task.after[task.id].startswith(PINNED)
    ]


def _savings(task: Task, setup: Setup, planner: Planner) -> list[str]:
    times = planner.workshop.times
    ids = [o.id for o in setup.operations]
    here = ids.index(task.id)
    found = list(setup.why)
    if len(ids) > 1:
        load = loading(bool(setup.holding.table), times)
        again = times.set_up + times.find_zero + load * setup.copies
        others = [o.title for o in setup.operations if o.id != task.id]
        shown = others[:3] + [f"{len(others) - 3} more"] * (len(others) > 3)
        found.append(
            f"in one setup with {', '.join(shown)}: a setup of its own would take "
            f"{again:.0f} minutes"
        )
    for other, word in ((here - 1, "before"), (here + 1, "after")):
        if 0 <= other < len(ids):
            neighbour = setup.operations[other]
            if neighbour.cutter.name == setup.operations[here].cutter.name:
                tool = next((t for t in task.tools if t.name == neighbour.cutter.name), None)
                saved = tool_change(tool, times) if tool else 0.0
                found.append(
                    f"next to '{neighbour.title}', the operation {word} it, by the same tool: "
                    f"a change of tool less, {saved:.1f} minutes"
                )
    return found


# -- what it would cost otherwise ------------------------------------------------------------------


def _what_ifs(
    planner: Planner, pins: Sequence[Pin], whole: Whole, plan: PartPlan, at: int
) -> list[WhatIf]:
    placed = plan.order.placed
    task, pose, tool = placed[at].task, placed[at].pose, placed[at].tool
    trials: list[tuple[str, list[Pin]]] = []
    for other in placed[max(0, at - 1) : at]:
        trials.append((f"before '{other.task.title}'", [Pin("before", (task.id, other.task.id))]))
    for other in placed[at + 1 : at + 2]:
        trials.append((f"after '{other.task.title}'", [Pin("before", (other.task.id, task.id))]))
    offered = next(t for t in plan.prepared.offered if t.id == task.id)
    for other_pose in _other_poses(pose, offered.poses):
        stage = "only in the bar" if other_pose.stage == "bar" else "never in the bar"
        forced = [Pin(stage, (task.id,)), Pin("up", (task.id,), other_pose.up.value)]
        where = STAGES[other_pose.stage]
        trials.append((f"{where}, with the {other_pose.up} up", forced))
    for other_tool in offered.tools:
        if other_tool.name != tool.name:
            trials.append(
                (f"with the {other_tool.name}", [Pin("tool", (task.id,), other_tool.name)])
            )
    return [_what_if(planner, pins, whole, words, forced) for words, forced in trials]


def _other_poses(mine: Pose, offered: Sequence[Pose]) -> list[Pose]:
    """One pose for every stage and upper face other than its own."""
    found = {(p.stage, p.up): p for p in offered if (p.stage, p.up) != (mine.stage, mine.up)}
    return list(found.values())


def _what_if(
    planner: Planner, pins: Sequence[Pin], whole: Whole, words: str, forced: Sequence[Pin]
) -> WhatIf:
    """The plan made anew with that forced; as it need not be forced, it never costs less."""
    try:
        other = planner.whole([*pins, *forced])
    except ClashError as wrong:
        rules = [str(e) for e in wrong.clash.edges]
        pinned = [f"pinned: {p}" for p in wrong.clash.pins if p.place]
        reason = [wrong.clash.reason] if wrong.clash.reason else []
        return WhatIf(words, None, (*rules, *pinned, *reason))
    except (PinError, NoOrderError, UnplannableError) as wrong:
        return WhatIf(words, None, (str(wrong),))
    return WhatIf(words, round(max(0.0, other.minutes - whole.minutes), 1))


def printed(found: Why) -> str:
    """The explanation as lines of text."""
    lines = [f"{found.operation}: {found.title}", f"  in {found.place}"]
    for title, words in (
        ("It must come", found.rules),
        ("Others need it first", found.followers),
        ("Its place saves", found.savings),
    ):
        if words:
            lines += [f"{title}:", *(f"  {line}" for line in words)]
    if found.what_if:
        lines.append("Otherwise:")
    for trial in found.what_if:
        if trial.minutes is None:
            lines.append(f"  {trial.words}: cannot be")
            lines += [f"    {reason}" for reason in trial.because]
        else:
            cost = f"{trial.minutes:.0f} minutes more" if trial.minutes >= 0.5 else "no more time"
            lines.append(f"  {trial.words}: {cost}")
    return "\n".join(lines)
