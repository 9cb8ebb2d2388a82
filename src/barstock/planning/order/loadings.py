"""Decides where to change tools and where to change parts, for the copies in one setup."""

from __future__ import annotations

from collections.abc import Sequence

from barstock.route import Operation


def group_passes(
    operations: Sequence[Operation], changes: Sequence[float], copies: int, load: float
) -> tuple[tuple[tuple[str, ...], ...], float]:
    """Split a setup's operations into passes, and the minutes of loading, changing and cutting.

    changes: minutes to put the tool of each in; load: minutes to load one work.
    A pass loads every copy once and does one or more operations on each. Within a pass of several
    tools they are changed for every copy. Exact, by dynamic programming over the split points.
    """
    n = len(operations)
    best: list[tuple[float, int]] = [(0.0, 0)] + [(float("inf"), 0)] * n
    for end in range(1, n + 1):
        for start in range(end):
            cost = best[start][0] + _pass(operations, changes, start, end, copies, load)
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
    changes: Sequence[float],
    start: int,
    end: int,
    copies: int,
    load: float,
) -> float:
    names = [o.cutter.name for o in operations]
    inside = sum(changes[i] for i in range(start + 1, end) if names[i] != names[i - 1])
    first = 0.0 if start and names[start - 1] == names[start] else changes[start]
    again = changes[start] if names[end - 1] != names[start] else 0.0
    cutting = sum(o.minutes for o in operations[start:end]) * copies
    return first + inside * copies + again * (copies - 1) + copies * load + cutting
