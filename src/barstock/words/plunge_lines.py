"""Round tools, and a cutter beside an outline, straight down at a place, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from barstock.handbook.threads import BLUNT_LEAD
from barstock.route import BarPiece, Does, Operation, Plunge
from barstock.words.lines import Line, Reading, line, with_words
from barstock.words.move_words import MoveWords
from barstock.words.reader import Reader

ROUND: Mapping[Does, str] = {
    Does.SPOT: "Spot",
    Does.DRILL: "Drill",
    Does.REAM: "Ream",
    Does.TAP: "Tap",
    Does.FLAT: "Plunge",
    Does.COUNTERSINK: "Countersink",
    Does.COUNTERBORE: "Counterbore",
    Does.BORE: "Bore",
}
"""What each round tool does, in words."""
BESIDE: Mapping[Does, str] = {Does.STRAIGHT: "Side", Does.ARC: "Arc"}
"""What of an outline the cutter is beside."""


def _lines(
    moves: Sequence[Plunge], operation: Operation, reader: Reader, _: BarPiece | None
) -> Iterator[Line]:
    if all(move.follow for move in moves):
        n = len(moves)
        at = f"each of the {n} spots" if n > 1 else "the spot"
        yield line(
            f"{operation.cutter.name} through the work at {at}, brought under the drill by eye"
        )
        return
    for n, move in enumerate(moves, 1):
        yield line(
            _words(move, n, len(moves)),
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


def _words(move: Plunge, nth: int, of: int) -> str:
    if move.does in BESIDE:
        name = f"{BESIDE[move.does]} from point {move.point}"
        return f"{name}, down at place {nth} of {of}" if of > 1 else f"{name}, straight down"
    return f"{ROUND[move.does]} {nth}" if of > 1 else ROUND[move.does]


def _depth(move: Plunge, reader: Reader) -> Reading:
    if move.touch:
        deep = reader.distance("Z", -move.z)
        return Reading("Z", "", (with_words(deep, "below the touch at the hole's edge"),))
    shown = reader.place("Z", move.z)
    return Reading("Z", "", (with_words(shown, ", right through") if move.through else shown,))


PLUNGES = MoveWords(_lines, lambda move: (move.does, move.point))
