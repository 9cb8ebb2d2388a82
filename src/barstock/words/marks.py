"""The marks to be made on the work, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barstock.route.statements import Mark, MarkKind
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader

SENTENCES: Mapping[MarkKind, Sentence[Mark]] = {
    MarkKind.SQUARED_END: "Mark the squared end: it is the part's {end} end, and every later "
    "position is read from it",
    MarkKind.TO_THE_STOP: "The part's {end} end goes to the stop; an arrow on the {up} face points "
    "to the {right}",
}


def marks(told: Sequence[Mark], reader: Reader) -> str:
    """The marks as one line."""
    return "; ".join(filled(SENTENCES[one.kind], one, reader) for one in told)
