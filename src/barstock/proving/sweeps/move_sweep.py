"""What the proof asks of every kind of move: the space it sweeps, and how it could be mistaken."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from barstock.drawing.build import Face
from barstock.proving.held_work import Done, Held
from barstock.proving.placing import Datum
from barstock.proving.proof_record import Violation
from barstock.proving.upright_run import Run
from barstock.route import Cutter, Move
from barstock.solids.shapes import Solid


class MoveSweep:
    """A kind of move as the proof sees it. move: its record; powered: it is made at readings, under
    a machine's power; placed: where it is made is what it makes, as of a hole, so that its zero
    must be true.

    What does not concern a kind it need not answer.
    """

    move: type[Move]
    powered: bool = False
    placed: bool = False

    def runs(self, move: Any, cutter: Cutter, zero: Datum, work: Solid) -> Iterator[Run]:
        """The runs of a cutter whose axis stands upright, on work in the table frame.

        Raises ValueError where the move means nothing on this work.
        """
        yield from ()

    def taken(self, move: Any, held: Held, work: Solid) -> Iterator[Solid]:
        """The metal that goes by any other means, in the table frame as `work` is. Raises as
        `runs`.
        """
        yield from ()

    def marked_from(self, move: Any) -> tuple[Face, ...]:
        """The faces of the work that a line is marked out from."""
        return ()

    def faults(self, move: Any, held: Held, done: Done) -> Iterator[Violation]:
        """The faults of the move as it was done."""
        yield from ()

    # -- mistakes planted to try the proof ---------------------------------------------------------

    def flipped(self, move: Any, axis: str) -> Any:
        """The same move with an axis turned round."""
        return move

    def deeper(self, move: Any, by: float) -> Any:
        """The same move with its depth set wrong by so much [mm], greater readings being higher."""
        return move

    def beside(self, move: Any, by: float) -> Any:
        """The same move made sideways of its place [mm]."""
        return move
