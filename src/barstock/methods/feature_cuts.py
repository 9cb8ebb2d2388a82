"""The cuts that features ask for, where it does not matter of what kind a feature is."""

from __future__ import annotations

from barstock import methods
from barstock.drawing.build import Face, Feature, Part, Vec
from barstock.drawing.part import Joined, ScrewHole
from barstock.methods.cuts import Cut, FlushCut, HoleCut


def cuts_of(part: Part) -> list[Cut]:
    """The cuts that a part's features ask for, each made the best way, in its frame."""
    return [cut for feature in part.features for cut in _first(feature, part)]


def hole_of(feature: Feature, part: Part) -> HoleCut | None:
    """The round holes of a feature that makes nothing else, all alike; None of any other."""
    if not methods.KINDS[feature.kind].round_holes:
        return None
    cut = _first(feature, part)[0]  # before its far mouth
    return cut if isinstance(cut, HoleCut) else None


def screw_hole(joined: Joined, hole: ScrewHole) -> HoleCut:
    """The hole of a piece that a fixing screw goes through or into, in the piece's frame."""
    cut = hole_of(hole.feature, joined.piece(hole.piece).part)
    assert cut is not None, hole.feature.name
    return cut


def axes_of(joined: Joined, hole: ScrewHole) -> list[tuple[Vec, Face]]:
    """Where the holes of a piece lie in the whole, and the face they are entered from."""
    piece, cut = joined.piece(hole.piece), screw_hole(joined, hole)
    return [(piece.at(at), piece.looking(cut.face)) for at in cut.at]


def filed_flush(part: Part) -> dict[str, FlushCut]:
    """The features that file what stands proud of a face level, and how they do."""
    return {
        feature.name: cut
        for feature in part.features
        for cut in _first(feature, part)
        if isinstance(cut, FlushCut)
    }


def _first(feature: Feature, part: Part) -> tuple[Cut, ...]:
    return methods.KINDS[feature.kind].ways(feature.spec, part)[0].cuts
