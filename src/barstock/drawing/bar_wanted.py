"""What a part says of its bar: the section as written, and the faces that stay as bought."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from barstock.drawing.build import AXES, Face, Fault, Part, Place
from barstock.quantities import SizeError, parse_length, show
from barstock.reading.nodes import Listing, Table, Text
from barstock.workshop.rack import ROUND
from barstock.workshop.shop import BarStock

SAME = 0.005
"""A bar's size equals the part's within this [mm]."""

ALONG = frozenset({Face.FRONT, Face.BACK, Face.BOTTOM, Face.TOP})
"""The faces that run along the bar."""


def side_faults(table: Table, across: Sequence[str], place: Place, part: str) -> list[Fault]:
    """What a part lacks of its section, or says of it besides the diameter."""
    faults = []
    neither = not {"width", "height"} & table.entries.keys()
    bar = table.entries["bar"].value if "bar" in table.entries else None
    if neither and "width" in across and isinstance(bar, Text) and "round" in bar.text:
        mend = "add 'diameter: …', which a round part has instead of width and height"
        return [Fault(place, "'diameter' is missing in a part of round bar", mend, part)]
    for side in ("width", "height"):
        if side in across and side not in table.entries:
            mend = f"add '{side}: …'" + ", or of a round part the 'diameter' alone" * neither
            faults.append(Fault(place, f"'{side}' is missing in a part", mend, part))
        elif side not in across and side in table.entries:
            what, mend = f"a round part has no '{side}'", "give the diameter alone"
            faults.append(Fault(table.entries[side].place, what, mend, part))
    return faults


def section(part: Part) -> tuple[float, float] | None:
    """The two sides of the named bar [mm]; None where its name does not say."""
    sides = re.split(r"\s*[x×]\s*", part.section.strip())
    if len(sides) != 2:
        return None
    try:
        return parse_length(sides[0], part.unit), parse_length(sides[1], part.unit)
    except SizeError:
        return None


def diameter(part: Part) -> float | None:
    """The diameter of the named bar [mm]; None where its name is not of a round one."""
    word = ROUND.match(part.section.strip())
    try:
        return parse_length(part.section.strip()[word.end() :], part.unit) if word else None
    except SizeError:
        return None


def is_named(part: Part, bar: BarStock) -> bool:
    """Is that bar the one the part names, by its sides, in whatever units either is written?"""
    sides, across = section(part), diameter(part)
    if across is not None:
        return bar.shape == "round" and abs(across - bar.width) <= SAME
    if sides is None:
        return _plain(part.section) == _plain(bar.name)
    if bar.shape != "rectangle":
        return False
    both = zip(sorted(sides), sorted((bar.width, bar.height)), strict=True)
    return all(abs(one - other) <= SAME for one, other in both)


def _plain(words: str) -> str:
    return "".join(words.lower().replace("×", "x").split())


def as_the_bar(part: Part, table: Table) -> tuple[Part, list[Fault]]:
    """The part as thick as its bar between faces that stay as bought, and where that is another
    figure than the drawing's, though within its limits, what is to look at."""
    sizes = [part.length, part.width, part.height]
    bar = _bar_sides(part)
    for axis in (1, 2):
        both = {Face.of(axis, -1), Face.of(axis, 1)}
        size, comes = sizes[axis], bar[axis - 1] if bar else None
        if comes is None or not both <= part.as_bought or not size.low <= comes <= size.high:
            continue
        off = comes - size.nominal
        sizes[axis] = replace(size, nominal=comes, minus=size.minus - off, plus=size.plus - off)
    changed = [axis for axis in (1, 2) if abs(sizes[axis].nominal - part.size[axis]) > SAME]
    place = table.entries["bar"].value.place if "bar" in table.entries else part.place
    notes = []
    for axis in changed[:1] if part.round else changed:
        of, drawn = part.sides[axis], show(part.size[axis], part.unit)
        has = show(sizes[axis].nominal, part.unit)
        what = f"the {of} is drawn as {drawn}, and the bar has {has}, which is within its limits"
        notes.append(Fault(place, what, "it stays as the bar comes", part.name, grade="warning"))
    return replace(part, width=sizes[1], height=sizes[2]), notes


def _bar_sides(part: Part) -> tuple[float, float] | None:
    """The named bar's sides as they lie along the part's width and height, nearest to those."""
    sides, across = section(part), diameter(part)
    if part.round or across is not None:
        return (across, across) if part.round and across is not None else None
    if sides is None:
        return None
    ways = (sides, sides[::-1])
    return min(ways, key=lambda way: sum(abs(way[i] - part.size[i + 1]) for i in range(2)))


def bar_faults(part: Part, table: Table) -> list[Fault]:
    """Faces said to stay as bought that cannot, and bars too small for the part."""
    faults = []
    listed = table.entries.get("as bought")
    if listed and isinstance(listed.value, Listing):
        for face in sorted(part.as_bought & {Face.LEFT, Face.RIGHT}):
            what = f"the {face} face is a sawn end and cannot stay as bought"
            faults.append(Fault(listed.value.place, what, f"take '{face}' out", part.name))
    sides, across = section(part), diameter(part)
    if part.round or across is not None:
        return faults + _round_faults(part, table, across)
    if sides is None:
        return faults
    place = table.entries["bar"].value.place
    ways = [sides, sides[::-1]]
    roomy = [way for way in ways if all(way[i] >= part.size[i + 1] - SAME for i in range(2))]
    if not roomy:
        size = " x ".join(show(part.size[axis], part.unit) for axis in (1, 2))
        what = f"the part, {size}, does not come out of a bar {part.section}"
        faults.append(Fault(place, what, "name a larger bar, or check both", part.name))
        return faults
    for axis in (1, 2):
        both = {Face.of(axis, -1), Face.of(axis, 1)}
        if both <= part.as_bought and not any(_same(way, part, axis) for way in roomy):
            size = show(part.size[axis], part.unit)
            what = (
                f"{' and '.join(sorted(both))} cannot both stay as bought: the part's "
                f"{AXES[axis]} is {size}, the bar is {part.section}"
            )
            mend = "name a bar of that size, or let one of the faces be cut"
            faults.append(Fault(place, what, mend, part.name))
    return faults


def _round_faults(part: Part, table: Table, across: float | None) -> list[Fault]:
    """A round part that is not as its bar comes; a part with sides from a round bar."""
    if not part.section or (part.round and across and abs(across - part.size[1]) <= SAME):
        return []
    place = table.entries["bar"].value.place
    if not part.round:
        what = f"a part with width and height does not come out of a bar '{part.section}'"
        mend = "name a bar with two sides, or give the part a 'diameter' instead"
    elif across is None:
        what = f"a round part does not come out of a bar '{part.section}'"
        mend = f"name the round bar: round {part.width.text}"
    elif across < part.size[1]:
        what = f"the part, {show(part.size[1], part.unit)} across, is thicker than its bar"
        mend = "name a larger bar, or check both"
    else:
        what = f"the diameter, {show(part.size[1], part.unit)}, is not that of its bar"
        mend = TURNED
    return [Fault(place, what, mend, part.name)]


TURNED = "a lesser diameter is turned, which is not planned: take a bar of that size"


def _same(way: tuple[float, float], part: Part, axis: int) -> bool:
    return abs(way[axis - 1] - part.size[axis]) <= SAME
