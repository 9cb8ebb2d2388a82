"""Chooses the bar that a part is cut from, and how the part lies in it. Lengths in mm."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import ceil

from barstock.drawing.bar_wanted import is_named
from barstock.drawing.build import Face, Part
from barstock.machines.saw import sawing_machine
from barstock.quantities import Dimension, Length, to_saw
from barstock.workshop.shop import BarStock, Workshop

CLEAN_UP = 0.75  # left on each sawn end to be squared; common practice
SAME = 0.005  # sizes closer than this are the same size


Section = tuple[str, bool]
"""A bar's name, and whether its width lies along the part's height."""


class NoBarError(ValueError):
    """Raised where no bar on the rack, nor one that could be bought, holds the part."""


@dataclass(frozen=True)
class Stock:
    """The bar chosen for a part.

    y, z: extremes of the raw section in the part's frame. turned: the section's width lies along
    the part's height. to_face: the faces that must be cut because the bar is larger there.
    """

    bar: BarStock
    y: tuple[float, float]
    z: tuple[float, float]
    turned: bool
    to_face: tuple[Face, ...]

    @property
    def section(self) -> Section:
        """The bar, and which way round the part lies in it."""
        return self.bar.name, self.turned

    @property
    def waste(self) -> float:
        """Section area cut to chips [mm2]."""
        return (self.y[1] - self.y[0]) * (self.z[1] - self.z[0])


def _excess(
    part: Part, axis: int, raw: float
) -> tuple[tuple[float, float], tuple[Face, ...]] | None:
    """Extremes along an axis of a section `raw` wide, and the faces to cut; None if it won't do."""
    size = part.size[axis]
    low, high = Face.of(axis, -1), Face.of(axis, 1)
    spare = raw - size
    if abs(spare) <= SAME:
        return (0.0, size), ()
    if spare < 0:
        return None
    kept = [f for f in (low, high) if f in part.as_bought]
    if len(kept) == 2:
        return None
    if kept == [low]:
        return (0.0, size + spare), (high,)
    if kept == [high]:
        return (-spare, size), (low,)
    if spare <= 2.0 or spare - 1.0 > size:
        # of thin work half on either side, or too little is left to hold for the second
        return (-spare / 2, size + spare / 2), (low, high)
    return (-1.0, size + spare - 1.0), (low, high)


def fits(part: Part, bar: BarStock) -> list[Stock]:
    """The ways (none, one or both ways round) the part can lie in that bar."""
    if (bar.shape == "round") != part.round or bar.material != part.material:
        return []
    if part.round:
        same = abs(bar.width - part.size[1]) <= SAME
        return [Stock(bar, (0.0, part.size[1]), (0.0, part.size[1]), False, ())] * same
    found = []
    for turned in (False, True):
        wide, high = (bar.height, bar.width) if turned else (bar.width, bar.height)
        y, z = _excess(part, 1, wide), _excess(part, 2, high)
        if y and z:
            found.append(Stock(bar, y[0], z[0], turned, (*y[1], *z[1])))
        if abs(wide - high) <= SAME:
            break
    return found


def sawn(part: Part) -> float:
    """The length a piece of the part is sawn to, as the saw's stop is set [mm]."""
    return to_saw(part.size[0] + 2 * CLEAN_UP, part.unit)


def bars_for(part: Part, workshop: Workshop) -> list[Stock]:
    """The ways that the part can lie in the named bar, or in those on the rack: what leaves least
    to cut away first, and what is wider than any vise opens last."""
    offered = [bar for bar in workshop.rack if not part.section or is_named(part, bar)]
    ways = [s for bar in offered for s in fits(part, bar) if bar.length >= sawn(part)]
    widest = max([*part.size[1:], *(vise.opening for vise in workshop.vises)])

    def loss(s: Stock) -> tuple[bool, int, float, bool, bool]:
        wide = max(s.y[1] - s.y[0], s.z[1] - s.z[0]) > widest
        return wide, len(s.to_face), s.waste, s.bar.to_buy, s.turned

    return sorted(ways, key=loss)


def choose_bar(part: Part, workshop: Workshop, but: Collection[Section] = ()) -> Stock:
    """The first of the bars for a part, but for those that will not do.

    Raises NoBarError with what the rack offers and what would do.
    """
    for stock in bars_for(part, workshop):
        if stock.section not in but:
            return stock
    have = sorted(
        {
            f"{b.name}, {Length(b.length):g} long"
            for b in workshop.rack
            if b.material == part.material
        }
    )
    named = f" The bar {part.section!r} named for it does not do." if part.section else ""
    wide, high = part.size[1:]
    over_end = Length(wide, high, between=" x ")
    asked = f"is round {Length(wide):g}" if part.round else f"holds {over_end:g}"
    raise NoBarError(
        f"{part.name}: no {part.material} bar {asked}, {Length(part.size[0]):g} long.{named} On "
        f"the rack in {part.material}: {', '.join(have) or 'none'}."
    )


def bought(part: Part, axis: int, workshop: Workshop) -> Dimension:
    """The limits of a part's overall size; the bar's own where both its faces stay as bought."""
    size = part.dimension(axis)
    as_bar = {Face.of(axis, -1), Face.of(axis, 1)} <= part.as_bought and part.made is None
    if not as_bar:
        return size
    try:
        return Dimension(size.nominal, *choose_bar(part, workshop).bar.tolerance, size.text)
    except NoBarError:
        return size


@dataclass(frozen=True)
class Lengths:
    """How a bar is cut up: `count` lengths of `pieces` each (the last with `last`).

    each: sawn length of a piece; length: of one bar length as sawn from the rack.
    """

    pieces: int
    count: int
    last: int
    each: float
    length: float
    kerf: float


def cut_up(part: Part, stock: Stock, workshop: Workshop, longest: float) -> Lengths:
    """Share the part's copies over bar lengths of at most `longest` [mm] (at least one piece)."""
    kerf = sawing_machine(workshop).kerf
    each = sawn(part)
    room = min(longest, stock.bar.length)
    most = max(1, int((room + kerf) // (each + kerf)))
    count = ceil(part.copies / most)
    pieces = ceil(part.copies / count)
    count = ceil(part.copies / pieces)
    last = part.copies - pieces * (count - 1)
    needed = pieces * (each + kerf) - kerf
    length = max(needed, min(to_saw(needed, part.unit), room))
    return Lengths(pieces, count, last, each, length, kerf)


@dataclass(frozen=True)
class Lacking:
    """What the rack has too little of: a bar, its lengths still wanted, and all of them together
    with the saw's cuts [mm]."""

    bar: BarStock
    lengths: tuple[float, ...]
    total: float


def lacking(lengths: Sequence[tuple[BarStock, float, int]], kerf: float) -> list[Lacking]:
    """What the rack has too little of.

    lengths: bars with the length [mm] and the count of what is to be sawn from each. Cut greatest
    first, each from the shortest rest that holds it.
    """
    found = []
    for name in dict.fromkeys((bar.name, bar.material) for bar, _, _ in lengths):
        mine = [(bar, size, n) for bar, size, n in lengths if (bar.name, bar.material) == name]
        bar = mine[0][0]
        rests = [bar.length] * (0 if bar.to_buy else bar.count)
        short: list[float] = []
        for size in sorted((s for _, s, n in mine for _ in range(n)), reverse=True):
            fit = min((r for r in rests if r >= size), default=None)
            if fit is None:
                short.append(size)
                continue
            rests.remove(fit)
            rests.append(fit - size - kerf)
        if short:
            total = sum(short) + kerf * len(short)
            found.append(Lacking(bar, tuple(short), total))
    return found
