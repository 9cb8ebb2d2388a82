"""The lines of an operation, made from the very moves that the proof cuts by, and its title."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from barstock.route import (
    BarPiece,
    FileLevel,
    FileSquare,
    Move,
    Operation,
    Plunge,
    SawOff,
    Shape,
    Traverse,
)
from barstock.words.bench_lines import filed_level, filed_square, sawn_off, to_a_line
from barstock.words.lines import Line
from barstock.words.move_words import MoveWords
from barstock.words.plunge_lines import PLUNGES
from barstock.words.reader import Reader
from barstock.words.traverse_lines import TRAVERSES

MOVES: Mapping[type[Move], MoveWords] = {
    Traverse: TRAVERSES,
    Plunge: PLUNGES,
    SawOff: MoveWords(sawn_off),
    Shape: MoveWords(to_a_line),
    FileLevel: MoveWords(filed_level),
    FileSquare: MoveWords(filed_square),
}
"""Each kind of move with its words."""


def lines(operation: Operation, reader: Reader, bar: BarPiece | None = None) -> tuple[Line, ...]:
    """The lines that are read and dialled for an operation. bar: that it is done to."""
    return tuple(_lines(operation, reader, bar))


def _lines(operation: Operation, reader: Reader, bar: BarPiece | None) -> Iterator[Line]:
    for _, found in groupby(operation.moves, _alike):
        moves = list(found)
        yield from MOVES[type(moves[0])].lines(moves, operation, reader, bar)


def _alike(move: Move) -> tuple[object, ...]:
    """What moves have in common that are told together."""
    return (type(move), *MOVES[type(move)].alike(move))
