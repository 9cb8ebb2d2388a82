"""Decides where to change tools and where to change parts, for the copies in one setup."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

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
    for start in range(n):
        passes = _passes(operations, changes, start, copies, load)
        for end, minutes in enumerate(passes, start + 1):
            cost = best[start][0] + minutes
            if cost < best[end][0] - 1e-9:
                best[end] = (cost, start)
    groups: list[tuple[str, ...]] = []
    end = n
    while end:
        start = best[end][1]
        groups.insert(0, tuple(o.id for o in operations[start:end]))
        end = start
    return tuple(groups), best[n][0]


def _passes(
    operations: Sequence[Operation],
    changes: Sequence[float],
    start: int,
    copies: int,
    load: float,
) -> Iterator[float]:
    """The minutes of the passes that begin with an operation, one to each end there can be."""
    names = [o.cutter.name for o in operations]
    first = 0.0 if start and names[start - 1] == names[start] else changes[start]
    inside = cutting = 0.0
    for i in range(start, len(operations)):
        if i > start and names[i] != names[i - 1]:
            inside += changes[i]
        cutting += operations[i].minutes
        again = changes[start] if names[i] != names[start] else 0.0
        yield first + (inside + load + cutting) * copies + again * (copies - 1)
