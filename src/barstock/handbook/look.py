"""One way to ask for anything in the handbook: a word in, titled rows with their source out.

A table's `find` takes the word and the user's unit and gives what it holds under that word; all
that answer are shown. A table is found by its module's `find`, so that a new one is a new file
here and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from barstock import handbook
from barstock.handbook import brazing, drills, gauge_blocks, materials, pickles
from barstock.handbook.answer import Found, NotHeldError
from barstock.handbook.answer import printed as printed
from barstock.handbook.threads import threads
from barstock.handbook.unknown_word import UnknownError
from barstock.quantities import Unit

FIRST = ("threads_shown", "drills", "fits_shown", "general_limits", "brazing", "materials")
"""These tables answer first, in this order, the others after them by name."""

EXAMPLES = ("M3", "6 BA", "No 43", "8 H7", "10 H7/g6", "brass", "counterbore M4", "circlip 10 mm",
            "bearing 608", "gauge 112", "18 SWG", "Ag 155", "FH10", "ISO 2768-m", "bar 20 x 12",
            "BA", "number drills", "materials", "countersunk 6", "nut 2 BA", "washer M5", "MT2",
            "R8", "taper pin 3 mm", "key 12 mm", "o-ring 012", "divide 17", "tempering",
            "sheet 18")  # fmt: skip
"""Words to try."""


class UnknownWordError(UnknownError):
    """Raised where no table holds the word."""


@cache
def tables() -> tuple[ModuleType, ...]:
    """The modules of all tables that can be asked, in the order in which they answer."""
    names = sorted(
        (found.name for found in iter_modules(handbook.__path__) if found.name != "look"),
        key=lambda name: (FIRST.index(name) if name in FIRST else len(FIRST), name),
    )
    modules = (import_module(f"{handbook.__name__}.{name}") for name in names)
    return tuple(module for module in modules if hasattr(module, "find"))


def look(word: str, unit: Unit = Unit.MM) -> list[Found]:
    """Everything the handbook holds under a word, lengths shown in `unit`.

    Threads, drills, limits and fits, general limits, materials and their speeds, gauge sets, spring
    wire, brazing alloys, fluxes and pickles, bars, screw heads, nuts and washers, tapers, keys,
    circlips, O-rings, bearings, dividing, tempering, gauges of sheet; a whole series by its name
    (BA, UNF). Raises UnknownWordError with the nearest words.

    >>> [found.title for found in look("No 43")]
    ['drill No 43']
    """
    clean = " ".join(word.split())
    found: list[Found] = []
    reasons = []
    for table in tables() if clean else ():
        find: Callable[[str, Unit], Iterator[Found]] = table.find
        try:
            found.extend(find(clean, unit))
        except NotHeldError as reason:
            reasons.append(str(reason))
    if not found:
        wanted = f"try {', '.join(EXAMPLES[:9])}, …"
        raise UnknownWordError(word, "word", _words(), wanted, "; ".join(reasons))
    return found


def _words() -> Iterator[str]:
    yield from (form.name for form in threads())
    for row in materials.MATERIALS.values():
        yield from (row.name, *row.also)
    yield from (*drills.NUMBERS, *gauge_blocks.GAUGE_SETS, *brazing.ALLOYS, *brazing.FLUXES)
    yield from pickles.BATHS
    yield from EXAMPLES
