"""Gauge stacks: the fewest blocks that make a size are found exactly and proven least.

Sizes of blocks come from the handbook's sets or from what the shop owns, in millimetres (an inch
set's too). Fewest is proven: `reachable` knows for every height the least count of blocks that
make it, and the search here only finds which ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from barstock.measuring.many_stacks import StackError, together
from barstock.measuring.reachable_heights import GRAIN, Reachable, reachable

__all__ = ["Stack", "StackError", "limit_pair", "stack", "stacks"]


@dataclass(frozen=True)
class Stack:
    """A stack of blocks [mm]. error: height made less size wanted, 0 where exact [mm].

    below, above: where the set cannot make the size, the nearest heights it can, each a stack of
    its own (None where there is none on that side); `blocks` then holds the nearer of the two.
    """

    size: float
    blocks: tuple[float, ...]
    error: float = 0.0
    below: Stack | None = None
    above: Stack | None = None

    @property
    def made(self) -> float:
        """The height of the stack [mm]."""
        return round(sum(self.blocks), 6)


def stack(
    size: float,
    sizes: Sequence[float],
    *,
    protectors: tuple[float, float] | None = None,
    used: Sequence[float] = (),
) -> Stack:
    """The fewest blocks from `sizes` that make `size` [mm], greatest first.

    protectors: wear blocks for the two ends, beyond the set [mm]. used: blocks of the set that are
    in use elsewhere [mm]. At most ten blocks besides the protectors. Raises StackError.

    >>> stack(41.125, [1.005, 1.01, 1.12, 1.5, 2, 9, 10, 25, 30]).blocks
    (30.0, 9.0, 1.12, 1.005)
    >>> near = stack(1.7, [1, 1.5, 2])
    >>> near.blocks, near.error, near.below.made, near.above.made
    ((1.5,), -0.2, 1.5, 2.0)
    """
    return stacks([size], sizes, protectors=protectors, used=used)[0]


def stacks(
    wanted: Sequence[float],
    sizes: Sequence[float],
    *,
    protectors: tuple[float, float] | None = None,
    used: Sequence[float] = (),
) -> list[Stack]:
    """The stacks for several sizes at once [mm], no block in two of them, fewest blocks in all.

    A size that the set cannot make is made as near as it can be, alone. protectors: one pair, for
    every stack. Raises StackError where no block is left, or not all stacks stand at once.

    >>> [s.blocks for s in stacks([3.0, 3.0], [1, 2, 3, 4])]
    [(3.0,), (2.0, 1.0)]
    """
    ends = _grains(sum(protectors)) if protectors else 0
    for size in wanted:
        if not 0 < size < 10_000:
            raise StackError(f"{size:g} mm is no height for a stack; give it in mm above zero")
        if _grains(size) <= ends:
            raise StackError(f"the protectors alone are {ends * GRAIN:g} mm, {size:g} is less")
    blocks = _left(sizes, used)
    reach = reachable(blocks)
    aims = [_grains(size) - ends for size in wanted]
    near = [(reach.below(a // reach.unit), reach.above(-(-a // reach.unit))) for a in aims]
    heights = [_nearer(reach, a, *n) for a, n in zip(aims, near, strict=True)]
    found = together(reach, heights)
    result = []
    for size, aim, height, (low, high), mask in zip(
        wanted, aims, heights, near, found, strict=True
    ):
        error = round((height * reach.unit - aim) * GRAIN, 5) + 0.0
        sides: list[Stack | None] = [None, None]
        if low != high:
            for n, side in enumerate((low, high)):
                if side:
                    alone = together(reach, [side])[0]
                    off = round((side * reach.unit - aim) * GRAIN, 5)
                    sides[n] = Stack(size, _list(reach, alone, protectors), off)
        result.append(Stack(size, _list(reach, mask, protectors), error, sides[0], sides[1]))
    return result


def limit_pair(
    low: float,
    high: float,
    sizes: Sequence[float],
    *,
    protectors: tuple[float, float] | None = None,
    together: bool = True,
) -> tuple[Stack, Stack]:
    """The stacks for the limits of a slot [mm]: the first must enter, the second must not.

    Where the set cannot make a limit, its stack is taken inside the limits, never outside.
    together: both at hand at once, sharing no block. Raises StackError.

    >>> [p.blocks for p in limit_pair(8.0, 8.05, [1, 1.05, 2, 6, 7, 8])]
    [(8.0,), (7.0, 1.05)]
    """
    if low > high:
        raise StackError(f"the low limit {low:g} mm is above the high one {high:g} mm")
    first, second = (stack(s, sizes, protectors=protectors) for s in (low, high))
    inside = (first.above or first, second.below or second)
    if any(low - GRAIN / 2 > s.made or s.made > high + GRAIN / 2 for s in inside):
        raise StackError(f"the set makes nothing between {low:g} and {high:g} mm")
    if not together:
        return _as(inside[0], low), _as(inside[1], high)
    both = stacks([s.made for s in inside], sizes, protectors=protectors)
    return _as(both[0], low), _as(both[1], high)


def _as(made: Stack, size: float) -> Stack:
    return Stack(size, made.blocks, round(made.made - size, 6) + 0.0)


def _grains(mm: float) -> int:
    return round(mm / GRAIN)


def _left(sizes: Sequence[float], used: Sequence[float]) -> tuple[int, ...]:
    left = sorted(_grains(s) for s in sizes)
    if left and left[0] <= 0:
        raise StackError("a block's size must be above zero")
    for block in used:
        if _grains(block) not in left:
            raise StackError(f"the block {block:g} mm said to be in use is not in the set")
        left.remove(_grains(block))
    if not left:
        raise StackError("no block is left to build with; list the set's sizes")
    return tuple(left)


def _nearer(reach: Reachable, aim: int, low: int, high: int) -> int:
    if not low or not high:
        return low or high
    return low if aim - low * reach.unit <= high * reach.unit - aim else high


def _list(reach: Reachable, mask: int, ends: tuple[float, float] | None) -> tuple[float, ...]:
    chosen = [b for n, b in enumerate(reach.blocks) if mask >> n & 1]
    inner = [round(b * reach.unit * GRAIN, 5) for b in reversed(chosen)]
    return (ends[0], *inner, ends[1]) if ends else tuple(inner)
