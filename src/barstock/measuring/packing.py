"""Packing under the work from the parallels owned, a pair of each height."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

MOST_STACKED = 3
"""Pairs of parallels that may stand one on another (common practice)."""


class PackingError(ValueError):
    """No parallels owned give the height; says which to add."""


def packing(low: float, high: float, owned: Sequence[float]) -> list[tuple[float, ...]]:
    """All ways to pack to a height from low to high [mm] with the fewest pairs of parallels.

    owned: height of each pair [mm]; a height owned twice is listed twice. Lowest first, each
    with its greatest parallel at the bottom. Nothing is packed, `[()]`, where low is not above
    zero. Raises PackingError.

    >>> packing(14, 21, [10, 12, 16, 20])
    [(16,), (20,)]
    >>> packing(21, 23, [10, 12, 16, 20])
    [(12, 10)]
    """
    if low > high:
        raise PackingError(f"the least packing {low:g} mm is above the greatest {high:g} mm")
    if low <= 0 <= high:
        return [()]
    if any(height <= 0 for height in owned):
        raise PackingError("a parallel's height must be above zero")
    highest_first = sorted(owned, reverse=True)
    for pairs in range(1, MOST_STACKED + 1):
        found = {
            c for c in combinations(highest_first, pairs) if low - 1e-9 <= sum(c) <= high + 1e-9
        }
        if found:
            return sorted(found, key=lambda c: (sum(c), c))
    have = ", ".join(f"{h:g}" for h in sorted(owned)) or "none"
    raise PackingError(
        f"no parallels owned ({have} mm) pack to between {low:g} and {high:g} mm; "
        f"add a pair in that range"
    )
