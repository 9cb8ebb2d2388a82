"""A verdict on a vehicle does not hang on the last bits: every input is shaken by rounding's size.

Among the cases are those that stand on edge: on two wheels of twisted track, on a pivot with all
its mass as high as that, on legs of which three would do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from math import inf
from typing import Any

import numpy as np
import pytest

from barstock.drawing.track_measured import Track
from barstock.drawing.vehicle import Axle, Bearers, Bogie, Equaliser, Mass, Vehicle
from barstock.mechanism.vehicle.vehicle_at_rest import Standing, TopplesError, level, stand
from barstock.mechanism.vehicle.vehicle_model import Stiffness, build_model
from barstock.reading.faults import Place

TIMES = 40
SIZES = (-15, -12)
"""Powers of ten between which inputs are changed, as a share."""
LOADS, PLACES = 1e-7, 1e-4
"""What they may change in the end: loads, as a share of the weight; heights [mm] and angles [°]."""


TRACK = Track(gauge=127.0, tread=140.0)


@dataclass(frozen=True)
class Stand:
    """A vehicle put on rails, and a push to the right as a share of its weight."""

    vehicle: Vehicle
    springs: Mapping[str, Stiffness]
    twist: float
    lean: float = 0.0
    dip: float = 0.0
    track: Track = TRACK

    def put(self) -> Standing | str:
        """How it stands, its stops counted from level track; or why it does not."""
        model = build_model(self.vehicle, self.track, self.springs, laden=True)
        rails = {
            box: self.twist * side * (1 if axle.along > 0 else -1)
            for axle in self.vehicle.axles
            for box, side in zip(axle.boxes, (1, -1), strict=True)
        }
        rails["front left"] -= self.dip
        try:
            return stand(model, rails, lean=self.lean, laden=stand(model, level(model)))
        except TopplesError as wrong:
            return str(wrong)


def wagon(height: float, mass: float = 20.0, *, axle: float = 1.0, **other: Any) -> Vehicle:
    ends = tuple(Axle(n, x, axle, "coil", 2) for n, x in (("front", 110.0), ("rear", -110.0)))
    body = Mass("body", mass, 0.0, 0.0, height)
    plain = Vehicle((body,), (), ends, 1e-6, 100.0, Place("build.yaml", 1, 1))
    return replace(plain, **other)


def coach(height: float, bearers: Bearers | None) -> Vehicle:
    bogies = tuple(
        Bogie(end, at, Mass(end, 2.0, at, 0.0, 20.0), 30.0, bearers if at > 0 else None)
        for end, at in (("front", 200.0), ("rear", -200.0))
    )
    axles = tuple(
        Axle(name, along, 0.8, "coil", 2, name.split()[0])
        for name, along in (
            ("front", 240.0), ("front 2", 160.0), ("rear", -160.0), ("rear 2", -240.0)
        )
    )  # fmt: skip
    return wagon(height, 30.0, axles=axles, bogies=bogies, wheel=20.0)


COIL = {"coil": Stiffness(12.0)}
SOLID = {"coil": Stiffness(12.0, 1.5)}
LEVER = (Equaliser("beam", ("front left", "front right")),)
RIGID = tuple(Axle(n, x, 1.0) for n, x in (("front", 110.0), ("rear", -110.0)))

STANDS = {
    "level": Stand(wagon(60.0), COIL, 0.0),
    "twisted": Stand(wagon(60.0), COIL, 1.0),
    "a dip": Stand(wagon(60.0), COIL, 0.0, dip=6.0),
    "in a curve": Stand(wagon(60.0), COIL, 1.0, lean=0.1),
    "on two wheels, all low": Stand(wagon(1e-6, 3.0, axle=0.2, centres=200.0), COIL, 30.0),
    "on two wheels, top-heavy": Stand(wagon(40.0, bump=0.8, rebound=0.5), COIL, 9.0),
    "springs solid": Stand(wagon(60.0), SOLID, 0.5),
    "all hard": Stand(wagon(60.0, axles=RIGID), {}, 0.0),
    "a lever": Stand(wagon(60.0, equalisers=LEVER), COIL, 2.0),
    "high, and stays": Stand(wagon(1200.0), COIL, 0.0),
    "side bearers": Stand(coach(90.0, Bearers(90.0)), COIL, 1.0),
    "side bearers with a gap": Stand(coach(90.0, Bearers(90.0, 1.0)), COIL, 0.0),
}
FALLS = {
    "too high": Stand(wagon(1250.0), COIL, 0.0),
    "pushed over": Stand(wagon(60.0), COIL, 1.0, lean=1.2),
    "nothing against rolling": Stand(coach(90.0, None), COIL, 0.0),
}


def shaken(x: Any, by: np.random.Generator, share: float) -> Any:
    """Every number in it changed by about a share of itself, of one where it is nothing."""
    if isinstance(x, float) and abs(x) < inf:
        return x + (x or 1.0) * share * by.uniform(-1, 1)
    if isinstance(x, tuple):
        return tuple(shaken(each, by, share) for each in x)
    if isinstance(x, dict):
        return {name: shaken(each, by, share) for name, each in x.items()}
    if is_dataclass(x) and not isinstance(x, type):
        return type(x)(**{f.name: shaken(getattr(x, f.name), by, share) for f in fields(x)})
    return x


@pytest.mark.parametrize("name", STANDS)
def test_it_stands_and_stands_alike(name: str) -> None:
    case, by = STANDS[name], np.random.default_rng(13)
    plain = case.put()
    assert isinstance(plain, Standing), plain
    weight = sum(plain.loads.values())
    for _ in range(TIMES):
        found = shaken(case, by, 10.0 ** by.uniform(*SIZES)).put()
        assert isinstance(found, Standing), found
        for box, load in plain.loads.items():
            assert found.loads[box] == pytest.approx(load, abs=LOADS * weight)
        for link, force in plain.links.items():
            assert found.links[link] == pytest.approx(force, abs=LOADS * weight)
        places = (found.heave, found.roll, found.pitch)
        assert places == pytest.approx((plain.heave, plain.roll, plain.pitch), abs=PLACES)


@pytest.mark.parametrize("name", FALLS)
def test_it_falls_and_falls_alike(name: str) -> None:
    case, by = FALLS[name], np.random.default_rng(13)
    plain = case.put()
    assert isinstance(plain, str)
    for _ in range(TIMES):
        assert shaken(case, by, 10.0 ** by.uniform(*SIZES)).put() == plain
