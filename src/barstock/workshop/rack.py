"""Reads bars on the rack as written: '28 x 22 x 300', '2 of round 12 x 500', or a table."""

from __future__ import annotations

import re
from collections.abc import Iterator

from barstock.quantities import SizeError, Unit, parse_dimension
from barstock.reading.faults import nearest
from barstock.reading.fields import validate
from barstock.reading.nodes import Entry, Listing, Node, Table, Text
from barstock.reading.sizes import Sizes
from barstock.workshop.shop import BarStock
from barstock.workshop.shop_fields import BarFields

HOW = "write it like '28 x 22 x 300', 'round 12 x 500' or '2 of 20 x 12 x 500'"

_COUNT = re.compile(r"(\d{1,3})\s+of\s+", re.I | re.ASCII)
ROUND = re.compile(r"(?:round|dia\.?|⌀|ø)\s*", re.I)
"""How the section of a round bar begins."""


def in_mm(section: str, unit: Unit) -> str:
    """The section of a bar as its shop writes it, to be read where bare figures are mm.

    >>> in_mm("2 x 1/2", Unit.INCH), in_mm("50 mm x 1/2", Unit.INCH), in_mm("50 x 12", Unit.MM)
    ('2 in x 1/2 in', '50 mm x 1/2 in', '50 x 12')
    """
    if unit is Unit.MM:
        return section
    sides = (
        side if side[-1:].isalpha() else f"{side} {unit.sign}" for side in section.split(" x ")
    )
    return " x ".join(sides)


def read_rack(table: Table, sizes: Sizes) -> Iterator[BarStock]:
    """Every bar under `rack:`, by material; faults are reported through `sizes`."""
    from barstock.handbook.materials import MATERIALS, material

    for word, entry in table.entries.items():
        try:
            name = material(word).name
        except LookupError:
            what = f"'{word}' is no material known here"
            sizes.report(entry.place, what, nearest(word, MATERIALS))
            continue
        for node in entry.value.items if isinstance(entry.value, Listing) else ():
            bar = _bar(name, node, sizes)
            if bar is not None:
                yield bar


def _bar(material: str, node: Node, sizes: Sizes) -> BarStock | None:
    if isinstance(node, Table):
        return _from_table(material, node, sizes)
    if not isinstance(node, Text):
        return None  # already reported
    counted = _COUNT.match(node.text)
    text = node.text[counted.end() :] if counted else node.text
    section, _, length = text.replace("×", "x").rpartition("x")
    if not section.strip() or not length.strip():
        sizes.report(node.place, f"'{node.text}' is no bar", HOW)
        return None
    count = int(counted[1]) if counted else 1
    long = sizes.length(Text(node.place, length.strip()))
    return _made(material, Text(node.place, section.strip()), long, count, node, sizes)


def _from_table(material: str, table: Table, sizes: Sizes) -> BarStock | None:
    fields, faults = validate(BarFields, table, table.place, "bar")
    if fields is None or faults:  # already reported with the whole file
        return None
    section, length = table.entries["section"].value, table.entries["length"].value
    tolerance = _tolerance(table.entries.get("tolerance"), sizes)
    if not isinstance(section, Text):
        return None
    return _made(
        material,
        Text(section.place, section.text.replace("×", "x").strip()),
        sizes.length(length),
        fields.count,
        table,
        sizes,
        tolerance,
        fields.to_buy,
    )


def _made(
    material: str,
    section: Text,
    length: float | None,
    count: int,
    node: Node,
    sizes: Sizes,
    tolerance: tuple[float, float] = (-0.1, 0.0),
    to_buy: bool = False,
) -> BarStock | None:
    is_round = ROUND.match(section.text)
    sides = [section.text[is_round.end() :]] if is_round else re.split(r"\s*x\s*", section.text)
    if len(sides) != (1 if is_round else 2):
        sizes.report(section.place, f"'{section.text}' is no section of a bar", HOW)
        return None
    read = [sizes.length(Text(section.place, side)) for side in sides]
    found = [side for side in read if side is not None]
    if length is None or len(found) < len(read):
        return None
    if min(*found, length) <= 0 or count < 1:
        sizes.report(node.place, "a bar's sizes and count must be more than 0", "check them")
        return None
    shape = "round" if is_round else "rectangle"
    name = " ".join(section.text.split()) if is_round else " x ".join(sides)
    return BarStock(name, material, shape, found[0], found[-1], length, count, tolerance, to_buy)


def _tolerance(entry: Entry | None, sizes: Sizes) -> tuple[float, float]:
    if entry is None:
        return -0.1, 0.0
    text = entry.value.text if isinstance(entry.value, Text) else ""
    try:
        limits = parse_dimension(f"100 {text}", sizes.unit)
    except SizeError:
        limits = None
    if limits is None or not limits.stated:
        sizes.report(entry.value.place, f"'{text}' is no tolerance", "write it like +0/-0.1")
        return -0.1, 0.0
    return limits.minus, limits.plus
