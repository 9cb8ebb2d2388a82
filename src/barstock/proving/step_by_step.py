"""The work after every operation, cut by the route's numbers as the proof cuts it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barstock.proving.held_work import Done
from barstock.proving.stock_cutting import hold, perform, raw, saw, sawn_apart
from barstock.route import BarPiece, Setup
from barstock.solids.shapes import Solid, together


@dataclass(frozen=True)
class Worked:
    """A setup step by step: the work `before` it as held, and what each operation `done` leaves.

    All in the table frame; sawing in the bar's own, as `sawn`. opening: of the jaws [mm].
    """

    setup: Setup
    before: Solid
    done: tuple[Done, ...] = ()
    sawn: Solid | None = None
    opening: float = 0.0


def from_bars(bars: Sequence[BarPiece], setups: Sequence[Setup], part: str) -> Iterator[Worked]:
    """The setups of a part's bars and of its pieces, step by step.

    Raises ValueError, ArithmeticError where the route cannot be cut; one that is proved can.
    """
    of_piece = [s for s in setups if s.work == part]
    for n, bar in enumerate(bars):
        work = raw(bar)
        sawing = None
        for setup in (s for s in setups if s.work == bar.id):
            found = setup.saws
            if found:
                sawing = found
                yield Worked(setup, work, sawn=together(sawn_apart(work, sawing)))
            else:
                worked, work = _through(setup, work)
                yield worked
        if n == 0 and of_piece:
            yield from from_solid(saw(bar, work, sawing)[0].solid, of_piece)


def finished(bars: Sequence[BarPiece], setups: Sequence[Setup], part: str) -> Solid:
    """A part's first piece as its setups leave it. Raises as `from_bars` does."""
    bar, sawing = bars[0], None
    work = raw(bar)
    for setup in (s for s in setups if s.work == bar.id):
        found = setup.saws
        sawing = found or sawing
        work = work if found else _through(setup, work)[1]
    work = saw(bar, work, sawing)[0].solid
    for setup in (s for s in setups if s.work == part):
        work = _through(setup, work)[1]
    return work


def from_solid(work: Solid, setups: Sequence[Setup]) -> Iterator[Worked]:
    """The setups that `work` goes through, such as a fabrication just joined, step by step."""
    for setup in setups:
        worked, work = _through(setup, work)
        yield worked


def _through(setup: Setup, work: Solid) -> tuple[Worked, Solid]:
    held = hold(setup, work)
    here, done = held.work, list[Done]()
    for operation in setup.operations:
        done.append(perform(held, here, operation))
        here = done[-1].after
    return (
        Worked(setup, held.work, tuple(done), opening=held.opening),
        here.moved(held.placement.inverse()),
    )
