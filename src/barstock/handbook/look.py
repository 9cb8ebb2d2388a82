"""One way to ask for anything in the handbook: a word in, titled rows with their source out.

Every table's `find` takes the word and the user's unit and gives what it holds under that word;
all that answer are shown. A new table joins by its `find` in FINDERS.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from barstock.handbook import (
    bar_sections,
    brazing,
    drills,
    fits_shown,
    gauge_blocks,
    general_limits,
    heat,
    lists,
    materials,
    pickles,
    speeds,
    spring_wire,
    threads_shown,
)
from barstock.handbook.answer import Found, NotHeldError
from barstock.handbook.answer import printed as printed
from barstock.handbook.threads import threads
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

FINDERS: tuple[Callable[[str, Unit], Iterator[Found]], ...] = (
    threads_shown.find,
    drills.find,
    fits_shown.find,
    general_limits.find,
    materials.find,
    heat.find,
    speeds.find,
    gauge_blocks.find,
    spring_wire.find,
    brazing.find,
    pickles.find,
    bar_sections.find,
    lists.find,
)

EXAMPLES = ("M3", "6 BA", "No 43", "8 H7", "10 H7/g6", "brass", "gauge 112", "18 SWG", "Ag 155",
            "FH10", "ISO 2768-m", "bar 20 x 12", "BA", "number drills", "materials")  # fmt: skip
"""Words to try."""


class UnknownWordError(UnknownError):
    """Raised where no table holds the word."""


def look(word: str, unit: Unit = Unit.MM) -> list[Found]:
    """Everything the handbook holds under a word, lengths shown in `unit`.

    Threads, drills, limits and fits, general limits, materials and their speeds, gauge sets, spring
    wire, brazing alloys, fluxes and pickles, bars; a whole series by its name (BA, UNF). Raises
    UnknownWordError with the nearest words.

    >>> [found.title for found in look("No 43")]
    ['drill No 43']
    """
    clean = " ".join(word.split())
    found: list[Found] = []
    reasons = []
    for find in FINDERS if clean else ():
        try:
            found.extend(find(clean, unit))
        except NotHeldError as reason:
            reasons.append(str(reason))
    if not found:
        wanted = f"try {', '.join(EXAMPLES)}"
        raise UnknownWordError(word, "word", _words(), wanted, "; ".join(reasons))
    return found


def _words() -> Iterator[str]:
    yield from (form.name for form in threads())
    for row in materials.MATERIALS.values():
        yield from (row.name, *row.also)
    yield from (*drills.NUMBERS, *gauge_blocks.GAUGE_SETS, *brazing.ALLOYS, *brazing.FLUXES)
    yield from pickles.BATHS
    yield from EXAMPLES
