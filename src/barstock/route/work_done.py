"""The work as it stands: what is done and what is spoiled, read from a small file.

    done:                          # or a list, of what is done on all
      axlebox/saw/off: all
      axlebox/left end/square: 3   # good ones that have it: bars for work in the bar, else pieces
      horn frame/heat 1: 2         # what is made at the hearth stays as well
    spoiled:
      axlebox: 1                   # pieces spoiled since the beginning

JSON is read as well: it is YAML too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from barstock.reading.faults import Fault, Place, in_order, nearest
from barstock.reading.nodes import Entry, Listing, Node, Table, Text, read_nodes, sort
from barstock.route import Route

NAMES = ("done", "spoiled")
ALL = 10**6
"""More than there are: done on every one."""


@dataclass(frozen=True)
class Standing:
    """The work as it stands. done: copies that have it, by operation; spoiled: pieces, by part;
    places: where written.
    """

    done: Mapping[str, int] = field(default_factory=dict)
    spoiled: Mapping[str, int] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)

    def where(self, operation: str) -> str:
        """The place where an operation is written, to begin a complaint with."""
        place = self.places.get(operation)
        return f"{place}: " if place else ""


def read_standing(path: Path, route: Route) -> tuple[Standing, tuple[Fault, ...]]:
    """The standing of a route's work as a file gives it, and the file's faults."""
    table, faults = read_nodes(path)
    if table is None:
        return Standing(), in_order(faults)
    operations = [o.id for s in route.setups for o in s.operations]
    operations += [one.heat_id(heat.number) for one in route.fabrications for heat in one.heats]
    parts = [bar.part for bar in route.bars] + [one.part for one in route.fabrications]
    found: dict[str, dict[str, int]] = {name: {} for name in NAMES}
    places: dict[str, Place] = {}
    for name, entry in table.entries.items():
        if name not in NAMES:
            faults.append(Fault(entry.place, f"there is no '{name}' here", nearest(name, NAMES)))
            continue
        valid, what = (operations, "operation") if name == "done" else (parts, "part")
        for one, place, count in _counts(entry):
            if one not in valid:
                mend = nearest(one, valid)
                faults.append(Fault(place, f"the route has no {what} '{one}'", mend))
            elif count is None:
                said = f"'{one}' wants a whole number" + (" or 'all'" if name == "done" else "")
                faults.append(Fault(place, said, "say how many good ones have it"))
            else:
                found[name][one], places[one] = count, place
    return Standing(found["done"], found["spoiled"], places), in_order(faults)


def _counts(entry: Entry) -> Iterator[tuple[str, Place, int | None]]:
    """Names with their counts; None where that is no count."""
    node = entry.value
    if isinstance(node, Listing):
        for item in node.items:
            yield (item.text if isinstance(item, Text) else sort(item)), item.place, ALL
    elif isinstance(node, Table):
        for name, each in node.entries.items():
            yield name, each.place, _count(each.value)
    elif node.text:
        yield node.text, node.place, ALL


def _count(node: Node) -> int | None:
    text = node.text.strip() if isinstance(node, Text) else ""
    if text == "all":
        return ALL
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else None
