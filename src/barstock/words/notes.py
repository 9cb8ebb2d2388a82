"""The notes on a whole route, in words."""

from __future__ import annotations

from collections.abc import Mapping

from barstock.quantities import counted
from barstock.route.statements import Note, NoteKind
from barstock.words.filling_in import Sentence, filled
from barstock.words.reader import Reader
from barstock.words.remedies import all_of, given


def _in_the_bar(told: Note, reader: Reader) -> str:
    pieces, saves = counted(int(told.numbers["pieces"]), "piece"), told.numbers["minutes"]
    less = f"; this saves {saves:.0f} minutes" if saves >= 0.5 else ""
    return f"{told.names['part']}: cut in the bar, {pieces} at a time{less}."


def _hearth(told: Note, reader: Reader) -> str:
    n = told.numbers
    words = f"{told.names['part']}: {counted(int(n['heats']), 'heat')} each, "
    words += f"{n['minutes']:.0f} minutes at the hearth"
    if n["careful_heats"] > n["heats"]:
        words += (
            f"; one joint at a time would take {n['careful_heats']:.0f}, "
            f"{n['careful_minutes']:.0f} minutes"
        )
    return f"{words}."


def _not_guaranteed(told: Note, reader: Reader) -> str:
    missing = reader.length(told.lengths["missing"])
    mend = all_of(told.remedies, reader) or "this shop has no way to hold it"
    return f"Not guaranteed: {told.names['part']}, {size_of(told, reader)}, by {missing}; {mend}."


def _not_given(told: Note, reader: Reader) -> str:
    gives = given(told.given, reader) if told.given else ""
    mend = all_of(told.remedies, reader)
    return f"Not guaranteed: {told.names['part']}, {size_of(told, reader)}: {gives}; {mend}."


def _fit_lacks(told: Note, reader: Reader) -> str:
    eaten = "; the paint eats it" if told.numbers["eaten"] else ""
    return f"Fit not guaranteed: {told.names['fit']} lacks {_fit(told, 'lacks', reader)}{eaten}."


def _fit_loose(told: Note, reader: Reader) -> str:
    return f"Fit not guaranteed: {told.names['fit']} may be {_fit(told, 'over', reader)} too loose."


def _fit(told: Note, name: str, reader: Reader) -> str:
    return reader.fine(told.lengths[name])


def size_of(told: Note, reader: Reader) -> str:
    """The name of a dimension, and its size as the drawing has it."""
    size = told.names["text"] or reader.length(told.lengths["nominal"])
    return f"{told.names['dimension'].replace('/', ': ', 1)} {size}"


SENTENCES: Mapping[NoteKind, Sentence[Note]] = {
    NoteKind.HELD_ALIKE: "Keeping alike setups together saves {minutes:.0f} minutes of setting up.",
    NoteKind.IN_THE_BAR: _in_the_bar,
    NoteKind.DONE_STAYS: "What is done already stays as it was done, at the head of the order.",
    NoteKind.HEARTH: _hearth,
    NoteKind.NOT_GUARANTEED: _not_guaranteed,
    NoteKind.NOT_GIVEN: _not_given,
    NoteKind.FIT_LACKS: _fit_lacks,
    NoteKind.FIT_LOOSE: _fit_loose,
}


def note(told: Note, reader: Reader) -> str:
    """One note as a sentence."""
    return filled(SENTENCES[told.kind], told, reader)
