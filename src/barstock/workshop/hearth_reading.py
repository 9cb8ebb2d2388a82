"""Reads the hearth as written: torch, bricks, filler rods, fluxes, pickle; and the
screws in stock.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from barstock.handbook.brazing import CadmiumError, brazing_alloy, flux
from barstock.handbook.pickles import bath_named
from barstock.handbook.threads import thread
from barstock.reading.amounts import Amount, parse_amount, read_amount
from barstock.reading.nodes import Listing, Node, Table, Text
from barstock.reading.sizes import Sizes
from barstock.workshop.series import series
from barstock.workshop.shop import FillerRod, Hearth, Pickle, StockScrews
from barstock.workshop.shop_fields import HearthFields

POWER = Amount("power", {"kW": 1000.0, "W": 1.0}, "7.7 kW")
GAS = Amount("rate of gas", {"g/h": 1.0, "kg/h": 1000.0}, "500 g/h")


def read_hearth(table: Table, fields: HearthFields, sizes: Sizes) -> Hearth:
    """The hearth written in a table; faults are reported through `sizes`."""
    return Hearth(
        power=_amount(table, "power", POWER, sizes),
        gas=_amount(table, "gas", GAS, sizes),
        bricks=fields.bricks,
        rods=tuple(_rods(table, sizes)),
        fluxes=tuple(_fluxes(table, sizes)),
        pickle=_pickle(table, fields, sizes),
    )


def read_screws(table: Table, sizes: Sizes) -> Iterator[StockScrews]:
    """The screws in stock, by thread; faults are reported through `sizes`."""
    for name, entry in table.entries.items():
        words = name.split()
        of = "brass" if "brass" in words else "steel"
        word = " ".join(w for w in words if w not in ("brass", "steel"))
        try:
            called = thread(word).name
        except LookupError as wrong:
            sizes.report(entry.place, str(wrong.args[0]), "")
            continue
        lengths = {size.value for node in _items(entry.value) for size in series(node, sizes)}
        yield StockScrews(called, tuple(sorted(lengths)), of)


def _amount(table: Table, name: str, of: Amount, sizes: Sizes) -> float:
    entry = table.entries.get(name)
    if entry is None:
        return 0.0
    value = read_amount(entry.value, partial(parse_amount, of=of), sizes.report)
    if value == 0:
        sizes.report(entry.value.place, f"'{name}' must be more than 0", "check the figure")
    return value or 0.0


def _rods(table: Table, sizes: Sizes) -> Iterator[FillerRod]:
    entry = table.entries.get("filler rods")
    if entry is None or not isinstance(entry.value, Table):
        return
    for name, inside in entry.value.entries.items():
        try:
            alloy = brazing_alloy(name).name
        except (CadmiumError, LookupError) as wrong:
            sizes.report(inside.place, str(wrong.args[0]), "")
            continue
        for node in _items(inside.value):
            yield from (FillerRod(alloy, size.value) for size in series(node, sizes))


def _fluxes(table: Table, sizes: Sizes) -> Iterator[str]:
    entry = table.entries.get("fluxes")
    for node in _items(entry.value) if entry else ():
        if isinstance(node, Text):
            try:
                yield flux(node.text).name
            except LookupError as wrong:
                sizes.report(node.place, str(wrong.args[0]), "")


def _pickle(table: Table, fields: HearthFields, sizes: Sizes) -> Pickle | None:
    written, entry = fields.pickle, table.entries.get("pickle")
    if written is None or entry is None:
        return None
    place = entry.value.entries["bath"].place if isinstance(entry.value, Table) else entry.place
    try:
        return Pickle(bath_named(written.bath).name, written.heated, written.takes)
    except LookupError as wrong:
        sizes.report(place, str(wrong.args[0]), "")
        return None


def _items(node: Node) -> tuple[Node, ...]:
    return node.items if isinstance(node, Listing) else (node,)
