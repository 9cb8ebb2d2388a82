"""What may be left to hand work: features whose limits allow marking out, filing and drilling."""

from __future__ import annotations

from collections.abc import Mapping

from barstock.drawing.build import Feature, Part
from barstock.handbook.hand_limits import DEEP_BY_HAND
from barstock.methods.cuts import Cut, HoleCut, LevelCut, Way
from barstock.methods.hand_checks import wide_enough
from barstock.methods.kind import Kind

OPEN = 2  # walls round a floor that a saw and a file still get at, at most; common practice
BY_HAND = ("drilled", "tapped")  # holes that are made to a punched mark


def allows_hand_work(feature: Feature, part: Part, kinds: Mapping[str, Kind]) -> bool:
    """Can a feature be marked out and made by hand, within its limits?"""
    return any(map(_by_hand, kinds[feature.kind].ways(feature.spec, part)))


def _by_hand(way: Way) -> bool:
    return all(
        _within_reach(cut)
        and all(wide_enough(check, isinstance(cut, HoleCut)) for check in cut.checks)
        for cut in way.cuts
    )


def _within_reach(cut: Cut) -> bool:
    """Does a saw, a file or a hand-held drill get at what is to be cut away?"""
    if isinstance(cut, LevelCut):
        return len(cut.walls) <= OPEN
    if isinstance(cut, HoleCut):
        deep = (cut.thread_depth or cut.depth) if cut.thread else cut.depth
        return cut.finish in BY_HAND and not cut.flat and deep <= DEEP_BY_HAND * cut.diameter
    return True
