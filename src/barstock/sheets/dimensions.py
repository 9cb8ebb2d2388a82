"""Straight dimensions stacked away from a view (ISO 129-1): short ones inside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from barstock.sheets.sheet import Area, Ink, Layer, Patch, Text, around, extent, line, width_of
from barstock.solids.strokes import Flat

FIRST = 9.0  # first dimension line from the view [mm]
TIER = 6.5  # from one dimension line to the next [mm]
ARROW = 2.5
CLEAR = 1.0  # between the outline and an extension line [mm]
BEYOND = 1.5  # extension line past the dimension line [mm]


@dataclass(frozen=True)
class Straight:
    """A dimension between two points of a view [mm on paper], level or upright."""

    words: str
    start: Flat
    end: Flat


@dataclass(frozen=True)
class Side:
    """A side of a view that dimensions are stacked on: "above", "below", "left" or "right"."""

    name: str

    @property
    def level(self) -> bool:
        """Do the side's dimension lines run level?"""
        return self.name in ("above", "below")

    @property
    def sign(self) -> int:
        """The way outward: +1 where that is up or to the right."""
        return 1 if self.name in ("above", "right") else -1

    @property
    def opposite(self) -> Side:
        """The side across the view."""
        across = {"above": "below", "below": "above", "left": "right", "right": "left"}
        return Side(across[self.name])

    def parts(self, p: Flat) -> Flat:
        """The parts of a point: (along the dimension lines, outward)."""
        along, out = p if self.level else (p[1], p[0])
        return (along, out * self.sign)

    def point(self, along: float, out: float) -> Flat:
        """The point that `parts` takes apart, put together again."""
        return (along, out * self.sign) if self.level else (out * self.sign, along)

    def edge(self, view: Area) -> float:
        """How far outward the view reaches."""
        return max(self.parts(p)[1] for p in ((view.left, view.bottom), (view.right, view.top)))


@dataclass(frozen=True)
class _Laid:
    """A dimension in a tier: its ends along the line, where its lettering starts and ends."""

    low: float
    high: float
    text: tuple[float, float]

    @property
    def span(self) -> tuple[float, float]:
        """All the room that it takes along its line."""
        out = 2 * ARROW if self.high - self.low < 2 * ARROW + 1 else 0.0
        return (min(self.low - out, self.text[0]), max(self.high + out, self.text[1]))


def stack(items: Iterable[Straight], view: Area, side: Side, taken: list[Ink]) -> list[Ink]:
    """The dimensions drawn on one side of the view, lettered clear of what is `taken`."""
    blocks = [extent(one) for one in taken]
    ordered = sorted(items, key=lambda item: (_length(item, side), item.words))
    ends = [side.parts(p)[0] for item in ordered for p in (item.start, item.end)]
    tiers: list[list[_Laid]] = []
    ink: list[Ink] = []
    for item in ordered:
        laid, tier = _place(item, side, tiers, ends, side.edge(view) + FIRST, blocks)
        while len(tiers) <= tier:
            tiers.append([])
        tiers[tier].append(laid)
        ink += _drawn(item, laid, side, side.edge(view) + FIRST + tier * TIER)
    return ink


def _length(item: Straight, side: Side) -> float:
    return round(abs(side.parts(item.start)[0] - side.parts(item.end)[0]), 3)


def _place(
    item: Straight,
    side: Side,
    tiers: list[list[_Laid]],
    ends: list[float],
    first: float,
    blocks: list[Area],
) -> tuple[_Laid, int]:
    """The innermost tier with room; lettering in the middle, else past whichever end is freer."""
    low, high = sorted((side.parts(item.start)[0], side.parts(item.end)[0]))
    n = width_of(item.words)
    middle = (low + high) / 2
    past = 2 * ARROW + 1
    if n + 2 * ARROW + 2 <= high - low:
        ways = [(middle - n / 2, middle + n / 2)]
    else:
        ways = [(high + past, high + past + n), (low - past - n, low - past)]
    best: tuple[float, _Laid, int] | None = None
    for tier in range(len(tiers) + 2):
        for text in ways:
            laid = _Laid(low, high, text)
            a, b = laid.span
            if tier < len(tiers) and any(_overlap((a, b), o.span) for o in tiers[tier]):
                continue
            crossed = sum(text[0] - 0.5 < e < text[1] + 0.5 for e in set(ends))
            out = first + tier * TIER
            box = around([side.point(text[0], out - 3), side.point(text[1], out + 3)])
            cost = tier + 1.4 * crossed + 3 * any(box.meets(block) for block in blocks)
            if best is None or cost < best[0]:
                best = (cost, laid, tier)
    assert best is not None
    return best[1], best[2]


def _overlap(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[0] < b[1] + 1 and b[0] < a[1] + 1


def _drawn(item: Straight, laid: _Laid, side: Side, out: float) -> list[Ink]:
    ink: list[Ink] = []
    for p in (item.start, item.end):
        along, here = side.parts(p)
        if out - here > CLEAR:
            a, b = side.point(along, here + CLEAR), side.point(along, out + BEYOND)
            ink.append(line(a, b, Layer.DIMENSION))
    inside = laid.high - laid.low >= 2 * ARROW + 1
    for at, way in ((laid.low, 1), (laid.high, -1)):
        ink.append(_arrow(side, at, out, way if inside else -way))
    spill = 0.0 if inside else 2 * ARROW
    low, high = min(laid.low - spill, laid.text[0]), max(laid.high + spill, laid.text[1])
    ink.append(line(side.point(low, out), side.point(high, out), Layer.DIMENSION))
    x, y = side.point(sum(laid.text) / 2, out)
    if side.level:
        ink.append(Text(item.words, (x, y + 0.8)))
    else:
        ink.append(Text(item.words, (x - 0.8, y), turn=90.0))
    return ink


def _arrow(side: Side, at: float, out: float, way: int) -> Patch:
    base = at + way * ARROW
    corners = ((at, out), (base, out + 0.42), (base, out - 0.42))
    return Patch(tuple(side.point(a, o) for a, o in corners))
