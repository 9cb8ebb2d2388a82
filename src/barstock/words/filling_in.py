"""Sentences with their figures filled in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from barstock.route.record import Statement
from barstock.words.reader import Reader

Told = TypeVar("Told", bound=Statement)
Sentence = str | Callable[[Told, Reader], str]
"""A template with the names of its figures in braces, or a function where that does not do."""


@dataclass(frozen=True)
class _Length:
    """A length in a template: {name}, {name:rough}, {name:by eye} or {name:at least}."""

    mm: float
    reader: Reader

    def __format__(self, how: str) -> str:
        ways = {
            "": self.reader.length,
            "rough": self.reader.rough,
            "by eye": self.reader.by_eye,
            "at least": self.reader.at_least,
        }
        return ways[how](self.mm)


def filled(sentence: Sentence[Told], told: Told, reader: Reader) -> str:
    """The sentence with the figures of a statement, lengths as the reader reads them."""
    if not isinstance(sentence, str):
        return sentence(told, reader)
    lengths = {name: _Length(mm, reader) for name, mm in told.lengths.items()}
    return sentence.format(**lengths, **told.numbers, **told.names)


def joined(things: list[str] | tuple[str, ...]) -> str:
    """The words for things one after another, "and" before the last.

    >>> joined(["1", "2", "3"]), joined(["1"])
    ('1, 2 and 3', '1')
    """
    return " and ".join(", ".join(things).rsplit(", ", 1))


def title_of(operation: str, titles: Mapping[str, str]) -> str:
    """The title of an operation, or its id without the part."""
    return titles.get(operation) or operation.partition("/")[2]
