"""A fault says what is wrong in a file, where it stands, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from barstock.reading.trade_words import meant, plain


@dataclass(frozen=True)
class Place:
    """A place in a file (line and column from 1)."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what the user wrote.

    grade: "error" stops the plan, "warning" does not, "lacking" is something the drawing still
    needs. what: what is wrong; mend: what to do about it.
    """

    place: Place
    what: str
    mend: str = ""
    part: str = ""
    feature: str = ""
    grade: str = "error"


def fault_line(fault: Fault) -> str:
    """The fault in one line.

    >>> fault_line(Fault(Place("build.yaml", 3, 5), "the depth is missing", "give a depth", "box"))
    "build.yaml:3:5: error: part 'box': the depth is missing; give a depth"
    """
    named = [f"part '{fault.part}'"] if fault.part else []
    named += [f"feature '{fault.feature}'"] if fault.feature else []
    about = f"{', '.join(named)}: " if named else ""
    mend = f"; {fault.mend}" if fault.mend else ""
    return f"{fault.place}: {fault.grade}: {about}{fault.what}{mend}"


def in_order(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The faults in the order of their places, each once."""
    once = dict.fromkeys(faults)
    return tuple(sorted(once, key=lambda f: (f.place.file, f.place.line, f.place.column, f.what)))


def nearest(word: str, valid: Iterable[str]) -> str:
    """What to write instead of an unknown word: what the trade means by it, else the nearest valid
    one, else all of them.

    >>> nearest("botom", ["top", "bottom"])
    "did you mean 'bottom'?"
    >>> nearest("rebate", ["hole", "step"])
    "here that is 'step'"
    """
    words = list(valid)
    if ours := meant(word, words):
        return f"here that is '{ours}'"
    known = {plain(w): w for w in words}
    close = get_close_matches(plain(word), known, 1, 0.6)
    if close:
        return f"did you mean '{known[close[0]]}'?"
    return f"give one of {', '.join(words)}" if words else ""
