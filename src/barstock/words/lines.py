"""A line at the bench is made of words, and of the figures to dial or to set beside them."""

from __future__ import annotations

from dataclasses import dataclass, field

AXES = ("X", "Y", "Z")


@dataclass(frozen=True)
class Run:
    """Text of one size: `big` for figures to be dialled."""

    text: str
    big: bool


Value = tuple[Run, ...]
"""One thing to be dialled or set, with the small words about its figures."""


def value(*texts: str) -> Value:
    """The figures and the words between them, by turns; the first is a figure.

    >>> [run.text for run in value("33.0", "mm")]
    ['33.0', 'mm']
    """
    runs = (Run(text, n % 2 == 0) for n, text in enumerate(texts))
    return tuple(run for run in runs if run.text)


def with_words(shown: Value, words: str) -> Value:
    """The same runs with small words behind them.

    >>> [run.text for run in with_words(value("6", "turns"), ", right through")]
    ['6', 'turns, right through']
    """
    *before, last = shown
    if last.big:
        return (*shown, Run(words, False))
    apart = "" if words.startswith(",") else " "
    return (*before, Run(f"{last.text}{apart}{words}", False))


@dataclass(frozen=True)
class Reading:
    """A figure to dial on one axis. label: the axis ("X"), note: small words under it ("from –
    to").
    """

    label: str
    note: str
    values: tuple[Value, ...]


@dataclass(frozen=True)
class Line:
    """One line a person reads and dials. other: what is set that is no axis."""

    words: str
    axes: dict[str, Reading] = field(default_factory=dict)
    other: tuple[Reading, ...] = ()
    caution: str = ""


def line(words: str, *readings: Reading, caution: str = "") -> Line:
    """A line with its readings, those of the axes apart from the rest."""
    axes = {r.label: r for r in readings if r.label in AXES}
    return Line(words, axes, tuple(r for r in readings if r.label not in AXES), caution)
