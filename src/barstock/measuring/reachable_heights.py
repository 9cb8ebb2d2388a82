"""Counts once for a set which heights its blocks can make, and with how few, exactly.

Heights are whole numbers of the set's own unit (the greatest common divisor of its blocks), so
nothing here is rounded. For each count k a row of bits says which heights k different blocks can
make; it is built block by block (the textbook subset-sum recurrence).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache, reduce
from math import gcd

GRAIN = 1e-5
"""Heights are counted in grains of 10 nm, which holds 0.0005 mm and 0.0001 inch alike [mm]."""

MOST = 10
"""Blocks in one stack at most; more are not wrung together (common practice)."""


@dataclass(frozen=True)
class Reachable:
    """The heights that a set of blocks can make. blocks: in units of `unit` grains, smallest first.

    rows: for each count of blocks from 0 to MOST, the heights they make as bits. any: all of
    them. residues: (modulus, blocks it does not divide), fewest blocks first: a height that the
    modulus does not divide needs at least one of those blocks.
    """

    unit: int
    blocks: tuple[int, ...]
    rows: tuple[bytes, ...]
    any: int
    residues: tuple[tuple[int, int], ...]
    whole: int

    def makes(self, height: int, count: int) -> bool:
        """Do some `count` of the set's blocks make the height [units]?"""
        row = self.rows[count]
        byte = height >> 3
        return 0 <= byte < len(row) and bool(row[byte] >> (height & 7) & 1)

    def fewest(self, height: int) -> int:
        """The least number of blocks that make a height that can be made [units]."""
        return next(k for k in range(1, MOST + 1) if self.makes(height, k))

    def below(self, height: int) -> int:
        """The greatest height not above this one that can be made [units]; 0 if there is none."""
        if height <= 0:
            return 0
        return (self.any & ((1 << (height + 1)) - 1)).bit_length() - 1 if self.any else 0

    def above(self, height: int) -> int:
        """The least height not below this one that can be made [units]; 0 if there is none."""
        start = max(height, 1)
        rest = self.any >> start
        return start + (rest & -rest).bit_length() - 1 if rest else 0


@lru_cache(maxsize=32)
def reachable(grains: tuple[int, ...]) -> Reachable:
    """What blocks of these sizes [grains], in rising order, can make."""
    unit = reduce(gcd, grains)
    blocks = tuple(g // unit for g in grains)
    rows = [0] * (MOST + 1)
    rows[0] = 1
    for n, block in enumerate(blocks):
        for count in range(min(n + 1, MOST), 0, -1):
            rows[count] |= rows[count - 1] << block
    every = reduce(int.__or__, rows[1:]) | 1
    packed = tuple(row.to_bytes(row.bit_length() // 8 + 1, "little") for row in rows)
    return Reachable(unit, blocks, packed, every, tuple(_residues(blocks)), (1 << len(blocks)) - 1)


def _residues(blocks: tuple[int, ...]) -> list[tuple[int, int]]:
    """A chain of moduli, each a multiple of the one before, with the blocks it leaves over."""
    left_over: dict[int, int] = {}
    for m in {gcd(a, b) for a in blocks for b in blocks}:
        left_over[m] = sum(1 << n for n, b in enumerate(blocks) if b % m)
    chain: list[tuple[int, int]] = []
    last = 1
    for m in sorted(left_over, key=lambda m: (left_over[m].bit_count(), -m)):
        if left_over[m] and m % last == 0 and (not chain or left_over[m] != chain[-1][1]):
            chain.append((m, left_over[m]))
            last = m
    return chain
