"""Finds the features that hang on others: holes that start on the floor that another leaves."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from math import hypot

from barstock.drawing.build import Feature, Part, Vec
from barstock.methods.cuts import Cut, HoleCut, LevelCut
from barstock.methods.kind import Kind

BELOW = 0.05  # a hole that starts so far under its face starts on a floor [mm]


def hanging_on(names: Collection[str], part: Part, kinds: Mapping[str, Kind]) -> dict[str, str]:
    """The features that cannot be made before some others are, each with the one it hangs on.

    What hangs on one that hangs is found as well.
    """
    cuts = {f.name: list(_cuts(f, part, kinds)) for f in part.features}
    found: dict[str, str] = {}
    left = [name for name in names if name in cuts]
    while left:
        first = left.pop()
        for name, own in cuts.items():
            if name in names or name in found:
                continue
            if any(
                _starts_in(hole, cuts[first], part) for hole in own if isinstance(hole, HoleCut)
            ):
                found[name] = first
                left.append(name)
    return found


def _cuts(feature: Feature, part: Part, kinds: Mapping[str, Kind]) -> Iterator[Cut]:
    for way in kinds[feature.kind].ways(feature.spec, part)[:1]:
        yield from way.cuts


def _starts_in(hole: HoleCut, cuts: Collection[Cut], part: Part) -> bool:
    """Does a hole start under its face, where one of the cuts has taken what lay over it?"""
    axis, sign = hole.face.axis, hole.face.sign
    face = part.size[axis] if sign > 0 else 0.0
    for at in hole.at:
        deep = (face - at[axis]) * sign
        if deep < BELOW:
            continue
        above = list(at)
        above[axis] += sign * BELOW / 2
        over = (above[0], above[1], above[2])
        if any(_clears(cut, over) for cut in cuts):
            return True
    return False


def _clears(cut: Cut, point: Vec) -> bool:
    if isinstance(cut, LevelCut):
        return cut.clears(point)
    if not isinstance(cut, HoleCut):
        return False
    axis, sign = cut.face.axis, cut.face.sign
    i, j = (axis + 1) % 3, (axis + 2) % 3
    wide = max(cut.diameter, cut.counterbore[0] if cut.counterbore else 0.0) / 2
    return any(
        hypot(point[i] - at[i], point[j] - at[j]) < wide
        and -BELOW <= (at[axis] - point[axis]) * sign <= cut.depth
        for at in cut.at
    )
