"""The user's own choices: what a pin asks of a part's tasks, and why some cannot all hold."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TypeVar

from barstock.drawing.build import Pin, within
from barstock.planning.holding.way import way_of
from barstock.planning.order.part_order import ancestors, has_circle
from barstock.planning.order.precedence import Placed, keep_grips
from barstock.planning.tasks.pose import Box, Pose
from barstock.planning.tasks.task import Task
from barstock.reading.faults import nearest
from barstock.route.explanation import Rule
from barstock.route.statements import Choice, Pinned, Reason, ReasonKind, because
from barstock.workshop.shop import Workshop

Kept = TypeVar("Kept")


class PinError(ValueError):
    """Raised where a pin names an operation that there is not, or asks for what cannot be; pins:
    those that it is about.
    """

    pins: tuple[Pin, ...] = ()

    @property
    def choices(self) -> tuple[Pin, ...]:
        """Those that could be given up: a broken tool stays broken."""
        return tuple(pin for pin in self.pins if pin.place is not None and pin.rule != "broken")


@dataclass(frozen=True)
class Clash:
    """The fewest rules that leave no order: without any one of them there would be one."""

    pins: tuple[Pin, ...]
    rules: tuple[Rule, ...] = ()
    reason: str = ""

    def in_words(self, tell: Callable[[Rule], str] = str) -> str:
        """The clash in words, a line for each pin and rule. tell: gives the line of a rule."""
        mend = {
            0: "it cannot be held for all of them; make one of these features another way, smaller "
            "or shallower",
            1: "take the pin out",
        }.get(len(self.pins), "take one of the pins out")
        pinned = [f"{pin.place}: pinned: {pin}" if pin.place else str(pin) for pin in self.pins]
        lines = [*pinned, *map(tell, self.rules), *([self.reason] if self.reason else [])]
        return f"no order of work does all of this; {mend}:" + "".join(f"\n  {n}" for n in lines)


class ClashError(PinError):
    """Raised where pins and rules cannot all hold; `clash` has the fewest of them."""

    def __init__(self, clash: Clash) -> None:
        super().__init__(clash.in_words())
        self.clash, self.pins = clash, clash.pins
        self.in_words = clash.in_words


def working_tools(workshop: Workshop, pins: Sequence[Pin]) -> Workshop:
    """The workshop without the tools that are broken."""
    broken = {pin.value for pin in pins if pin.rule == "broken"}
    return replace(workshop, tools=tuple(t for t in workshop.tools if t.name not in broken))


def restrict(tasks: Sequence[Task], pins: Sequence[Pin]) -> list[Task]:
    """The tasks with only the ways and orders that the pins leave. Raises PinError."""
    found = list(tasks)
    for pin in pins:
        _check_names(pin, found)
        if pin.rule == "vise":
            found = [_in_vise(t, pin, _named(t, pin)) for t in found]
        elif pin.rule in WAYS:
            found = [WAYS[pin.rule](t, pin) if _named(t, pin) else t for t in found]
        elif pin.rule == "before":
            found = _before(found, pin.names[0], pin.names[1], _pinned(pin))
        elif pin.rule == "first":
            found = _first(found, pin)
    return found


def choice(pin: Pin) -> Choice:
    """A pin as the route holds it."""
    return Choice(rule=pin.rule, names=pin.names, value=pin.value)


def priced(pin: Pin, minutes: float) -> Pinned:
    """A pin as the route holds it, with the minutes that it costs."""
    return Pinned(rule=pin.rule, names=pin.names, value=pin.value, minutes=minutes)


def _pinned(pin: Pin) -> Reason:
    return Reason(kind=ReasonKind.PINNED, choice=choice(pin))


def _named(task: Task, pin: Pin) -> bool:
    return any(within(name, task.id) for name in pin.names)


def _check_names(pin: Pin, tasks: Sequence[Task]) -> None:
    part = tasks[0].part.name
    ids = [t.id for t in tasks]
    for name in pin.names:
        if within(part, name) and not any(within(name, i) for i in ids):
            where = f"{pin.place}: " if pin.place else ""
            wrong = PinError(f"{where}there is no operation '{name}'; {nearest(name, ids)}")
            wrong.pins = (pin,)
            raise wrong


def _never_in_the_bar(task: Task, pin: Pin) -> Task:
    return replace(task, poses=tuple(p for p in task.poses if p.stage != "bar"))


def _only_in_the_bar(task: Task, pin: Pin) -> Task:
    # of a whole part, only what can be done in the bar is meant
    if pin.names == (task.part.name,) and all(p.stage != "bar" for p in task.poses):
        return task
    return replace(task, poses=tuple(p for p in task.poses if p.stage == "bar"))


def _with_tool(task: Task, pin: Pin) -> Task:
    return replace(task, tools=tuple(t for t in task.tools if t.name == pin.value))


def _facing_up(task: Task, pin: Pin) -> Task:
    return replace(task, poses=tuple(p for p in task.poses if p.up.value == pin.value))


def _in_pose(task: Task, pin: Pin) -> Task:
    return replace(task, poses=tuple(p for p in task.poses if p.name == pin.value))


WAYS: dict[str, Callable[[Task, Pin], Task]] = {
    "never in the bar": _never_in_the_bar,
    "only in the bar": _only_in_the_bar,
    "tool": _with_tool,
    "up": _facing_up,
    "pose": _in_pose,
}
"""Pins that leave a task fewer ways of being done."""


def _in_vise(task: Task, pin: Pin, named: bool) -> Task:
    """Held in that vise; what is not named may join it there."""
    there = tuple(
        replace(p, way=way)
        for p in task.poses
        if (way := way_of(p).in_device(pin.value)) is not None
    )
    return replace(task, poses=there if named else task.poses + there)


def _before(tasks: list[Task], first: str, then: str, reason: Reason) -> list[Task]:
    before = {t.id: reason for t in tasks if within(first, t.id)}
    return [
        replace(t, after=before | t.after) if within(then, t.id) and t.id not in before else t
        for t in tasks
    ]


def _first(tasks: list[Task], pin: Pin) -> list[Task]:
    """Before all that it does not need itself."""
    needs = ancestors(tasks)
    mine = [t.id for t in tasks if _named(t, pin)]
    needed = set(mine).union(*(needs[i] for i in mine))
    before = dict.fromkeys(mine, _pinned(pin))
    return [t if t.id in needed else replace(t, after=before | t.after) for t in tasks]


# -- operations kept in one setup ------------------------------------------------------------------


def together_poses(tasks: Sequence[Task], pins: Sequence[Pin]) -> list[list[Task]]:
    """The tasks once for every choice of poses that puts each pin's operations in one setup."""
    wanted = [pin for pin in pins if pin.rule == "together"]
    needs = ancestors(tasks)
    groups = []
    for pin in wanted:
        mine = {t.id for t in tasks if _named(t, pin)}
        # what must come between two of them must be done in their setup too
        groups.append(mine | {i for i in needs if needs[i] & mine and _needed(i, mine, needs)})
    common = [_common([t for t in tasks if t.id in group]) for group in groups]
    choices = []
    for poses in product(*common):
        only = list(tasks)
        for group, pose in zip(groups, poses, strict=True):
            there = (pose,)
            only = [
                replace(t, poses=there if pose in t.poses else ()) if t.id in group else t
                for t in only
            ]
        if all(t.poses for t in only):
            choices.append(only)
    return choices


