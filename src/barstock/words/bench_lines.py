"""What is sawn, marked out and filed, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from barstock.route import BarPiece, Does, FileLevel, FileSquare, Operation, SawOff, Shape
from barstock.words.lines import Line, Reading, line, value
from barstock.words.reader import Reader

NEAR_LINE = 1.0  # that a saw keeps outside a marked line [mm]; common practice
Point = tuple[float, float, float]


def sawn_off(
    moves: Sequence[SawOff], _: Operation, reader: Reader, bar: BarPiece | None
) -> Iterator[Line]:
    """Pieces sawn from a bar."""
    yield line("Set the saw's stop and saw", reader.set_sawn("length", moves[0].each))
    if bar is not None:
        many = [bar.pieces] * (bar.count - 1) + [bar.last_pieces or bar.pieces]
        texts = [text for n in many for text in (str(n), "/")][:-1]
        yield line("Pieces", Reading("from each bar", "", (value(*texts),)))


def to_a_line(
    moves: Sequence[Shape], _: Operation, reader: Reader, __: BarPiece | None
) -> Iterator[Line]:
    """Sawn and filed to a marked-out line."""
    yield from LINES[moves[0].does](moves[0], reader)


def filed_level(
    moves: Sequence[FileLevel], _: Operation, reader: Reader, __: BarPiece | None
) -> Iterator[Line]:
    """Filed level with the bare surface beside it."""
    move = moves[0]
    yield line(
        f"Saw off what is left over on the {move.face}, {reader.length(move.proud)}, near the "
        "joint; chalk the bare surface beside it; draw-file until the file just begins to take "
        "the chalk",
        reader.measured(f"bare at, from {move.from_u}", move.at[0]),
        reader.measured(f"from {move.from_v}", move.at[1]),
    )


def filed_square(
    moves: Sequence[FileSquare], _: Operation, reader: Reader, __: BarPiece | None
) -> Iterator[Line]:
    """An end filed square."""
    move = moves[0]
    words = f"File the {move.face} end square to two sides, trying it with a square"
    until, length = (
        ("the length is right", "length")
        if move.to_length
        else ("it is clean all over", "length left then")
    )
    yield line(f"{words}, until {until}", reader.measured(length, move.leaves))


# -- lines marked out ------------------------------------------------------------------------------


def _saw(move: Shape, reader: Reader) -> Iterator[Line]:
    yield line(f"{_marked_out(move)}; saw {reader.by_eye(move.leave)} outside the line")
    yield from _points(move, move.marked, reader)


def _file(move: Shape, reader: Reader) -> Iterator[Line]:
    outside = reader.by_eye(NEAR_LINE)
    yield line(f"{_marked_out(move)}; saw {outside} outside the line; file to the line")
    yield from _points(move, move.outline, reader)


def _file_left(move: Shape, reader: Reader) -> Iterator[Line]:
    yield line(f"File what the cutter left to the line: {reader.length(move.most)} at most")


def _edge(move: Shape, reader: Reader) -> Iterator[Line]:
    """A corner marked out on both ends of an edge: its outline's second and fourth points are where
    it leaves the two faces."""
    _, (along, *_), _, (_, up, bulge), _ = move.outline
    size = f"{reader.length(up)} x {reader.length(along)}"
    if bulge:
        size = f"R {reader.length(along)}"
    edge = f"the edge {move.from_u} / {move.from_v}"
    yield line(f"Mark out {size} on both ends of {edge}; file to it")


def _marked_out(move: Shape) -> str:
    return f"Mark out on the {move.face} face from the {move.from_u} and the {move.from_v}"


def _points(move: Shape, marked: Sequence[Point], reader: Reader) -> Iterator[Line]:
    for n, (u, v, bulge) in enumerate(marked, 1):
        yield line(
            f"Point {n}" + (", by an arc" if bulge else ""),
            reader.measured(f"from {move.from_u}", u),
            reader.measured(f"from {move.from_v}", v),
        )


LINES: Mapping[Does, Callable[[Shape, Reader], Iterator[Line]]] = {
    Does.SAW: _saw,
    Does.FILE: _file,
    Does.FILE_EDGE: _edge,
    Does.FILE_LEFT: _file_left,
}
"""What a line is marked out for."""
