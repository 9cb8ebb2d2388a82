"""Springs as asked for: these functions take texts, or a build's folder, and give choices, winding
and matching.

Every function raises WrongUseError, with what to write instead, for what cannot be worked out.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from barstock.errors import WrongUseError, asked_for
from barstock.reading.faults import nearest

if TYPE_CHECKING:
    from barstock.mechanism.springs.spring_matching import Matched
    from barstock.mechanism.springs.spring_winding import Trial
    from barstock.mechanism.springs.springs_of_build import Fitted

Folder = str | os.PathLike[str]


def spring(given: Mapping[str, str], hollows: Sequence[str] = ()) -> Fitted:
    """The springs that would do for what is wanted of one, the best first.

    given: figures by their names in build.yaml ("load", "rest deflection", "travel", "rod", ...).
    hollows: diameter x depth of those it stands in.

    >>> one = spring({"load": "30 N", "rest deflection": "2.5", "travel": "2"}, ["6 x 10"])
    >>> one.taken.spring.wire
    1.0
    """
    from barstock.mechanism.springs.spring_pockets import room
    from barstock.mechanism.springs.spring_request import asked
    from barstock.mechanism.springs.springs_of_build import fit

    with asked_for():
        wanted = asked(given, hollows)
        return fit(wanted, room(wanted.hollows, None), wanted.load)


def springs(folder: Folder, name: str | None = None) -> dict[str, Fitted]:
    """The springs of a build, or one of them, by name. Raises FaultyError besides."""
    from barstock import api
    from barstock.mechanism.springs.springs_of_build import fitted

    build, *_ = api.readable(folder)
    with asked_for():
        found = fitted(build)
    if not found:
        raise WrongUseError(f"{folder} has no springs; write them under 'mechanism: springs:'")
    if name is not None and name not in found:
        raise WrongUseError(f"there is no spring '{name}'; {nearest(name, found)}")
    return found if name is None else {name: found[name]}


def trial(text: str) -> Trial:
    """A trial coil, read from "mandrel:outside" or "mandrel:outside:feed:length", in mm.

    >>> trial("3.2:5.9").mandrel, trial("3.2:5.9:1.6:8.8").length
    (3.2, 8.8)
    """
    from barstock.mechanism.springs.spring_winding import Trial
    from barstock.quantities import parse_length

    sizes = text.split(":")
    if len(sizes) not in (2, 4):
        raise WrongUseError(
            f"'{text}' is no trial coil; write MANDREL:OUTSIDE, 3.2:5.9, or with what its length "
            "tells MANDREL:OUTSIDE:FEED:LENGTH, 3.2:5.9:1.6:8.8"
        )
    with asked_for():
        return Trial(*(parse_length(size) for size in sizes))


def match(
    measured: str, folder: Folder | None = None, name: str | None = None, each: int = 1
) -> Matched:
    """Match measured springs to places: loads at one length [N], in the order they lie, "12.1 11.8
    ...".

    With a build, to its boxes by the loads they carry, laden; without, to places that carry alike.
    each: springs at a place, of a build as it says.
    """
    from barstock.mechanism.springs.spring_matching import matched

    with asked_for():
        loads = [_load(text) for text in measured.replace(",", " ").split()]
        if folder is None:
            wanted = {f"place {n}": 1.0 for n in range(1, len(loads) // each + 1)}
            return matched(loads, wanted, each)
    wanted, each = _places(folder, name)
    with asked_for():
        return matched(loads, wanted, each)


def _load(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise WrongUseError(f"'{text}' is no load; write them in N, 12.1 11.8 …") from None


def _places(folder: Folder, name: str | None) -> tuple[dict[str, float], int]:
    """The boxes a spring stands at, with the load it carries there, and how many at each."""
    from barstock import api
    from barstock.mechanism.springs.springs_of_build import fitted
    from barstock.mechanism.vehicle.vehicle_at_rest import level, stand
    from barstock.mechanism.vehicle.vehicle_model import build_model

    build, *_ = api.readable(folder)
    mechanism = build.mechanism
    if mechanism is None or mechanism.vehicle is None or mechanism.track is None:
        raise WrongUseError(f"{folder} has no vehicle and track under 'mechanism'")
    vehicle = mechanism.vehicle
    names = [axle.spring for axle in vehicle.axles if axle.spring]
    name = name or (names[0] if names else "")
    axles = [axle for axle in vehicle.axles if axle.spring == name]
    if not axles:
        raise WrongUseError(f"no box stands on a spring '{name}'; {nearest(name, names)}")
    with asked_for():
        stiff = {each: one.stiffness for each, one in fitted(build).items() if one.count}
        model = build_model(vehicle, mechanism.track, stiff, laden=True)
        boxes = stand(model, level(model)).boxes
    return {box: boxes[box].spring or 0.0 for a in axles for box in a.boxes}, axles[0].springs
