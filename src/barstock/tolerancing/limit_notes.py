"""Notes of the route on what the plan does not guarantee."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barstock.drawing.dimension_runs import CheckSort
from barstock.route.statements import Note, NoteKind
from barstock.tolerancing.by_tool import ByTool
from barstock.tolerancing.dimension_ends import Asked
from barstock.tolerancing.fits_of_build import Mated
from barstock.tolerancing.guarantee import TINY, Guarantee


def notes(judged: Sequence[Guarantee]) -> Iterator[Note]:
    """The notes, one for each dimension that the plan does not guarantee, with its
    cheapest cure.
    """
    for g in judged:
        if not g.holds:
            yield Note(
                kind=NoteKind.NOT_GUARANTEED,
                names=_named(g.asked),
                lengths={"missing": g.missing, "nominal": g.asked.dimension.nominal},
                remedies=g.cures[0].remedies if g.cures else (),
            )


def tool_notes(judged: Sequence[ByTool]) -> Iterator[Note]:
    """The notes, one for each size with limits of its own that the tool which gives it may not
    hold.
    """
    for g in judged:
        own = g.asked.dimension.stated or g.asked.check.sort is CheckSort.THREAD
        if g.holds is False and own:
            yield Note(
                kind=NoteKind.NOT_GIVEN,
                names=_named(g.asked),
                lengths={"nominal": g.asked.dimension.nominal},
                remedies=(g.mend,) if g.mend else (),
                given=g.given,
            )


def fit_notes(found: Sequence[Mated]) -> Iterator[Note]:
    """The notes, one for each fit that is not guaranteed."""
    for m in found:
        names = {"fit": m.wanted.name}
        if m.lacks > TINY:
            lengths, eaten = {"lacks": m.lacks}, {"eaten": float(m.eaten)}
            yield Note(kind=NoteKind.FIT_LACKS, names=names, lengths=lengths, numbers=eaten)
        elif not m.holds:
            yield Note(kind=NoteKind.FIT_LOOSE, names=names, lengths={"over": m.over})


def _named(asked: Asked) -> dict[str, str]:
    return {
        "part": asked.part,
        "dimension": asked.check.name,
        "text": asked.dimension.text,
    }
