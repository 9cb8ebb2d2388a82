"""A statement in words for a reader in millimetres and for one in inches."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from enum import StrEnum
from typing import Any

from barstock.quantities import Unit
from barstock.route.record import Statement
from barstock.words.reader import Reader

IN_MM, IN_INCHES = re.compile(r"\d ?mm\b|millimetre"), re.compile(r"\d ?in\b")

Words = Callable[[Any, Reader], str]
Told = tuple[type[Statement], type[StrEnum], Words]


def one_of_each(
    told: Sequence[Told], figures: Mapping[StrEnum, Mapping[str, Any]]
) -> tuple[list[tuple[Statement, Words]], list[str]]:
    """A statement of every kind with what words it, and a name for each."""
    found = [
        (record(kind=kind, **figures.get(kind, {})), words)  # type: ignore[call-arg]
        for record, kinds, words in told
        for kind in kinds
    ]
    return found, [f"{type(one).__name__} {one.kind}" for one, _ in found]  # type: ignore[attr-defined]


def in_both_units(told: Statement, words: Words) -> tuple[str, str]:
    """The words in millimetres and in inches: some, whole, and with no length in the other unit."""
    in_mm, in_inches = words(told, Reader(Unit.MM)), words(told, Reader(Unit.INCH))
    for text, foreign in ((in_mm, IN_INCHES), (in_inches, IN_MM)):
        assert text.strip()
        assert not re.search(r"[{}]|\bNone\b", text)
        assert not foreign.search(text), text
    return in_mm, in_inches
