"""The handbook's answers, and how they are printed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


class NotHeldError(LookupError):
    """Raised by a table's `find` for a word that is its own and stands not in it; says why."""


@dataclass(frozen=True)
class Found:
    """One table's answer. rows: (name, value) in the user's units; source: standard and clause.

    memory: the rows were typed from memory, not copied from the source.
    """

    title: str
    rows: tuple[tuple[str, str], ...]
    source: str
    memory: bool


def printed(found: Iterable[Found]) -> str:
    """Answers as plain text, one under the other.

    >>> print(printed([Found("drill F", (("size", "6.528 mm"),), "a standard", True)]))
    drill F
      size  6.528 mm
      source: a standard (typed from memory)
    """
    return "\n\n".join(_one(each) for each in found)


def _one(found: Found) -> str:
    wide = max((len(name) for name, _ in found.rows), default=0)
    rows = [f"  {name.ljust(wide)}  {value}" for name, value in found.rows]
    memory = " (typed from memory)" if found.memory else ""
    return "\n".join([found.title, *rows, f"  source: {found.source}{memory}"])
