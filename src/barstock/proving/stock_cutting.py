"""Cuts the work by the route's numbers and nothing else: the bar, its pieces, each operation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from barstock.proving.held_work import Done, Held
from barstock.proving.holding import way_of
from barstock.proving.placing import FAR, Datum, datum, place
from barstock.proving.sweeps import sweep_of
from barstock.proving.upright_run import Run, Spot
from barstock.quantities import Length
from barstock.route import BarPiece, Operation, SawOff, Setup
from barstock.solids.parting import part_off
from barstock.solids.shapes import Placement, Solid, box, cylinder
from barstock.workshop.shop import ToolKind

PAST = 1.0  # how far a sweep stands above the work [mm]


def raw(bar: BarPiece) -> Solid:
    """The bar as it comes, in its own work frame."""
    if bar.shape == "round":
        r = bar.width / 2
        return cylinder((0.0, r, r), (1.0, 0.0, 0.0), r, bar.length)
    return box((0.0, 0.0, 0.0), (bar.length, bar.width, bar.height))


def hold(setup: Setup, work: Solid) -> Held:
    """Put the work in the machine and find the zeros.

    Raises ValueError where it cannot be held so.
    """
    placement = place(work, setup.holding)
    placed = work.moved(placement)
    opening = way_of(setup.holding).opening(setup.holding, placed)
    return Held(setup, placed, placement, datum(setup, placed), opening)


def runs(operation: Operation, zero: Datum, work: Solid) -> list[Run]:
    """The runs of an operation, the deepest only where one path is cut in steps; but each of a
    slitting saw's, which leaves what is over it."""
    found: dict[tuple[Spot, Spot, float, float], Run] = {}
    for move in operation.moves:
        for run in sweep_of(move).runs(move, operation.cutter, zero, work):
            ends = [(round(p[0], 6), round(p[1], 6)) for p in (run.start, run.end)]
            first, last = sorted(ends)
            saw = operation.cutter.kind is ToolKind.SLITTING_SAW
            key = (first, last, run.radius, round(run.tip, 6) if saw else 0.0)
            if key not in found or found[key].tip > run.tip:
                found[key] = run
    return list(found.values())


def perform(held: Held, work: Solid, operation: Operation) -> Done:
    """Do one operation on the placed `work`.

    Raises ValueError where a move means nothing on this work.
    """
    passes, back = runs(operation, held.zero, work), held.placement.inverse()
    top = work.bounds[1][2] + PAST
    tools = [run.solid(top) for run in passes]
    for move in operation.moves:
        tools += sweep_of(move).taken(move, held, work)
    after, removed = part_off(work, *tools)
    if after.empty:
        raise ValueError("it leaves nothing of the work")
    return Done(held.setup, operation, tuple(passes), work, after, removed, tuple(tools), back)


@dataclass(frozen=True)
class Sawn:
    """A piece sawn from its bar: `solid` in the part's frame, `shift` taking the bar's frame there.

    ends: x of its sawn left and right ends in the part's frame [mm].
    """

    solid: Solid
    shift: Placement
    ends: tuple[float, float]


def saw(bar: BarPiece, work: Solid, sawing: SawOff | None) -> list[Sawn]:
    """The pieces of a bar, alike ones once. Without sawing the whole bar is the piece.

    Raises ValueError if the bar is too short.
    """
    sawing = sawing or SawOff(each=bar.length, pieces=1, kerf=0.0)
    needed = sawing.first + sawing.pieces * (sawing.each + sawing.kerf) - sawing.kerf
    if needed > bar.length + 1e-6:
        raise ValueError(
            f"{sawing.pieces} pieces of {Length(sawing.each):g} need {Length(needed):g} of bar, "
            f"{bar.id} is {Length(bar.length):g} long"
        )
    found: dict[tuple[float, ...], Sawn] = {}
    x, y, z = bar.start
    for left, lying in _lengths(work, sawing):
        shift = Placement(shift=(x - left, y, z))
        piece = lying.moved(shift)
        like = tuple(round(n, 3) for n in (piece.volume, *piece.bounds[0], *piece.bounds[1]))
        found.setdefault(like, Sawn(piece, shift, (x, x + sawing.each)))
    return list(found.values())


def sawn_apart(work: Solid, sawing: SawOff) -> list[Solid]:
    """The pieces of a bar where they lie, with the kerfs between them."""
    return [piece for _, piece in _lengths(work, sawing)]


def _lengths(work: Solid, sawing: SawOff) -> Iterator[tuple[float, Solid]]:
    """Each length sawn off, and where its left end is in the bar's frame [mm]."""
    for i in range(sawing.pieces):
        left = sawing.first + i * (sawing.each + sawing.kerf)
        piece = work.common(box((left, -FAR, -FAR), (left + sawing.each, FAR, FAR)))
        if not piece.empty:
            yield left, piece
