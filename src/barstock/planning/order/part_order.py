"""Finds the quickest order of a part's tasks: which pose and tool each is done in, and after what.

Maps the part to the sequencing core: a task is an operation, a pose a setup. The core's price of an
order is never more than what its setups will take (passes are priced by their cheapest way), so its
lower bound holds for the real time.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from barstock.planning.holding.way import way_of
from barstock.planning.order.known_orders import Solver, fresh
from barstock.planning.order.precedence import Placed, tool_change
from barstock.planning.tasks.pose import Pose
from barstock.planning.tasks.task import Task
from barstock.sequencing import Changeover, Choice, Operation, Problem
from barstock.workshop.shop import ShopTimes, Tool

START = "the start"
NO_WAY = 1e6  # minutes: more than any plan takes

Minutes = Mapping[tuple[str, str, str], float]


class NoOrderError(ValueError):
    """Raised where no order of a part's tasks satisfies all that is asked of it."""


@dataclass(frozen=True)
class Order:
    """A part's tasks in order. minutes, bound: of the sequencing; proven: no quicker one exists."""

    placed: tuple[Placed, ...]
    minutes: float
    bound: float
    proven: bool


def order_part(
    tasks: Sequence[Task],
    minutes: Minutes,
    copies: Mapping[str, int],
    times: ShopTimes,
    steps: int,
    alike: Mapping[str, float] | None = None,
    solver: Solver = fresh,
) -> Order:
    """Put a part's tasks in their quickest order.

    minutes: by (task, pose, tool), for all copies; copies: works to load, by stage; alike: minutes
    that a setup in a pose can save where the one before it, of any part, is held alike.
    Raises NoOrderError.
    """
    places = {_name(p): p for t in tasks for p in t.poses}
    by_id = {t.id: t for t in tasks}
    operations = {START: Operation(choices=(Choice("mill", START, START, 0.0),))}
    labels: dict[str, tuple[str, Tool]] = {}
    for t in tasks:
        choices = []
        for pose in t.poses:
            place = _name(pose)
            for tool in t.tools:
                if (t.id, pose.name, tool.name) in minutes:
                    label = f"{place}, {tool.name}"
                    labels[label] = place, tool
                    cost = minutes[t.id, pose.name, tool.name]
                    choices.append(Choice(way_of(pose).machine, label, place, cost))
        before = (a for a in t.after if a in by_id)
        operations[t.id] = Operation(after=(START, *before), choices=tuple(choices))

    back = {name: _back(place, tasks, times) for name, place in places.items()}

    def set_up(before: str, to: str) -> float:
        if to == START:
            return NO_WAY
        pose = places[to]
        if before in places and pose.stage == "bar" and places[before].stage == "piece":
            return NO_WAY
        way, saved = way_of(pose), (alike or {}).get(pose.name, 0.0)
        load = way.loading(times) * copies[pose.stage]
        return way.ready(times, bool(pose.tilt)) + load - saved

    def change(before: str, to: str) -> float:
        if to == START:
            return 0.0
        at, tool = labels[to]
        way = way_of(places[at])
        once = tool_change(places[at], tool, times)
        if not once:
            return 0.0
        if before == START or labels[before][0] != at:
            return once
        many = copies[places[at].stage]
        return min(once + way.loading(times) * many, once * many + back[at] * (many - 1))

    stops = [START, *places]
    spindle = [START, *labels]
    problem = Problem(
        operations=operations,
        changeover=Changeover(
            tool={a: {b: change(a, b) for b in spindle} for a in spindle},
            setup={a: {b: set_up(a, b) for b in stops} for a in stops},
        ),
    )
    solution = solver(problem, steps)
    if solution.cost >= NO_WAY:
        raise NoOrderError(_after_the_saw(tasks, minutes))
    placed = tuple(
        Placed(by_id[c.operation], places[c.setup], labels[c.tool][1])
        for c in solution.plan
        if c.operation != START
    )
    return Order(placed, solution.cost, solution.bound, solution.proven)


def _name(pose: Pose) -> str:
    """Where the core has the work."""
    return f"{way_of(pose).machine} {pose.name}"


def _back(pose: Pose, tasks: Sequence[Task], times: ShopTimes) -> float:
    """Least share of each tool change in the way back to a pass's first tool [minutes].

    A pass of several tools ends with the wrong one in the spindle: before the next copy the first
    is put back. Shared over the most changes a pass can have here; 0 where the order of the tasks
    may ask for a tool twice, for then the last may be the first.
    """
    here = [t for t in tasks if pose in t.poses]
    tools = {tool.name: tool for t in here for tool in t.tools}
    most = min(len(here), len(tools))
    if most < 2 or _asked_twice(here, tasks):
        return 0.0
    return min(tool_change(pose, tool, times) for tool in tools.values()) / (most - 1)


def _after_the_saw(tasks: Sequence[Task], minutes: Minutes) -> str:
    """Which task can be held in the bar alone though it follows what is done to the pieces."""
    stages: dict[str, set[str]] = {t.id: set() for t in tasks}
    for t in tasks:
        for pose in t.poses:
            if any(key[:2] == (t.id, pose.name) for key in minutes):
                stages[t.id].add(pose.stage)
    needs, titles = ancestors(tasks), {t.id: t.named for t in tasks}
    for t in tasks:
        first = sorted(o for o in needs[t.id] if "bar" not in stages[o])
        if stages[t.id] == {"bar"} and first:
            return (
                f"{t.named} can be held only while the pieces are one bar, yet must come after "
                f"{titles[first[0]]}, which is done to the pieces; make one of them smaller or "
                "shallower, or list parallels of other heights"
            )
    return "something done in the bar would come after the bar is sawn"


def _asked_twice(here: Sequence[Task], tasks: Sequence[Task]) -> bool:
    """May the order between these tasks ask for one tool, another, and the first again?"""
    needs, there = ancestors(tasks), {t.id: {tool.name for tool in t.tools} for t in here}
    after: dict[str, set[str]] = {}
    for then in here:
        for first in needs[then.id] & there.keys():
            for tool in then.tools:
                after.setdefault(tool.name, set()).update(there[first] - {tool.name})
    return has_circle(after)


def ancestors(tasks: Iterable[Task]) -> dict[str, set[str]]:
    """The tasks that must be done before each task, by id."""
    by_id = {t.id: t for t in tasks}
    found: dict[str, set[str]] = {}

    def needs(name: str) -> set[str]:
        if name not in found:
            found[name] = set()  # a circle ends here; it is found elsewhere
            direct = [a for a in by_id[name].after if a in by_id]
            found[name] = set(direct).union(*(needs(a) for a in direct))
        return found[name]

    for name in by_id:
        needs(name)
    return found


def has_circle(after: Mapping[str, Iterable[str]]) -> bool:
    """Does any task come before itself?"""
    left = {name: set(before) for name, before in after.items()}
    while left:
        free = [name for name, before in left.items() if not before & left.keys()]
        if not free:
            return True
        for name in free:
            del left[name]
    return False
