"""Lettering at the end of a leader line: diameters, radii, bevels, angles."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from barstock.sheets.dimensions import ARROW
from barstock.sheets.joint_symbols import BALLOON, JOINT, balloon, joint_sign, tail
from barstock.sheets.labels import lines
from barstock.sheets.sheet import (
    Area,
    Ink,
    Layer,
    Mark,
    Patch,
    Text,
    around,
    extent,
    line,
    width_of,
)
from barstock.solids.strokes import Arc, Flat

LANDING = 1.5
LEADING = 4.2  # from line to line of lettering [mm]


@dataclass(frozen=True)
class Pointer:
    """A label and what it points at: the rim of a circle of `radius` [mm on paper] about `at`.

    radius 0: `at` itself. way: where the leader would best come from [degrees], None = anywhere.
    sign: a style of sheets/joint_symbols.py that is drawn at its end.
    """

    words: str
    at: Flat
    radius: float = 0.0
    way: float | None = None
    arrow: bool = True
    sign: str = ""


def lead(pointers: list[Pointer], view: Area, taken: list[Ink]) -> list[Ink]:
    """The labels placed, each where it overlaps nothing, near what it points at, the sheet kept
    small.
    """
    ink: list[Ink] = []
    blocks = [extent(one) for one in taken]
    for pointer in sorted(pointers, key=lambda p: -p.at[1]):
        drawn = _best(pointer, view, blocks).ink()
        ink += drawn
        blocks += [extent(one) for one in drawn]
    return ink


def _best(pointer: Pointer, view: Area, blocks: list[Area]) -> _Way:
    """The cheapest way; those are tried first that cost least before anything is in their way."""
    room = around(
        [(b.left, b.bottom) for b in (view, *blocks)] + [(b.right, b.top) for b in (view, *blocks)]
    )
    ordered = sorted(_ways(pointer), key=lambda way: way.least)
    best, cost = ordered[0], math.inf
    for way in ordered:
        if way.least >= cost:
            break
        found = way.cost(view, blocks, room)
        if found < cost:
            best, cost = way, found
    return best


@dataclass(frozen=True)
class _Way:
    """One way of leading a label: arrow's tip, elbow, and to which side it is lettered."""

    pointer: Pointer
    tip: Flat
    elbow: Flat
    side: int
    lean: float

    def texts(self) -> list[Text]:
        x, y = self.elbow[0] + self.side * LANDING, self.elbow[1]
        anchor = "start" if self.side > 0 else "end"
        if self.pointer.sign == BALLOON:
            _, (x, y) = balloon(self.elbow, self.side)
            return [Text(self.pointer.words, (x, y - 1.25), anchor="middle")]
        if self.pointer.sign:
            return [Text(self.pointer.words, tail(self.elbow, self.side), anchor=anchor)]
        rows = lines(self.pointer.words)
        return [
            Text(words, (x, y + 0.8 - i * LEADING), anchor=anchor) for i, words in enumerate(rows)
        ]

    def ink(self) -> list[Ink]:
        texts = self.texts()
        if self.pointer.sign:
            return [*texts, line(self.tip, self.elbow, Layer.DIMENSION), *self._sign()]
        run = self.side * (LANDING + width_of(texts[0].words))
        ink: list[Ink] = [
            *texts,
            line(self.tip, self.elbow, Layer.DIMENSION),
            line(self.elbow, (self.elbow[0] + run, self.elbow[1]), Layer.DIMENSION),
        ]
        if self.pointer.arrow:
            ink.append(arrow(self.tip, self.elbow))
        return ink

    def _sign(self) -> list[Ink]:
        if self.pointer.sign == BALLOON:
            dot = [Mark(Arc(self.tip, r), Layer.DIMENSION) for r in (0.15, 0.3, 0.45)]
            return [balloon(self.elbow, self.side)[0], *dot]
        form = self.pointer.sign.removeprefix(JOINT)
        return [arrow(self.tip, self.elbow), *joint_sign(form, self.elbow, self.side)]

    @property
    def least(self) -> float:
        """What it costs on empty paper."""
        return math.dist(self.tip, self.elbow) + self.lean

    def cost(self, view: Area, blocks: list[Area], room: Area) -> float:
        """Short, over nothing, and the sheet's `room` grown little."""
        boxes = [extent(text).grown(0.6) for text in self.texts()]
        if self.pointer.sign:
            boxes = [around([self.elbow, *((b.left, b.bottom - 1) for b in boxes),
                             *((b.right, b.top + 1) for b in boxes)])]  # fmt: skip
        hits = sum(box.meets(block) for box in boxes for block in blocks)
        inside = sum(box.meets(view.grown(1.5)) for box in boxes)
        texts = [b for b in blocks if min(b.width, b.height) > 1.5]
        crossed = sum(_inside(p, block) for p in self._along() for block in texts)
        grown = sum(
            max(0.0, room.left - b.left)
            + max(0.0, b.right - room.right)
            + max(0.0, room.bottom - b.bottom)
            + max(0.0, b.top - room.top)
            for b in boxes
        )
        return self.least + 0.8 * grown + 90 * hits + 60 * inside + 6 * crossed

    def _along(self) -> Iterator[Flat]:
        for i in range(1, 20):
            k = i / 20
            x = self.tip[0] + k * (self.elbow[0] - self.tip[0])
            yield (x, self.tip[1] + k * (self.elbow[1] - self.tip[1]))


def _inside(p: Flat, area: Area) -> bool:
    return area.left < p[0] < area.right and area.bottom < p[1] < area.top


def _ways(pointer: Pointer) -> Iterator[_Way]:
    for angle in range(0, 360, 15):
        steep = abs(math.sin(math.radians(angle)))
        lean = 0.0 if 0.45 < steep < 0.9 else 4.0 if 0.01 < steep < 0.99 else 12.0
        if pointer.way is not None:
            off = abs((angle - pointer.way + 180) % 360 - 180)
            if off > 75:
                continue
            lean = off / 10
        dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        x, y = pointer.at
        tip = (x + pointer.radius * dx, y + pointer.radius * dy)
        for length in range(5, 90, 3):
            elbow = (tip[0] + length * dx, tip[1] + length * dy)
            for side in (1, -1) if abs(dx) < 0.3 else ((1,) if dx > 0 else (-1,)):
                yield _Way(pointer, tip, elbow, side, lean)


def arrow(tip: Flat, toward: Flat) -> Patch:
    """An arrowhead at `tip` whose tail lies toward a point."""
    length = math.dist(tip, toward)
    dx, dy = (toward[0] - tip[0]) / length, (toward[1] - tip[1]) / length
    x, y = tip[0] + ARROW * dx, tip[1] + ARROW * dy
    return Patch((tip, (x - 0.42 * dy, y + 0.42 * dx), (x + 0.42 * dy, y - 0.42 * dx)))
