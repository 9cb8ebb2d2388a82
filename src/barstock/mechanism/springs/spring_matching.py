"""This module puts measured springs to places so that the loads are as even as they can be.

Springs of one winding differ by a few per cent. Each is pressed to the same length and weighed;
each place wants its load. With one spring to a place, the squared differences add up to least,
exactly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Matched:
    """A Matched is springs put to places.

    places: place -> the numbers of its springs, from 1. loads: place -> their load together [N];
    spread: the greatest difference from what is wanted, as a share of it; before: the same with the
    springs taken as they lie.
    """

    places: dict[str, tuple[int, ...]]
    loads: dict[str, float]
    spread: float
    before: float


class TooFewError(ValueError):
    """This is raised where there are fewer springs than places."""


def matched(springs: Sequence[float], wanted: Mapping[str, float], each: int = 1) -> Matched:
    """Put measured loads at one length [N] to places with the loads wanted there [N].

    each: springs at a place. One each is the assignment problem, exact; more are shared out exactly
    by mixed-integer programming, where the least greatest difference is sought. Raises TooFewError.
    """
    if len(springs) < each * len(wanted):
        have, want = len(springs), each * len(wanted)
        raise TooFewError(f"{have} springs are measured, but {want} are wanted")
    # only how the springs share counts: wanted loads are scaled to what the springs give
    scale = sum(springs) / len(springs) * each * len(wanted) / sum(wanted.values())
    aims = {place: load * scale for place, load in wanted.items()}
    found = _one_each(springs, aims) if each == 1 else _several(springs, aims, each)
    loads = {place: sum(springs[n] for n in ns) for place, ns in found.items()}
    lying = {p: sum(springs[i * each : (i + 1) * each]) for i, p in enumerate(aims)}
    return Matched(
        {place: tuple(sorted(n + 1 for n in ns)) for place, ns in found.items()},
        loads,
        _spread(loads, aims),
        _spread(lying, aims),
    )


def _spread(loads: Mapping[str, float], aims: Mapping[str, float]) -> float:
    return max(abs(loads[place] - aim) / aim for place, aim in aims.items())


def _one_each(springs: Sequence[float], aims: Mapping[str, float]) -> dict[str, list[int]]:
    from scipy.optimize import linear_sum_assignment

    costs = [[((spring - aim) / aim) ** 2 for spring in springs] for aim in aims.values()]
    rows, columns = linear_sum_assignment(costs)
    names = list(aims)
    return {names[row]: [int(column)] for row, column in zip(rows, columns, strict=True)}


def _several(
    springs: Sequence[float], aims: Mapping[str, float], each: int
) -> dict[str, list[int]]:
    """Find the least greatest difference t by mixed-integer programming.

    x[place, spring] is whole, and t >= |sum - aim| / aim.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    places, count = len(aims), len(springs)
    size = places * count
    rows: list[Any] = []
    low: list[float] = []
    high: list[float] = []
    for i, aim in enumerate(aims.values()):
        row = np.zeros(size + 1)
        row[i * count : (i + 1) * count] = 1
        rows.append(row)
        low.append(each)
        high.append(each)
        for sign in (1, -1):
            row = np.zeros(size + 1)
            row[i * count : (i + 1) * count] = sign * np.array(springs) / aim
            row[-1] = -1
            rows.append(row)
            low.append(-np.inf)
            high.append(float(sign))
    for n in range(count):
        row = np.zeros(size + 1)
        row[n:size:count] = 1
        rows.append(row)
        low.append(0)
        high.append(1)
    cost = np.zeros(size + 1)
    cost[-1] = 1
    answer = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.append(np.ones(size), 0),
        bounds=Bounds(0, np.append(np.ones(size), np.inf)),
    )
    taken = answer.x[:-1].reshape(places, count) > 0.5
    return {name: [n for n in range(count) if taken[i][n]] for i, name in enumerate(aims)}
