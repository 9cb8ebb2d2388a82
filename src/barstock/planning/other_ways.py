"""Takes out of a build what the person makes another way, before the rest is planned."""

from __future__ import annotations

from dataclasses import replace

from barstock.drawing.build import Build, Part
from barstock.drawing.other_hands import HandFinish, Source
from barstock.route import Left, LeftHow

PARTS = {
    Source.BOUGHT: LeftHow.BOUGHT,
    Source.ELSEWHERE: LeftHow.ELSEWHERE,
    Source.BY_HAND: LeftHow.BY_HAND,
    Source.CAST: LeftHow.CAST,
}
FEATURES = {
    HandFinish.BY_HAND: LeftHow.BY_HAND,
    HandFinish.FILED: LeftHow.FILED,
    HandFinish.WITH_MATE: LeftHow.WITH_MATE,
}


def to_plan(build: Build) -> Build:
    """The build with only what is to be planned: no parts made elsewhere, no features by hand.

    A fabrication keeps its pieces as drawn: they come to it finished.
    """
    parts = tuple(_machined(part) for part in build.parts if part.made is None)
    return replace(build, parts=parts)


def made_otherwise(build: Build) -> tuple[Left, ...]:
    """What the person has said is made another way, in the build's order."""
    found = []
    for part in build.parts:
        if part.made is not None:
            found.append(Left(part=part.name, how=PARTS[part.made]))
            continue
        for finish, how in FEATURES.items():
            names = tuple(f.name for f in part.features if f.by_hand is finish)
            if names:
                found.append(Left(part=part.name, features=names, how=how))
    return tuple(found)


def _machined(part: Part) -> Part:
    return replace(part, features=tuple(f for f in part.features if f.by_hand is None))
