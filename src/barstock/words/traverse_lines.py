"""The cutter fed along lines, in words: where across, from where to where along, how deep."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from barstock.route import BarPiece, Does, Operation, Traverse
from barstock.words.lines import Line, line
from barstock.words.move_words import MoveWords
from barstock.words.reader import Reader


def _lines(
    moves: Sequence[Traverse], operation: Operation, reader: Reader, _: BarPiece | None
) -> Iterator[Line]:
    """The same run at one depth or several."""
    first = moves[0]
    along = _along(first)
    across, names = 1 - along, "XY"
    yield line(
        RUNS[first.does](moves, operation, reader),
        reader.reading(names[across], *(p[across] for p in first.points)),
        reader.span(names[along], first.points[0][along], first.points[1][along]),
        reader.reading("Z", *(move.z for move in moves)),
    )


def _along(move: Traverse) -> int:
    """The axis fed along: 0 for X, 1 for Y."""
    if move.wall:
        return 1 if move.wall in ("left", "right") else 0
    (a, b), (c, d) = move.points[:2]
    if (a, b) == (c, d) and len(move.points) > 2:  # no room but to step over
        return 1 if move.points[2][0] != a else 0
    return 1 if b != d else 0


Runs = Callable[[Sequence[Traverse], Operation, Reader], str]


def _rough(moves: Sequence[Traverse], _: Operation, __: Reader) -> str:
    return f"Rough in {len(moves)} cut{'s' * (len(moves) > 1)}"


def _floor(_: Sequence[Traverse], operation: Operation, __: Reader) -> str:
    return "Last light cut on the floor" if _roughed(operation) else "One cut"


def _bevel(_: Sequence[Traverse], operation: Operation, reader: Reader) -> str:
    last = ", last light cut" if _roughed(operation) else ""
    return f"Bevel {reader.length(operation.size)}{last}"


def _roughed(operation: Operation) -> bool:
    return any(m.does is Does.ROUGH for m in operation.moves if isinstance(m, Traverse))


def _slit(moves: Sequence[Traverse], operation: Operation, _: Reader) -> str:
    passes = [m for m in operation.moves if isinstance(m, Traverse)]
    nth = f", pass {passes.index(moves[0]) + 1} of {len(passes)}" if len(passes) > 1 else ""
    return f"Saw{nth}; Z to the saw's underside"


RUNS: Mapping[Does, Runs] = {
    Does.ROUGH: _rough,
    Does.FLOOR: _floor,
    Does.WALL: lambda moves, _, __: f"{str(moves[0].wall).capitalize()} wall to size",
    Does.CLEAN_UP: lambda _, __, ___: "Clean up",
    Does.FINISH: lambda _, __, ___: "Last light cut",
    Does.BEVEL: _bevel,
    Does.SLIT: _slit,
    Does.ROUGH_SIDE: lambda moves, _, __: f"Side from point {moves[0].point}, rough",
    Does.SIDE: lambda moves, _, __: f"Side from point {moves[0].point}, to the line",
}
"""What each run of the cutter is for."""
TRAVERSES = MoveWords(_lines, lambda move: (move.does, move.wall, move.point, move.points))
