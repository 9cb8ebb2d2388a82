"""The lines of an operation, made from the very moves that the proof cuts by, and its title."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from barstock.handbook.threads import BLUNT_LEAD
from barstock.route import (
    BarPiece,
    Does,
    FileLevel,
    Move,
    Operation,
    Plunge,
    Process,
    SawOff,
    Shape,
    Traverse,
)
from barstock.words.lines import Line, Reading, line, value, with_words
from barstock.words.reader import Reader

LENGTHS = ("length", "width", "height")
NEAR_LINE = 1.0  # that a saw keeps outside a marked line [mm]; common practice


# -- what an operation does ------------------------------------------------------------------------


def title(operation: Operation, reader: Reader) -> str:
    """What an operation does, in words."""
    return TITLES[operation.does](operation, reader)


def _of_feature(operation: Operation) -> str:
    return " and ".join(operation.features)


def _plainly(verb: str) -> Callable[[Operation, Reader], str]:
    return lambda operation, _: f"{verb} {_of_feature(operation)}"


def _numbered(verb: str) -> Callable[[Operation, Reader], str]:
    def told(operation: Operation, _: Reader) -> str:
        nth = f" {operation.cut}" if operation.cut else ""
        return f"{verb} {_of_feature(operation)}{nth}"

    return told


def _saw_off(operation: Operation, reader: Reader) -> str:
    each = next((m.each for m in operation.moves if isinstance(m, SawOff)), 0.0)
    return f"saw to {reader.rough(each)}"


def _face(operation: Operation, _: Reader) -> str:
    face = operation.face
    size = f"to {LENGTHS[face.axis]}" if face and operation.to_size else "clean"
    return f"mill the {face} face {size}"


def _square(operation: Operation, _: Reader) -> str:
    return f"square the {operation.face} end" + (" to length" if operation.to_size else "")


def _flush(operation: Operation, _: Reader) -> str:
    return f"file {_of_feature(operation)} flush with the {operation.face}"


def _tap(operation: Operation, _: Reader) -> str:
    return f"tap {operation.cutter.thread} in {_of_feature(operation)}"


TITLES: dict[Process, Callable[[Operation, Reader], str]] = {
    **{process: _plainly(process.value) for process in Process},
    Process.SAW_OFF: _saw_off,
    Process.FACE: _face,
    Process.SQUARE: _square,
    Process.MILL: _numbered("mill"),
    Process.BEVEL: _numbered("bevel"),
    Process.MILL_ROUND: lambda o, _: f"mill {_of_feature(o)} round",
    Process.SAW: lambda o, _: f"saw {_of_feature(o)} outside the line",
    Process.FILE: lambda o, _: f"file {_of_feature(o)} to the line",
    Process.FILE_FLUSH: _flush,
    Process.TAP: _tap,
}


# -- its lines -------------------------------------------------------------------------------------


def lines(operation: Operation, reader: Reader, bar: BarPiece | None = None) -> tuple[Line, ...]:
    """What is read and dialled for an operation, line by line. bar: that it is done to."""
    return tuple(_lines(operation, reader, bar))


def _lines(operation: Operation, reader: Reader, bar: BarPiece | None) -> Iterator[Line]:
    for _, found in groupby(operation.moves, _alike):
        moves = list(found)
        first = moves[0]
        if isinstance(first, Traverse):
            yield _run([m for m in moves if isinstance(m, Traverse)], operation, reader)
        elif isinstance(first, Plunge):
            yield from _plunges([m for m in moves if isinstance(m, Plunge)], operation, reader)
        elif isinstance(first, SawOff):
            yield from _sawn(first, bar, reader)
        elif isinstance(first, Shape):
            yield from _to_a_line(first, reader)
        else:
            yield _filed_flush(first, reader)


def _alike(move: Move) -> tuple[object, ...]:
    """What moves that one line tells have in common."""
    if isinstance(move, Traverse):
        return (move.does, move.wall, move.point, move.points)
    if isinstance(move, Plunge):
        return (move.does, move.point)
    return (id(move),)


# -- along lines -----------------------------------------------------------------------------------


def _run(moves: Sequence[Traverse], operation: Operation, reader: Reader) -> Line:
    """The same run at one depth or several."""
    first = moves[0]
    along = _along(first)
    across = 1 - along
    names = "XY"
    return line(
        _run_words(moves, operation, reader),
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


def _run_words(moves: Sequence[Traverse], operation: Operation, reader: Reader) -> str:
    move = moves[0]
    match move.does:
        case Does.ROUGH:
            return f"Rough in {len(moves)} cut{'s' * (len(moves) > 1)}"
        case Does.FLOOR:
            roughed = any(m.does is Does.ROUGH for m in operation.moves if isinstance(m, Traverse))
            return "Last light cut on the floor" if roughed else "One cut"
        case Does.WALL:
            return f"{str(move.wall).capitalize()} wall to size"
        case Does.CLEAN_UP:
            return "Clean up"
        case Does.FINISH:
            return "Last light cut"
        case Does.BEVEL:
            return f"Bevel {reader.length(operation.size)}"
        case Does.ROUGH_SIDE:
            return f"Side from point {move.point}, rough"
        case Does.SIDE:
            return f"Side from point {move.point}, to the line"
    return f"Mill {_of_feature(operation)}"


# -- straight down ---------------------------------------------------------------------------------

DOWN = {
    Does.SPOT: "Spot",
    Does.DRILL: "Drill",
    Does.REAM: "Ream",
    Does.TAP: "Tap",
    Does.FLAT: "Plunge",
    Does.COUNTERSINK: "Countersink",
    Does.COUNTERBORE: "Counterbore",
    Does.BORE: "Bore",
}


def _plunges(moves: Sequence[Plunge], operation: Operation, reader: Reader) -> Iterator[Line]:
    if all(move.follow for move in moves):
        n = len(moves)
        at = f"each of the {n} spots" if n > 1 else "the spot"
        yield line(
            f"{operation.cutter.name} through the work at {at}, brought under the drill by eye"
        )
        return
    for n, move in enumerate(moves, 1):
        yield line(
            _plunge_words(move, n, len(moves)),
            reader.reading("X", move.x),
            reader.reading("Y", move.y),
            _depth(move, reader),
        )
    tips = [move.tip for move in moves if move.tip is not None]
    if tips:
        yield line(
            "At the Z above the full thread ends. The end of a bottoming tap goes "
            f"{BLUNT_LEAD:g} pitches deeper, to the Z here; that of a second tap about 4, if the "
            "hole was drilled so deep",
            reader.reading("Z", *dict.fromkeys(tips)),
        )


def _plunge_words(move: Plunge, nth: int, of: int) -> str:
    if move.does in DOWN:
        return f"{DOWN[move.does]} {nth}" if of > 1 else DOWN[move.does]
    name = f"{'Arc' if move.does is Does.ARC else 'Side'} from point {move.point}"
    return f"{name}, down at place {nth} of {of}" if of > 1 else f"{name}, straight down"


def _depth(move: Plunge, reader: Reader) -> Reading:
    if move.touch:
        deep = reader.distance("Z", -move.z)
        return Reading("Z", "", (with_words(deep, "below the touch at the hole's edge"),))
    shown = reader.place("Z", move.z)
    return Reading("Z", "", (with_words(shown, ", right through") if move.through else shown,))


# -- sawn and filed --------------------------------------------------------------------------------


def _sawn(move: SawOff, bar: BarPiece | None, reader: Reader) -> Iterator[Line]:
    yield line("Set the saw's stop and saw", reader.set_roughly("length", move.each))
    if bar is not None:
        many = [bar.pieces] * (bar.count - 1) + [bar.last_pieces or bar.pieces]
        texts = [text for n in many for text in (str(n), "/")][:-1]
        yield line("Pieces", Reading("from each bar", "", (value(*texts),)))


def _to_a_line(move: Shape, reader: Reader) -> Iterator[Line]:
    sides = f"Mark out on the {move.face} face from the {move.from_u} and the {move.from_v}"
    match move.does:
        case Does.FILE_EDGE:
            yield _edge(move, reader)
        case Does.FILE_LEFT:
            most = reader.length(move.most)
            yield line(f"File what the cutter left to the line: {most} at most")
        case Does.SAW:
            yield line(f"{sides}; saw {reader.by_eye(move.leave)} outside the line")
            yield from _points(move, move.marked, reader)
        case _:
            outside = reader.by_eye(NEAR_LINE)
            yield line(f"{sides}; saw {outside} outside the line; file to the line")
            yield from _points(move, move.outline, reader)


def _edge(move: Shape, reader: Reader) -> Line:
    """A corner marked out on both ends of an edge: its outline's second and fourth points are where
    it leaves the two faces."""
    (_, along, _, up, _) = move.outline
    first, second = along[0], up[1]
    size = f"R {reader.length(first)}" if up[2] else _by(reader, second, first)
    edge = f"the edge {move.from_u} / {move.from_v}"
    return line(f"Mark out {size} on both ends of {edge}; file to it")


def _by(reader: Reader, a: float, b: float) -> str:
    return f"{reader.length(a)} x {reader.length(b)}"


def _points(
    move: Shape, marked: Sequence[tuple[float, float, float]], reader: Reader
) -> Iterator[Line]:
    for n, (u, v, bulge) in enumerate(marked, 1):
        yield line(
            f"Point {n}" + (", by an arc" if bulge else ""),
            reader.measured(f"from {move.from_u}", u),
            reader.measured(f"from {move.from_v}", v),
        )


def _filed_flush(move: FileLevel, reader: Reader) -> Line:
    return line(
        f"Saw off what is left over on the {move.face}, {reader.length(move.proud)}, near the "
        "joint; chalk the bare surface beside it; draw-file until the file just begins to take "
        "the chalk",
        reader.measured(f"bare at, from {move.from_u}", move.at[0]),
        reader.measured(f"from {move.from_v}", move.at[1]),
    )
