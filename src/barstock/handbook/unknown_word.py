"""The error for a word no table holds, with the nearest ones it does hold."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


class UnknownError(LookupError):
    """Raised for a word that is in no table. word: as asked; near: the nearest words that are.

    why: a better reason than that there is no such word, where a table knows one.
    """

    def __init__(
        self, word: str, what: str, valid: Iterable[str], wanted: str = "", why: str = ""
    ) -> None:
        self.word = word
        self.near = tuple(nearest(word, valid))
        hint = " or ".join(self.near)
        mend = f"; did you mean {hint}?" if hint else f"; {wanted}" if wanted else ""
        known = f"'{word}' is no {what} known here"
        super().__init__(f"'{word}': {why}; {wanted}" if why else known + mend)

    def __str__(self) -> str:
        return str(self.args[0])


def nearest(word: str, valid: Iterable[str], count: int = 3) -> list[str]:
    """The valid words nearest in spelling, best first.

    >>> nearest("bras", ["brass", "copper"])
    ['brass']
    """
    by_lower = {name.lower(): name for name in valid}
    return [by_lower[w] for w in get_close_matches(word.lower().strip(), by_lower, count, 0.6)]
