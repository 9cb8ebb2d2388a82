"""Reads where things are: positions from faces and centre lines, and patterns of them.

A position is {left: 15 ±0.05, width: centre}: for each axis the distance from one of its faces, or
the centre line with or without an offset (centre, centre +2). Patterns: `row`, `grid`, `circle`
round a `centre` (or, row and grid, onward `from` their first place), `mirrored` points, and lists.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import NoReturn

from barstock.drawing.build import AXES, Face, Part
from barstock.drawing.questions import Located, Point, Ring, Spread
from barstock.quantities import Dimension, Length, show
from barstock.reading.faults import Place, nearest
from barstock.reading.nodes import Entry, Listing, Node, Table, Text, sort

PATTERNS = ("row", "grid", "circle", "mirrored")
MOST = 500
"""Most places in one pattern."""

SAME = 0.005
"""Two ways of giving one place agree within this [mm]."""

_CENTRE = re.compile(r"cent(?:re|er)(?: line)?(?:\s+of\s+\w+)?\s*(?=$|[+±-])(.*)$", re.I)
_EITHER_WAY = re.compile(r"(?:±|\+\s*/?\s*-)")


class NoPosition(Exception):  # noqa: N818
    """Raised where what is written is no position; its fault has been reported."""


@dataclass(frozen=True)
class Positions:
    """Reads positions on one face of a part.

    size, angle: read a dimension at a node (None after reporting a fault). report: takes the place
    of a fault, what is wrong, and how to mend it.
    """

    part: Part
    size: Callable[[Node], Dimension | None]
    angle: Callable[[Node], Dimension | None]
    report: Callable[[Place, str, str], None]

    def points(self, entry: Entry, face: Face) -> list[Point] | None:
        """All the places of a position, list or pattern, in the face's two axes."""
        axes = tuple(axis for axis in range(3) if axis != face.axis)
        try:
            found = list(self._points(entry.value, entry.place, axes))
        except NoPosition:
            return None
        return found if self._inside(entry.place, axes, found) else None

    def offset(self, entry: Entry, axis: int) -> Located | None:
        """The place along one axis."""
        try:
            found = self._located(self._table(entry.value, entry.place), entry.place, (axis,))[axis]
        except NoPosition:
            return None
        return found if self._in_part(entry.place, axis, found) else None

    def marks(self, entry: Entry) -> dict[int, Located]:
        """The places along whichever axes are given; none after reporting a fault."""
        try:
            return self._given(self._table(entry.value, entry.place), (0, 1, 2))
        except NoPosition:
            return {}

    # -- positions ------------------------------------------------------------------------------

    def _points(self, node: Node, place: Place, axes: tuple[int, ...]) -> Iterator[Point]:
        if isinstance(node, Listing):
            if not node.items:
                self._wrong(place, "the list of positions is empty", "give a position")
            for item in node.items:
                yield from self._points(item, item.place, axes)
            return
        table = self._table(node, place)
        pattern = [name for name in PATTERNS if name in table.entries]
        if len(pattern) > 1:
            what = f"'{pattern[0]}' and '{pattern[1]}' stand in one pattern"
            self._wrong(table.entries[pattern[1]].place, what, "write a list of two patterns")
        if not pattern:
            yield self._point(table, place, axes)
            return
        read = {
            "row": self._row,
            "grid": self._grid,
            "circle": self._circle,
            "mirrored": self._mirrored,
        }[pattern[0]]
        yield from read(table, table.entries[pattern[0]], axes)

    def _point(self, table: Table, place: Place, axes: tuple[int, ...]) -> Point:
        found = self._located(table, place, axes)
        return Point(found[axes[0]], found[axes[1]])

    def _located(self, table: Table, place: Place, axes: tuple[int, ...]) -> dict[int, Located]:
        found = self._given(table, axes)
        for axis in axes:
            if axis not in found:
                what = f"the place along the {AXES[axis]} is missing"
                self._wrong(place, what, f"add {_either((axis,))}")
        return found

    def _given(self, table: Table, axes: tuple[int, ...]) -> dict[int, Located]:
        faces = [face for face in Face if face.axis in axes]
        valid = [*(AXES[axis] for axis in axes), *faces]
        found: dict[int, Located] = {}
        for name, entry in table.entries.items():
            if name not in valid:
                if name in AXES or name in list(Face):
                    what = f"a place here is not given from '{name}'"
                    self._wrong(entry.place, what, f"give {_either(axes)}")
                self._wrong(entry.place, f"'{name}' is no position", nearest(name, valid))
            here = self._along(name, entry)
            axis = AXES.index(name) if name in AXES else Face(name).axis
            before = found.setdefault(axis, here)
            gap = abs(before.value - here.value)
            if gap > SAME:
                what = (
                    f"the place along the {AXES[axis]} is given twice and the two disagree "
                    f"by {Length(gap):.3f}"
                )
                self._wrong(entry.place, what, "keep the one the drawing gives")
        return found

    def _along(self, name: str, entry: Entry) -> Located:
        node = entry.value
        if not isinstance(node, Text):
            self._wrong(node.place, f"{sort(node)} stands where a distance is wanted", "give one")
        centre = _CENTRE.match(" ".join(node.text.split()))
        if name in AXES:
            axis = AXES.index(name)
            if centre is None:
                low, high = Face.of(axis, -1), Face.of(axis, 1)
                what = f"'{name}: {node.text}' does not say from where"
                mend = f"write '{low}: …', '{high}: …' or '{name}: centre'"
                self._wrong(node.place, what, mend)
            offset = Dimension(0.0, text="centre", unit=self.part.unit)
            if centre[1]:
                own = "0 " if _EITHER_WAY.match(centre[1]) else ""
                offset = self._read(Text(node.place, own + centre[1]))
            return Located(self.part.size[axis] / 2 + offset.nominal, "centre", _size_of(offset))
        face = Face(name)
        if centre is not None:
            mend = f"write '{AXES[face.axis]}: {node.text}'"
            self._wrong(node.place, f"a centre line is not measured from the {face}", mend)
        size = self._read(node)
        whole = self.part.size[face.axis]
        value = whole - size.nominal if face.sign > 0 else size.nominal
        return Located(round(value, 9), str(face), size)

    # -- patterns -------------------------------------------------------------------------------

    def _row(self, table: Table, entry: Entry, axes: tuple[int, ...]) -> Iterator[Point]:
        row = self._table(entry.value, entry.place)
        self._only(row, ("count", "pitch", "span", "along"))
        along = self._need(row, entry.place, "along").value
        words = [AXES[axis] for axis in axes]
        word = along.text if isinstance(along, Text) else ""
        if word not in words:
            mend = nearest(word, words)
            self._wrong(along.place, f"{sort(along)} is no way for a row on this face", mend)
        steps = {AXES.index(word): self._steps(row, entry.place)}
        yield from self._rows(table, "row", entry.place, axes, steps)

    def _grid(self, table: Table, entry: Entry, axes: tuple[int, ...]) -> Iterator[Point]:
        grid = self._table(entry.value, entry.place)
        words = tuple(AXES[axis] for axis in axes)
        self._only(grid, words)
        steps = {}
        for axis, word in zip(axes, words, strict=True):
            one = self._need(grid, entry.place, word)
            row = self._table(one.value, one.place)
            self._only(row, ("count", "pitch", "span"))
            steps[axis] = self._steps(row, one.place)
        yield from self._rows(table, "grid", entry.place, axes, steps)

    def _steps(self, row: Table, place: Place) -> tuple[Spread, Dimension]:
        """How a row is spread as the drawing gives it, and its pitch."""
        count = self._count(row, place)
        given = [name for name in ("pitch", "span") if name in row.entries]
        if not given:
            mend = "add 'pitch: …', or 'span: …' from the first to the last"
            self._wrong(place, "the pitch of the row is missing", mend)
        found, spreads = [], []
        for name in given:
            size = self._read(row.entries[name].value)
            if size.nominal <= 0:
                self._wrong(row.entries[name].value.place, f"a {name} must be more than 0", "")
            share = 1 if name == "pitch" else max(count - 1, 1)
            found.append(_part_of(size, 1 / share))
            spreads.append(Spread(name, size, share, count))
        if abs(found[0].nominal - found[-1].nominal) > SAME:
            place = row.entries["span"].value.place
            what = (
                f"pitch and span disagree: the span makes the pitch {Length(found[-1].nominal):.3f}"
            )
            self._wrong(place, what, "keep the one the drawing gives")
        return spreads[0], found[0]

    def _rows(
        self,
        table: Table,
        pattern: str,
        place: Place,
        axes: tuple[int, ...],
        steps: dict[int, tuple[Spread, Dimension]],
    ) -> Iterator[Point]:
        self._only(table, (pattern, "centre", "from"))
        given = [name for name in ("centre", "from") if name in table.entries]
        if len(given) != 1:
            what = f"the {pattern} has {'both a centre and a start' if given else 'no place'}"
            mend = "give 'centre: {…}' for its middle or 'from: {…}' for its first place"
            self._wrong(place, what, mend)
        anchor = table.entries[given[0]]
        base = self._point(self._table(anchor.value, anchor.place), anchor.place, axes)
        runs: list[list[Located]] = []
        for axis, start in zip(axes, (base.u, base.v), strict=True):
            if axis not in steps:
                runs.append([start])
                continue
            spread, pitch = steps[axis]
            middle = (spread.count - 1) / 2 if given == ["centre"] else 0.0
            sign = -1 if start.given_from in (Face.RIGHT, Face.BACK, Face.TOP) else 1
            places = [
                self._moved(axis, start, pitch, sign * (i - middle)) for i in range(spread.count)
            ]
            if spread.count > 1:
                places = [replace(one, spread=spread) for one in places]
            runs.append(places)
        yield from (Point(u, v) for u in runs[0] for v in runs[1])

    def _circle(self, table: Table, entry: Entry, axes: tuple[int, ...]) -> Iterator[Point]:
        self._only(table, ("circle", "centre"))
        circle = self._table(entry.value, entry.place)
        self._only(circle, ("count", "diameter", "start"))
        count = self._count(circle, entry.place)
        size = self._read(self._need(circle, entry.place, "diameter").value)
        if size.nominal <= 0:
            at = circle.entries["diameter"].value.place
            self._wrong(at, "the circle's diameter must be more than 0", "")
        start = self.angle(circle.entries["start"].value) if "start" in circle.entries else None
        if start is None and "start" in circle.entries:
            raise NoPosition
        anchor = self._need(table, entry.place, "centre")
        base = self._point(self._table(anchor.value, anchor.place), anchor.place, axes)
        first = start.nominal if start else 0.0
        ring = Ring(size, base.u, base.v, first)
        for i in range(count):
            turn = math.radians(first + 360 * i / count)
            u = self._moved(axes[0], base.u, _part_of(size, 0.5), _clean(math.cos(turn)))
            v = self._moved(axes[1], base.v, _part_of(size, 0.5), _clean(math.sin(turn)))
            yield Point(u, v, ring)

    def _mirrored(self, table: Table, entry: Entry, axes: tuple[int, ...]) -> Iterator[Point]:
        self._only(table, ("mirrored", "points"))
        mirrored = self._table(entry.value, entry.place)
        self._only(mirrored, ("about",))
        about = self._need(mirrored, entry.place, "about").value
        words = [AXES[axis] for axis in axes]
        mirrors = []
        for node in about.items if isinstance(about, Listing) else (about,):
            text = node.text if isinstance(node, Text) else ""
            word = re.sub(r"^cent(?:re|er) of\s+(?:the\s+)?", "", text.strip(), flags=re.I)
            if word not in words:
                mend = f"say 'centre of {words[0]}' or 'centre of {words[1]}'"
                self._wrong(node.place, f"{sort(node)} is no centre line of this face", mend)
            mirrors.append(words.index(word))
        source = self._need(table, entry.place, "points")
        points = list(self._points(source.value, source.place, axes))
        for which in mirrors:
            points += [self._mirror(point, which, axes) for point in points]
        yield from points

    def _mirror(self, point: Point, which: int, axes: tuple[int, ...]) -> Point:
        axis = axes[which]
        here = (point.u, point.v)[which]
        across = here.given_from
        if across != "centre":
            across = str(Face(across).opposite)
        there = replace(here, value=self.part.size[axis] - here.value, given_from=across)
        alone = replace(point, ring=None)
        return replace(alone, u=there) if which == 0 else replace(alone, v=there)

    def _moved(self, axis: int, base: Located, step: Dimension, steps: float) -> Located:
        """A place so many steps further along the axis."""
        if not steps or not step.nominal:
            return base
        value = base.value + steps * step.nominal
        if base.given_from == "centre":
            distance = abs(value - self.part.size[axis] / 2)
        else:
            face = Face(base.given_from)
            distance = self.part.size[axis] - value if face.sign > 0 else value
        text = show(distance, self.part.unit).rpartition(" ")[0]
        limits = abs(steps) * step.plus + base.dimension.plus
        below = abs(steps) * step.minus + base.dimension.minus
        stated = step.stated or base.dimension.stated
        size = Dimension(round(distance, 9), below, limits, text, self.part.unit, stated)
        return Located(round(value, 9), base.given_from, size)

    # -- checking -------------------------------------------------------------------------------

    def _inside(self, place: Place, axes: tuple[int, ...], points: list[Point]) -> bool:
        if len(points) > MOST:
            self.report(place, f"there are {len(points)} places here", f"give at most {MOST}")
            return False
        spots = [((p.u, p.v)[i], axis) for p in points for i, axis in enumerate(axes)]
        worst = max(spots, key=lambda spot: self._out(spot[1], spot[0].value))
        return self._in_part(place, worst[1], worst[0])

    def _in_part(self, place: Place, axis: int, spot: Located) -> bool:
        out = self._out(axis, spot.value)
        if out > max(self.part.dimension(axis).plus, 1e-6):
            what = f"the place lies {Length(out):.3f} outside the part's {AXES[axis]}"
            self.report(place, what, "check the figure and the face it is given from")
            return False
        return True

    def _out(self, axis: int, value: float) -> float:
        return max(-value, value - self.part.size[axis])

    def _count(self, table: Table, place: Place) -> int:
        node = self._need(table, place, "count").value
        text = node.text.strip() if isinstance(node, Text) else ""
        if not (text.isascii() and text.isdigit() and 1 <= len(text) <= 4 and int(text) > 0):
            self._wrong(node.place, f"{sort(node)} is no count", "give a whole number from 1 up")
        if int(text) > MOST:
            self._wrong(node.place, f"{text} is more than a pattern holds", f"at most {MOST}")
        return int(text)

    def _read(self, node: Node) -> Dimension:
        size = self.size(node)
        if size is None:
            raise NoPosition
        return size.aimed()

    def _table(self, node: Node, place: Place) -> Table:
        if not isinstance(node, Table):
            mend = "write it like {left: 15, width: centre}"
            self._wrong(node.place, f"{sort(node)} stands where a position is wanted", mend)
        return node

    def _need(self, table: Table, place: Place, name: str) -> Entry:
        if name not in table.entries:
            self._wrong(place, f"'{name}' is missing", f"add '{name}: …'")
        return table.entries[name]

    def _only(self, table: Table, names: tuple[str, ...]) -> None:
        for name, entry in table.entries.items():
            if name not in names:
                self._wrong(entry.place, f"'{name}' does not belong here", nearest(name, names))

    def _wrong(self, place: Place, what: str, mend: str) -> NoReturn:
        self.report(place, what, mend)
        raise NoPosition


def _either(axes: tuple[int, ...]) -> str:
    names = [f"{Face.of(axis, -1)}, {Face.of(axis, 1)} or {AXES[axis]}" for axis in axes]
    return "; and ".join(names)


def _size_of(offset: Dimension) -> Dimension:
    """A signed offset as the distance that is measured."""
    if offset.nominal >= 0:
        return offset
    return replace(
        offset,
        nominal=-offset.nominal,
        minus=-offset.plus,
        plus=-offset.minus,
        text=offset.text.lstrip("- "),
    )


def _part_of(size: Dimension, share: float) -> Dimension:
    return replace(
        size, nominal=size.nominal * share, minus=size.minus * share, plus=size.plus * share
    )


def _clean(value: float) -> float:
    """A sine or cosine free of the float's last digits."""
    return round(value, 12) + 0.0
