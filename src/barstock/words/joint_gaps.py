"""The gaps of soldered joints in words: what sets them."""

from __future__ import annotations

from collections.abc import Mapping

from barstock.route import GapKind, GapSetBy, GapSize
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader
from barstock.words.size_figures import limits


def _slope(told: GapSetBy, reader: Reader) -> str:
    return (
        f"square to the slope of {told.numbers['slope']:.1f}°: from touching, slide the pieces "
        f"apart along the {told.names['along']} by {_left(told, reader)}, and try it with a feeler"
    )


def _one_in_the_other(told: GapSetBy, reader: Reader) -> str:
    return f"one piece lies in the other; {_by_sizes(told, reader)}"


def _fixture(told: GapSetBy, reader: Reader) -> str:
    how = "by the holes of the fixture, screws in the middle of theirs: try it with a feeler"
    return f"{how}; {_by_sizes(told, reader)}"


SENTENCES: Mapping[GapKind, Sentence[GapSetBy]] = {
    GapKind.SLOPE: _slope,
    GapKind.ONE_IN_THE_OTHER: _one_in_the_other,
    GapKind.SHIMS: "set at the bench: the screws pull the faces together, their clearance holes "
    "leave room; lay shims of {shim} between, or raise three centre-punch dots as high",
    GapKind.FIXTURE: _fixture,
    GapKind.AS_WRITTEN: "as written: no chain of sizes leads to it; try it with a feeler",
}


def gap_set_by(told: GapSetBy, reader: Reader) -> str:
    """The words for what sets a gap."""
    return filled(SENTENCES[told.kind], told, reader)


def _by_sizes(told: GapSetBy, reader: Reader) -> str:
    side = " on each side" if any(size.half for size in told.sizes) else ""
    sizes = ", ".join(_size(size, reader) for size in told.sizes)
    return f"the sizes leave {_left(told, reader)}{side}: {sizes}"


def _left(told: GapSetBy, reader: Reader) -> str:
    """What is left, least and most, to a hundredth of a mm."""
    least, most = (reader.hundredth(told.lengths[name]) for name in ("least", "most"))
    return f"{least.partition(' ')[0]} to {most}"


def _size(told: GapSize, reader: Reader) -> str:
    """A size with what it does to the gap: as the drawing has it where the reader reads its unit.

    A size that is written nowhere is told by its figure.
    """
    if told.unit is not reader.unit:
        size = limits(told.low, told.high, reader.unit)
    else:
        size = told.text or f"{told.nominal / told.unit.scale:g}"
    name = told.name or "pitch of the fixture"
    return f"{'+' if told.opens else '-'} {name} {size}"
