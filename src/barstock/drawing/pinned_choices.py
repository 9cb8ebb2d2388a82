"""Reads the pins of a build: choices of the plan that are to stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from barstock.drawing.bar_names import end_name, face_name
from barstock.drawing.build import Face, Pin, within
from barstock.drawing.build_fields import PinFields
from barstock.drawing.sizes_by_name import written_features
from barstock.reading.faults import Fault, Place, nearest
from barstock.reading.fields import names_of
from barstock.reading.nodes import Listing, Node, Table, Text


def read_pins(table: Table) -> tuple[tuple[Pin, ...], list[Fault]]:
    """The pins written in a build's table, and those that name what there is not.

    What is wrong with their form is found by reading.fields.
    """
    if "pins" not in table.entries:
        return (), []
    written = table.entries["pins"].value
    pins = list(_pins(written)) if isinstance(written, Table) else []
    features = written_features(table)
    return tuple(pins), [fault for pin in pins for fault in _faults(pin, features)]


def _pins(written: Table) -> Iterator[Pin]:
    rules = names_of(PinFields)
    for rule, entry in written.entries.items():
        node = entry.value if rule in rules else None
        if isinstance(node, Table):
            for name, each in node.entries.items():
                yield Pin(rule, (name,), _text(each.value), each.place)
        for item in node.items if isinstance(node, Listing) else ():
            if isinstance(item, Listing):
                yield Pin(rule, tuple(map(_text, item.items)), "", item.place)
            elif rule == "broken":
                yield Pin(rule, (), _text(item), item.place)
            else:
                yield Pin(rule, (_text(item),), "", item.place)


def _text(node: Node) -> str:
    return node.text if isinstance(node, Text) else ""


def _faults(pin: Pin, features: Mapping[str, list[str]]) -> Iterator[Fault]:
    """features: of each part, by name."""
    assert pin.place is not None
    for name in pin.names:
        yield from _name_faults(name, pin.place, features)
    owners = {_part(name, features) for name in pin.names}
    if pin.rule == "together" and (len(pin.names) < 2 or len(owners) > 1):
        what = "'together' wants two or more operations of one part"
        yield Fault(pin.place, what, "write [part/feature, part/other feature]")


def _name_faults(name: str, place: Place, features: Mapping[str, list[str]]) -> Iterator[Fault]:
    part = _part(name, features)
    if part is None:
        first = name.partition("/")[0]
        what = f"a pin names '{first}', no part of the build"
        yield Fault(place, what, nearest(first, features))
    elif name != part:
        drawn, rest = features[part], name.removeprefix(f"{part}/")
        bar = [end_name(f, drawn) if f.axis == 0 else face_name(f, drawn) for f in Face]
        valid = [*drawn, *bar]
        if not any(within(one, rest) for one in valid):
            first = rest.partition("/")[0]
            what = f"a pin names '{first}', no feature of '{part}'"
            yield Fault(place, what, nearest(first, valid))


def _part(name: str, features: Mapping[str, list[str]]) -> str | None:
    """The part that a name is in."""
    return max((part for part in features if within(part, name)), key=len, default=None)
