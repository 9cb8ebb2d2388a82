"""Where to change tools and where to change parts, for the copies in one setup."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.planning.order.precedence import tool_change
from barstock.route import Operation
from barstock.workshop.shop import ShopTimes, Tool


def group_passes(
    operations: Sequence[Operation], tools: Sequence[Tool], copies: int, times: ShopTimes
) -> tuple[tuple[tuple[str, ...], ...], float]:
    """Split a setup's operations into passes, and the minutes of loading, changing and cutting.

    A pass loads every copy once and does one or more operations on each. Within a pass of several
    tools they are changed for every copy. Exact, by dynamic programming over the split points.
    """
    n = len(operations)
    best: list[tuple[float, int]] = [(0.0, 0)] + [(float("inf"), 0)] * n
    for end in range(1, n + 1):
        for start in range(end):
            cost = best[start][0] + _pass(operations, tools, start, end, copies, times)
            if cost < best[end][0] - 1e-9:
                best[end] = (cost, start)
    groups: list[tuple[str, ...]] = []
    end = n
    while end:
        start = best[end][1]
        groups.insert(0, tuple(o.id for o in operations[start:end]))
        end = start
    return tuple(groups), best[n][0]


def _pass(
    operations: Sequence[Operation],
    tools: Sequence[Tool],
    start: int,
    end: int,
    copies: int,
    times: ShopTimes,
) -> float:
    names = [t.name for t in tools[start:end]]
    inside = sum(
        tool_change(tools[start + i], times)
        for i in range(1, end - start)
        if names[i] != names[i - 1]
    )
    first = tool_change(tools[start], times)
    if start and tools[start - 1].name == names[0]:
        first = 0.0
    again = first if names[-1] != names[0] and copies > 1 else 0.0
    again = tool_change(tools[start], times) if again or (names[-1] != names[0]) else 0.0
    cutting = sum(o.minutes for o in operations[start:end]) * copies
    return first + inside * copies + again * (copies - 1) + copies * times.load + cutting
