"""The shopping in words: what to buy or borrow."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from barstock.handbook.threads import thread
from barstock.quantities import INCH, Unit, show, show_fraction
from barstock.route.statements import Item, ItemKind
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader


def _bar(told: Item, reader: Reader) -> str:
    """Whole millimetres, or inches as a saw is set; never less than is wanted."""
    if reader.unit is Unit.INCH:
        total = reader.sawn(told.lengths["total"])
        each = ", ".join(reader.sawn(mm).removesuffix(" in") for mm in told.pieces) + " in"
    else:
        total = reader.at_least(told.lengths["total"])
        each = ", ".join(f"{ceil(mm - 1e-9)}" for mm in told.pieces) + " mm"
    return f"{total} of {told.names['material']} {told.names['bar']} (lengths of {each})"


def _board(told: Item, reader: Reader) -> str:
    """Rounded up to a board that is easily had."""
    long, wide = (reader.at_least(told.lengths[name], 10.0, INCH / 2) for name in ("long", "wide"))
    thick = reader.length(told.lengths["thick"])
    return f"flat board to cut into, {long.partition(' ')[0]} x {wide.partition(' ')[0]} x {thick}"


def screw_size(named: str, mm: float) -> str:
    """A screw as it is designated: a metric one in millimetres, others in inches, without units.

    >>> screw_size("M3", 12.0), screw_size("6 BA", 19.05)
    ('M3 x 12', '6 BA x 3/4')
    """
    return f"{named} x {stock_length(named, mm).rpartition(' ')[0]}"


def stock_length(named: str, mm: float) -> str:
    """The length of a screw of a thread as it is sold, in that thread's own unit."""
    metric = thread(named).series.startswith("metric")
    return show(mm, Unit.MM) if metric else show_fraction(mm)


def _screws(told: Item, _: Reader) -> str:
    size = screw_size(told.names["thread"], told.numbers["stock"])
    return f"{told.numbers['count']:g} {told.names['material']} screws {size}"


SENTENCES: Mapping[ItemKind, Sentence[Item]] = {
    ItemKind.TOOL: "{tool}",
    ItemKind.FLUTED: "{tool}, flutes at least {flute:at least} long",
    ItemKind.BAR: _bar,
    ItemKind.TAP: "tap {thread}",
    ItemKind.TOUCH_GAUGE: "gauge to touch cutters on, {size}: a block or a pin of that size",
    ItemKind.EDGE_FINDER: "edge finder",
    ItemKind.PINS: "a pin of {go} that enters and one of {not_go} that does not, or a plug gauge",
    ItemKind.INSTRUMENT: "{instrument}",
    ItemKind.BOARD: _board,
    ItemKind.SCREWS: _screws,
}


def item(told: Item, reader: Reader) -> str:
    """One thing to buy or borrow, with the setups it is for."""
    words = filled(SENTENCES[told.kind], told, reader)
    many = "s" * (len(told.setups) > 1)
    return words + (f", for setup{many} {', '.join(told.setups)}" if told.setups else "")
