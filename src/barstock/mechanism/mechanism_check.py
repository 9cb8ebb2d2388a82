"""This module checks a build's mechanism as a whole.

Its guides are judged by what the track asks; its vehicle rides; its sets of parts are paired as
made.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from barstock.drawing.build import Build
from barstock.drawing.mechanism_wanted import Mechanism
from barstock.mechanism.guides.guide_as_made import MadeSet, made_set
from barstock.mechanism.guides.guide_check import SAMPLES, Judged, judge
from barstock.mechanism.guides.guide_measurements import read_made
from barstock.mechanism.guides.guide_sizes import Variants
from barstock.mechanism.ride import Allowed, Ride, guided, ride
from barstock.quantities import Unit

Tell = Callable[[str, float], None]


class NothingMovesError(ValueError):
    """This is raised where the build says nothing of what is to move."""


@dataclass(frozen=True)
class Moved:
    """A Moved is all that was found of a mechanism.

    guides: judged, by name. ride: None without a vehicle. made: sets as made, by guide.
    """

    build: Build
    guides: dict[str, Judged]
    ride: Ride | None
    made: dict[str, MadeSet]

    @property
    def goes(self) -> bool:
        """Tell whether all of it is well."""
        return (
            all(one.goes for one in self.guides.values())
            and (self.ride is None or self.ride.holds)
            and all(one.goes for one in self.made.values())
        )


def moved(
    of: Variants,
    *,
    made: Path | None = None,
    samples: int = SAMPLES,
    seed: int = 1,
    tell: Tell | None = None,
) -> Moved:
    """Work out all that can be said of a build's guides and vehicle.

    made: a file of sizes as made. Raises NothingMovesError, FaultyError, and what a ride and the
    pairing of a set raise (ValueError, LookupError).
    """
    build, mechanism = of.build, of.build.mechanism
    if mechanism is None or not (mechanism.guides or mechanism.vehicle):
        raise NothingMovesError("the build has neither guides nor a vehicle under 'mechanism'")
    said = tell or (lambda words, share: None)
    said("the ride", 0.0)
    found = ride(build) if mechanism.vehicle is not None and mechanism.track is not None else None
    asked = _most_asked(found) if found is not None else {}
    judged = {}
    for n, guide in enumerate(mechanism.guides):
        start, share = 0.2 + 0.8 * n / len(mechanism.guides), 0.8 / len(mechanism.guides)

        def part_of(words: str, done: float, start: float = start, share: float = share) -> None:
            said(words, start + share * done)

        judged[guide.name] = judge(
            guide, of, asked=asked.get(guide.name), samples=samples, seed=seed, tell=part_of
        )
    sets = _sets(made, mechanism, judged, build) if made is not None else {}
    said("done", 1.0)
    return Moved(build, judged, guided(found, _allowed(judged)) if found else None, sets)


def track_asks(build: Build) -> dict[str, dict[str, float]]:
    """Return the most that a build's track asks of the boxes of its guides [°].

    Nothing is asked without a vehicle.
    """
    has = build.mechanism is not None and build.mechanism.vehicle is not None
    return _most_asked(ride(build)) if has else {}


def _most_asked(found: Ride) -> dict[str, dict[str, float]]:
    """Return the most that the track asks of any box, by guide and motion [°]."""
    most: dict[str, dict[str, float]] = {}
    for one in found.asked:
        motions = most.setdefault(one.guide, {})
        motions[one.motion] = max(one.asked, motions.get(one.motion, 0.0))
    return most


def _allowed(judged: Mapping[str, Judged]) -> Allowed:
    """Return how far the guides let a box go."""
    return {
        name: {motion: freedom.amount for motion, freedom in one.freedoms.items()}
        for name, one in judged.items()
    }


def _sets(
    path: Path, mechanism: Mechanism, judged: Mapping[str, Judged], build: Build
) -> dict[str, MadeSet]:
    guides = {name: (one.guide, one.faces) for name, one in judged.items()}
    units = {build.part(guide.block.part).unit for guide in mechanism.guides}
    measured = read_made(path, guides, units.pop() if len(units) == 1 else Unit.MM)
    return {
        name: made_set(*guides[name], blocks, places) for name, (blocks, places) in measured.items()
    }