def _needed(name: str, by: set[str], needs: dict[str, set[str]]) -> bool:
    return any(name in needs[other] for other in by)


def _common(tasks: Sequence[Task]) -> list[Pose]:
    if not tasks:
        return []
    return [p for p in tasks[0].poses if all(p in t.poses for t in tasks)]


def parted(placed: Sequence[Placed], pins: Sequence[Pin]) -> tuple[Task, list[Task]] | None:
    """The task of another setup that stands between operations pinned together, and those."""
    for pin in pins:
        if pin.rule != "together":
            continue
        mine = [n for n, p in enumerate(placed) if _named(p.task, pin)]
        pose = placed[mine[0]].pose if mine else None
        for p in placed[mine[0] : mine[-1]] if mine else ():
            if p.pose != pose:
                return p.task, [placed[n].task for n in mine]
    return None


def either_side(tasks: Sequence[Task], between: Task, kept: Sequence[Task]) -> list[list[Task]]:
    """The tasks with what parts the kept ones before them all, and after them all."""
    ids = {t.id for t in kept}
    reason = {between.id: because(ReasonKind.PARTS_SETUP)}
    ahead = [replace(t, after=reason | t.after) if t.id in ids else t for t in tasks]
    since = dict.fromkeys(ids, reason[between.id])
    behind = [replace(t, after=since | t.after) if t.id == between.id else t for t in tasks]
    return [
        found for found in (ahead, behind) if not has_circle({t.id: set(t.after) for t in found})
    ]


# -- what cannot be --------------------------------------------------------------------------------


def clash_in(
    tasks: Sequence[Task], pins: Sequence[Pin], box: Box, bare: bool = False
) -> Clash | None:
    """The fewest pins and rules that leave a part's tasks without any order, or None.

    tasks: before the pins restrict them. bare: see keep_grips.
    """
    full = keep_grips(restrict(tasks, pins), box, bare=bare)
    if not _stuck(full, pins):
        return None
    asked = [
        Rule(then=t.id, first=first, reason=reason)
        for t in full
        for first, reason in t.after.items()
        if not reason.pinned
    ]

    def impossible(rules: Sequence[Pin | Rule]) -> bool:
        kept = [rule for rule in rules if isinstance(rule, Pin)]
        held = {(rule.then, rule.first) for rule in rules if isinstance(rule, Rule)}
        left = []
        for t in keep_grips(restrict(tasks, kept), box, bare=bare):
            after = {k: v for k, v in t.after.items() if v.pinned or (t.id, k) in held}
            left.append(replace(t, after=after))
        return bool(_stuck(left, kept))

    rules: list[Pin | Rule] = fewest([*asked, *pins], impossible)
    return Clash(
        tuple(rule for rule in rules if isinstance(rule, Pin)),
        tuple(rule for rule in rules if isinstance(rule, Rule)),
        _stuck(full, pins) if not any(isinstance(rule, Rule) for rule in rules) else "",
    )


def fewest(rules: Sequence[Kept], impossible: Callable[[Sequence[Kept]], bool]) -> list[Kept]:
    """A smallest set of rules that is impossible still: each is left out once, to see."""
    kept = list(rules)
    for rule in rules:
        rest = [other for other in kept if other is not rule]
        if impossible(rest):
            kept = rest
    return kept


def _stuck(tasks: Sequence[Task], pins: Sequence[Pin]) -> str:
    """Why these tasks have no order at all; "" where they may have one."""
    for t in tasks:
        if not t.poses:
            return f"{t.id} could then be held in no way"
        if not t.tools:
            return f"{t.id} could then be done by no tool"
    if has_circle({t.id: set(t.after) for t in tasks}):
        return "each would come after the other"
    needs = ancestors(tasks)
    piece_only = {t.id for t in tasks if all(p.stage != "bar" for p in t.poses)}
    for t in tasks:
        late = needs[t.id] & piece_only
        if late and all(p.stage == "bar" for p in t.poses):
            return f"{min(late)} cannot be done in the bar, and {t.id} comes after it"
    if not together_poses(tasks, pins):
        return "they share no way of being held"
    return ""
