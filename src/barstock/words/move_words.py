"""What the words of a kind of move answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from barstock.route import BarPiece, Operation
from barstock.words.lines import Line
from barstock.words.reader import Reader

Told = Callable[[Sequence[Any], Operation, Reader, BarPiece | None], Iterator[Line]]


def _each_alone(move: Any) -> tuple[object, ...]:
    return (id(move),)


@dataclass(frozen=True)
class MoveWords:
    """A kind of move in words. lines: of moves one after another that are alike; alike: what those
    have in common.
    """

    lines: Told
    alike: Callable[[Any], tuple[object, ...]] = _each_alone
