"""This module solves many small linear programmes of one shape at once.

It finds the furthest that a first quantity can go between straight limits, by the dual simplex
method (C. E. Lemke, 1954): it begins at a corner that is best but breaks limits, and takes in the
limit most broken, until none is. The answer is exact but for rounding.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

TINY = 1e-9
MOST_STEPS = 200


@dataclass(frozen=True)
class Furthest:
    """A Furthest holds the answers.

    at: (cases, quantities), the first of them as great as it can be; nan: there is no room at all.
    held: (cases, quantities): numbers of the limits that hold it. by: how much the first would gain
    for one more of each of those, never less than 0.
    """

    at: Array
    held: Whole
    by: Array


def furthest(slopes: Array, limits: Array) -> Furthest:
    """Find the greatest first quantity with slopes @ quantities <= limits.

    slopes: (cases, limits, quantities); limits: (cases, limits), inf where there is none. The first
    limits, as many as there are quantities, must be on the quantities themselves from above. Raises
    ArithmeticError where limits are taken in without end.
    """
    cases, _, many = slopes.shape
    held = np.tile(np.arange(many), (cases, 1))
    at, by = np.full((cases, many), np.nan), np.zeros((cases, many))
    left = np.arange(cases)
    aim = np.zeros(many)
    aim[0] = 1.0
    for _ in range(MOST_STEPS):
        if not len(left):
            return Furthest(at, held, by)
        rows = held[left]
        basis = slopes[left[:, None], rows]
        here = np.linalg.solve(basis, limits[left[:, None], rows][..., None])[..., 0]
        prices = _priced(basis, np.broadcast_to(aim, here.shape))
        over = (slopes[left] @ here[..., None])[..., 0] - limits[left]
        worst = over.argmax(axis=1)
        each = np.arange(len(left))
        good = over[each, worst] <= TINY
        done = left[good]
        at[done], by[done] = here[good], prices[good]
        left, worst, basis, prices = left[~good], worst[~good], basis[~good], prices[~good]
        entering = slopes[left, worst]
        shares = _priced(basis, entering)
        can = shares > TINY
        ratio = np.where(can, np.maximum(prices, 0.0) / np.where(can, shares, 1.0), np.inf)
        leaving = ratio.argmin(axis=1)
        some = can.any(axis=1)
        held[left[some], leaving[some]] = worst[some]
        left = left[some]  # where none can leave, the limits leave no room: nan stays
    raise ArithmeticError("the limits go round in a ring")


def _priced(basis: Array, row: Array) -> Array:
    """Return a row as a sum of those of the basis."""
    return np.asarray(np.linalg.solve(basis.transpose(0, 2, 1), row[..., None])[..., 0])
