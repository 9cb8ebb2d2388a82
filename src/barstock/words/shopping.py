"""The shopping in words: what to buy or borrow."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from barstock.quantities import INCH, Unit
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
}


def item(told: Item, reader: Reader) -> str:
    """One thing to buy or borrow, with the setups it is for."""
    words = filled(SENTENCES[told.kind], told, reader)
    many = "s" * (len(told.setups) > 1)
    return words + (f", for setup{many} {', '.join(told.setups)}" if told.setups else "")
