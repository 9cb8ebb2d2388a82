"""The sweep of filing an end square to the sides."""

from __future__ import annotations

from collections.abc import Iterator

from barstock.drawing.build import Face
from barstock.proving.held_work import Held
from barstock.proving.sweeps.move_sweep import MoveSweep
from barstock.route import FileSquare
from barstock.solids.shapes import Solid, box

PAST = 1.0  # how far a sweep stands above the work [mm]


class Squaring(MoveSweep):
    """The sweep of squaring an end by hand."""

    move = FileSquare

    def taken(self, move: FileSquare, held: Held, work: Solid) -> Iterator[Solid]:
        """The metal that is farther than the move leaves from the other end."""
        lying = work.moved(held.placement.inverse())
        low, high = (
            [n + way * PAST for n in end] for way, end in zip((-1, 1), lying.bounds, strict=True)
        )
        axis = move.face.axis
        if move.face.sign > 0:
            low[axis] = lying.bounds[0][axis] + move.leaves
        else:
            high[axis] = lying.bounds[1][axis] - move.leaves
        if low[axis] < high[axis]:
            beyond = box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
            yield beyond.moved(held.placement)

    def marked_from(self, move: FileSquare) -> tuple[Face, ...]:
        """The other end, where it is the length that is made."""
        return (move.face.opposite,) if move.to_length else ()

    def flipped(self, move: FileSquare, axis: str) -> FileSquare:
        """The same move with the other end filed."""
        return move.model_copy(update={"face": move.face.opposite}) if axis == "x" else move

    def deeper(self, move: FileSquare, by: float) -> FileSquare:
        """The same move with more or less left."""
        return move.model_copy(update={"leaves": move.leaves + by})


SWEEP = Squaring()
