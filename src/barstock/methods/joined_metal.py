"""Where a fabrication has metal, as the planner sees it.

It asks the pieces' cuts, never their solids.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from barstock.drawing.build import Vec
from barstock.drawing.part import Joined, Piece
from barstock.drawing.vectors import dot, plus
from barstock.methods.cuts import Cut, HoleCut, LevelCut
from barstock.methods.feature_cuts import cuts_of

Metal = Callable[[Vec], bool]


def metal_of(joined: Joined, holes: bool = True) -> Metal:
    """A test of whether a point of the whole lies in a piece, as its own cuts leave it.

    holes: its holes count as air.
    """
    cuts = [
        (piece, [c for c in cuts_of(piece.part) if holes or not isinstance(c, HoleCut)])
        for piece in joined.pieces
    ]

    def here(p: Vec) -> bool:
        return any(_inside(piece, p) and not _gone(own, piece.back(p)) for piece, own in cuts)

    return here


def _inside(piece: Piece, p: Vec) -> bool:
    low, high = piece.box
    return all(low[i] <= p[i] <= high[i] for i in range(3))


def _gone(cuts: Sequence[Cut], p: Vec) -> bool:
    return any(
        (isinstance(cut, LevelCut) and cut.clears(p)) or (isinstance(cut, HoleCut) and _in(cut, p))
        for cut in cuts
    )


def _in(cut: HoleCut, p: Vec) -> bool:
    for at in cut.at:
        v = plus(p, at, -1.0)
        deep = -dot(v, cut.face.normal)
        radial = plus(v, cut.face.normal, deep)
        if (cut.through or 0 <= deep <= cut.depth) and dot(radial, radial) < cut.diameter**2 / 4:
            return True
    return False
