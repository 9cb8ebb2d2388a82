"""Finds which blocks make each of several heights at once, none shared, fewest in all.

`Reachable` tells the least count for each height; here the blocks are found. At every turn the
stack with the fewest blocks to choose from is taken up, as one does by hand with the last digit.
Where many stacks crowd one set, the rest is left to a constraint solver; both are exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.measuring.reachable_heights import MOST, Reachable

PATIENCE = 3_000  # places tried by hand's way before the solver takes over
SOLVER_WORK = 20.0  # by the solver's own count, some seconds on a usual machine


class StackError(ValueError):
    """Raised where no stack can be built as asked; says why and what to do."""


class _OutOfPatienceError(Exception):
    """Raised where too many places were tried."""


@dataclass(frozen=True)
class _Open:
    """A stack not yet full: which one, what height remains [units], with how many blocks."""

    which: int
    height: int
    count: int
    barred: int


def together(reach: Reachable, heights: Sequence[int]) -> list[int]:
    """The blocks (as bits) for each height, fewest in all, none shared. Raises StackError."""
    try:
        found = _by_hand(reach, heights)
    except _OutOfPatienceError:
        found = _by_solver(reach, heights)
    if found is None:
        raise StackError(
            "the set makes each of these sizes, but not all at once without sharing a block; "
            "build them one after another"
        )
    return found


def _by_hand(reach: Reachable, heights: Sequence[int]) -> list[int] | None:
    least = [reach.fewest(h) for h in heights]
    left = [PATIENCE]
    for extra in range(MOST * len(heights) + 1):
        if sum(least) + extra > len(reach.blocks):
            break
        for more in _shares(extra, len(heights)):
            counts = [a + b for a, b in zip(least, more, strict=True)]
            if max(counts) > MOST:
                continue
            start = [
                _Open(n, h, c, 0) for n, (h, c) in enumerate(zip(heights, counts, strict=True))
            ]
            found = _fill(reach, reach.whole, start, left)
            if found is not None:
                return [found.get(n, 0) for n in range(len(heights))]
    return None


def _by_solver(reach: Reachable, heights: Sequence[int]) -> list[int] | None:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    places = range(len(reach.blocks))
    chosen = [[model.new_bool_var("") for _ in places] for _ in heights]
    for n in places:
        model.add_at_most_one(taken[n] for taken in chosen)
    for height, taken in zip(heights, chosen, strict=True):
        model.add(sum(reach.blocks[n] * taken[n] for n in places) == height)
        model.add_linear_constraint(sum(taken), reach.fewest(height), MOST)
        for modulus, needed in reach.residues:
            if height % modulus:
                model.add_bool_or(taken[n] for n in places if needed >> n & 1)
    model.minimize(sum(sum(taken) for taken in chosen))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1  # with more, which stacks are found is chance
    solver.parameters.max_deterministic_time = SOLVER_WORK
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    if status != cp_model.OPTIMAL:
        raise StackError(
            f"{len(heights)} stacks at once are too many to settle for this set; ask for fewer"
        )
    return [sum(1 << n for n in places if solver.value(taken[n])) for taken in chosen]


def _shares(extra: int, among: int) -> Iterator[tuple[int, ...]]:
    """Every way of giving some more blocks to that many stacks."""
    if among == 1:
        yield (extra,)
        return
    for n in range(extra + 1):
        for rest in _shares(extra - n, among - 1):
            yield (n, *rest)


def _fill(
    reach: Reachable, free: int, open_: list[_Open], left: list[int]
) -> dict[int, int] | None:
    """Complete all open stacks from the free blocks, the most constrained first."""
    open_ = [o for o in open_ if o.count]
    if not open_:
        return {}
    left[0] -= 1
    if left[0] < 0:
        raise _OutOfPatienceError
    for modulus, needed in reach.residues:
        wanting = sum(1 for o in open_ if o.height % modulus)
        if wanting > (needed & free).bit_count():
            return None
    choices = [(_candidates(reach, free, o), o) for o in open_]
    blocks, chosen = min(choices, key=lambda c: len(c[0]))
    others = [o for o in open_ if o is not chosen]
    barred = chosen.barred
    for n in blocks:
        if barred >> n & 1:
            continue
        rest = _Open(chosen.which, chosen.height - reach.blocks[n], chosen.count - 1, barred)
        found = _fill(reach, free & ~(1 << n), [rest, *others], left)
        if found is not None:
            found[chosen.which] = found.get(chosen.which, 0) | 1 << n
            return found
        for twin, size in enumerate(reach.blocks):  # equal blocks would fail alike
            if size == reach.blocks[n]:
                barred |= 1 << twin
    return None


def _candidates(reach: Reachable, free: int, one: _Open) -> list[int]:
    """Blocks one of which an open stack must have, greatest first."""
    mask = next((needed for m, needed in reach.residues if one.height % m), reach.whole)
    mask &= free & ~one.barred
    found = []
    while mask:
        n = mask.bit_length() - 1
        mask ^= 1 << n
        if reach.makes(one.height - reach.blocks[n], one.count - 1):
            found.append(n)
    return found
