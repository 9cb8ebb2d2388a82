"""This module gives every guide a block so that the least clearance is as great as it can be.

The greatest clearance that a whole set can have everywhere is found first, among the clearances
themselves. Of all sets that have it, the most even one is taken: its squared differences from the
mean add up to least. Both are assignment problems (H. W. Kuhn, 1955), solved exactly by scipy.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Set:
    """A Set says which block goes into which guide.

    chosen: for each guide the number of its block. least: the least clearance among them [mm].
    """

    chosen: tuple[int, ...]
    least: float


def most_even(clearances: Array) -> Set:
    """Find the best set. clearances: (guides, blocks) [mm], nan where a block does not go in.

    There may be more blocks than guides. Raises ValueError where there are fewer, or where no set
    goes together.

    >>> most_even(np.array([[0.10, 0.30], [0.12, 0.31]])).chosen  # least 0.12
    (1, 0)
    """
    from scipy.optimize import linear_sum_assignment

    guides, blocks = clearances.shape
    if blocks < guides:
        raise ValueError(f"there are {guides} guides and only {blocks} blocks")
    found = np.where(np.isnan(clearances), -np.inf, clearances)
    levels = np.unique(found[np.isfinite(found)])
    low, high = -1, len(levels) - 1  # the level that can be had lies above low, not above high
    while low < high:
        middle = (low + high + 1) // 2
        short = found < levels[middle]
        if short[linear_sum_assignment(short.astype(float))].any():
            high = middle - 1
        else:
            low = middle
    if low < 0:
        raise ValueError("no set of these blocks goes into these guides")
    allowed = found >= levels[low]
    cost = np.where(allowed, (found - found[allowed].mean()) ** 2, 0.0)
    cost = np.where(allowed, cost, cost.sum() + 1.0)
    rows, columns = linear_sum_assignment(cost)
    return Set(tuple(int(c) for c in columns), float(found[rows, columns].min()))
