"""A vehicle against MuJoCo, a physics engine of another house: real geometry, its own contacts.

The engine's body is free in space, its axles slide and roll in it, its springs are drawn from place
to place, its wheels stand on rails of their own height. It knows nothing of leaning, of rows of
coordinates or of small angles: what agrees was worked out twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from math import pi
from typing import Any

import mujoco
import numpy as np
import pytest

from barstock.drawing.track_measured import Track
from barstock.drawing.vehicle import Axle, Bearers, Bogie, Equaliser, Mass, Vehicle
from barstock.mechanism.vehicle.vehicle_at_rest import level, stand
from barstock.mechanism.vehicle.vehicle_model import Stiffness, build_model
from barstock.mechanism.vehicle.vehicle_sway import sway
from barstock.reading.faults import Place

MM = 1e-3
TRACK = Track(gauge=127, tread=140)
STIFFNESS = Stiffness(rate=12.0, stop=8.0)
UNLOADED = 16.5
"""Length of a spring [mm]."""
VEHICLE = Vehicle(
    masses=(Mass("body", 9, 10, 5, 95, (320, 170, 70)),),
    load=(Mass("slate", 16, 0, 0, 130, (280, 150, 60)),),
    axles=(Axle("front", 110, 1.4, "coil", 2), Axle("rear", -110, 1.4, "coil", 2)),
    wheel=38,
    centres=102,
    place=Place("build.yaml", 1, 1),
)
FREE = '<freejoint name="body"/>'
HELD = (
    f'<joint type="hinge" axis="1 0 0" pos="0 0 {38 * MM}"/>'
    f'<joint type="hinge" axis="0 1 0" pos="0 0 {38 * MM}"/>'
    '<joint type="slide" axis="0 0 1"/>'
)
"""Free in space; and held where horns hold it, at the axles' height, to sway only."""


COACH = replace(
    VEHICLE,
    axles=tuple(
        Axle(name, along, 1.4, "coil", 2, bogie)
        for name, along, bogie in (
            ("one", 330, "fore"), ("two", 250, "fore"),
            ("three", -250, "aft"), ("four", -330, "aft"),
        )
    ),
    bogies=(
        Bogie("fore", 290, Mass("", 3, 290, 0, 55, (150, 90, 20)), 80, Bearers(90, 0, "coil", 3)),
        Bogie("aft", -290, Mass("", 3, -290, 0, 55, (150, 90, 20)), 80),
    ),
)  # fmt: skip
"""Two bogies: one carries the body by springs under its side bearers, the other by its pivot."""
LEVERED = replace(VEHICLE, equalisers=(Equaliser("beam", ("rear left", "rear right"), pivot=0.4),))
"""The rear axle's springs bear on a lever across, pivoted a little left of its middle."""


def scene(
    rails: Mapping[str, float],
    joint: str,
    raised: float,
    vehicle: Vehicle = VEHICLE,
    sunk: Mapping[str, float] | None = None,
) -> Any:
    """The engine's model. raised: of the masses, so that they are at their heights once sunk [mm];
    sunk: by how much a bogie's are, by its name.

    What rails are higher or lower by is under every wheel from the start.
    """
    tendons = ground = ""
    parts = {bogie.name: "" for bogie in vehicle.bogies}
    body = "".join(blocks(vehicle.masses + vehicle.load, raised))
    for lever in vehicle.equalisers:
        body += beam(vehicle, lever)
    levered = [box for lever in vehicle.equalisers for box in lever.between]
    for axle in vehicle.axles:
        on = ""
        x, r = axle.along * MM, vehicle.wheel * MM
        below = '<joint type="slide" axis="0 0 1"/><joint type="hinge" axis="1 0 0"/>'
        for box, side in zip(axle.boxes, (1, -1), strict=True):
            name = box.replace(" ", "_")
            y, b = side * TRACK.tread / 2 * MM, side * vehicle.centres / 2 * MM
            below += f'<geom name="{name}" type="sphere" size="0.001" pos="0 {y} {0.001 - r}" '
            below += 'mass="0" condim="1"/>'
            below += f'<geom type="sphere" size="0.001" pos="0 {y} 0" mass="{axle.mass / 2}" '
            below += 'contype="0" conaffinity="0"/>'
            below += f'<site name="{name}_low" pos="0 {b} 0"/>'
            if box not in levered:
                on += f'<site name="{name}_high" pos="{x} {b} {r + UNLOADED * MM}"/>'
            tendons += spring(name, axle.springs)
            ground += f'<geom name="{name}_rail" type="box" size="0.02 0.02 0.05" condim="1" '
            ground += f'pos="{x} {y} {rails[box] * MM - 0.05}"/>'
        on += f'<body pos="{x} 0 {r}">{below}</body>'
        if axle.bogie:
            parts[axle.bogie] += on
        else:
            body += on
    for bogie in vehicle.bogies:
        down = (sunk or {})[bogie.name]
        at = f"{bogie.along * MM} 0 {(bogie.pivot + down) * MM}"
        own = "".join(blocks((bogie.frame,), down))
        own += f'<joint type="hinge" axis="1 0 0" pos="{at}"/>'
        own += f'<joint type="hinge" axis="0 1 0" pos="{at}"/>'
        if bogie.bearers is not None:
            own = '<joint type="slide" axis="0 0 1"/>' + own
            for word, side in (("left", 1), ("right", -1)):
                name, y = f"{bogie.name}_{word}", side * bogie.bearers.apart / 2 * MM
                x, z = bogie.along * MM, (bogie.pivot + down) * MM
                own += f'<site name="{name}_low" pos="{x} {y} {z}"/>'
                body += f'<site name="{name}_high" pos="{x} {y} {z + UNLOADED * MM}"/>'
                tendons += spring(name, bogie.bearers.springs)
        body += f"<body>{own}{parts[bogie.name]}</body>"
    return mujoco.MjModel.from_xml_string(
        '<mujoco><option timestep="0.0001" gravity="0 0 -9.80665" integrator="implicitfast"/>'
        '<default><geom solref="0.0003 1" solimp="0.999 0.9999 0.00001"/></default>'
        f"<worldbody>{ground}<body>{joint}{body}</body></worldbody>"
        f"<tendon>{tendons}</tendon></mujoco>"
    )


def blocks(masses: Iterable[Mass], raised: float) -> Iterator[str]:
    """Masses that touch nothing."""
    for m in masses:
        long, wide, tall = (side * MM / 2 for side in m.size)
        at = f"{m.along * MM} {m.across * MM} {(m.height + raised) * MM}"
        yield f'<geom type="box" size="{long} {wide} {tall}" pos="{at}" mass="{m.mass}" '
        yield 'contype="0" conaffinity="0"/>'


def spring(name: str, springs: int) -> str:
    """Springs side by side, drawn from a place that is low to one that is high."""
    return (
        f'<spatial stiffness="{STIFFNESS.rate * springs * 1000}" damping="60" '
        f'springlength="{UNLOADED * MM}"><site site="{name}_low"/>'
        f'<site site="{name}_high"/></spatial>'
    )


def beam(vehicle: Vehicle, lever: Equaliser) -> str:
    """A lever across, over its axle's boxes; it weighs next to nothing."""
    left, right = (vehicle.centres / 2 * side * MM for side in (1, -1))
    axle = next(axle for axle in vehicle.axles if lever.between[0] in axle.boxes)
    middle = left + (right - left) * lever.pivot
    x, z = axle.along * MM, (vehicle.wheel + UNLOADED) * MM
    ends = "".join(
        f'<site name="{box.replace(" ", "_")}_high" pos="0 {y - middle} 0"/>'
        for box, y in zip(lever.between, (left, right), strict=True)
    )
    return (
        f'<body pos="{x} {middle} {z}"><joint type="hinge" axis="1 0 0"/>{ends}'
        '<geom type="box" size="0.002 0.05 0.002" mass="0.001" contype="0" conaffinity="0"/></body>'
    )


def settled(engine: Any) -> Any:
    """The engine's state once it is at rest."""
    data = mujoco.MjData(engine)
    for _ in range(15000):
        mujoco.mj_step(engine, data)
    return data


def loads(engine: Any, data: Any) -> dict[str, float]:
    """Upward force on each wheel [N]."""
    found = {}
    force = np.zeros(6)
    for n in range(data.ncon):
        contact = data.contact[n]
        mujoco.mj_contactForce(engine, data, n, force)
        names = (engine.geom(contact.geom1).name, engine.geom(contact.geom2).name)
        wheel = next(name for name in names if not name.endswith("_rail"))
        upward = contact.frame.reshape(3, 3).T @ force[:3]
        found[wheel.replace("_", " ")] = abs(float(upward[2]))
    return found


@pytest.mark.parametrize(
    "rails",
    [
        {"front left": 0.0, "front right": 0.0, "rear left": 0.0, "rear right": 0.0},
        {"front left": 0.9, "front right": -0.9, "rear left": -0.9, "rear right": 0.9},
        {"front left": 0.0, "front right": -2.5, "rear left": 0.0, "rear right": 0.0},
        {"front left": 1.5, "front right": -1.5, "rear left": 1.5, "rear right": -1.5},
    ],
    ids=["level", "twist", "dip", "cant"],
)
def test_wheel_loads_at_rest(rails: dict[str, float]) -> None:
    model = build_model(VEHICLE, TRACK, {"coil": STIFFNESS}, laden=True)
    ours = stand(model, rails)
    engine = scene(rails, FREE, -stand(model, level(model)).heave)
    theirs = loads(engine, settled(engine))
    for wheel, load in ours.loads.items():
        assert theirs[wheel] == pytest.approx(load, rel=0.01), wheel


@pytest.mark.parametrize("twist", [1.8, 2.5])
def test_wheel_loads_where_one_wheel_lifts(twist: float) -> None:
    """Top-heavy on too steep a twist: which wheel is off the rail, what the other three carry."""
    vehicle = replace(VEHICLE, centres=180)
    model = build_model(vehicle, TRACK, {"coil": STIFFNESS}, laden=True)
    signs = {"front left": 1, "front right": -1, "rear left": -1, "rear right": 1}
    rails = {box: sign * twist for box, sign in signs.items()}
    ours = stand(model, rails).loads
    engine = scene(rails, FREE, -stand(model, level(model)).heave, vehicle)
    theirs = loads(engine, settled(engine))
    assert set(theirs) == {wheel for wheel, load in ours.items() if load > 0}
    assert len(theirs) == 3
    for wheel, load in theirs.items():
        # the engine turns bodies by sines, not by small angles
        assert ours[wheel] == pytest.approx(load, abs=0.005 * sum(ours.values())), wheel


@pytest.mark.parametrize("twist", [0.0, 0.004], ids=["level", "twist"])
@pytest.mark.parametrize("vehicle", [COACH, LEVERED], ids=["bogies", "lever"])
def test_wheel_loads_of_bogies_and_levers(vehicle: Vehicle, twist: float) -> None:
    model = build_model(vehicle, TRACK, {"coil": STIFFNESS}, laden=True)
    rails = {
        box: side * twist * axle.along / 2
        for axle in vehicle.axles
        for box, side in zip(axle.boxes, (1, -1), strict=True)
    }
    ours = stand(model, rails)
    at_rest = stand(model, level(model))
    sunk = {body.name: -float(at_rest.q[body.first]) for body in model.bodies}
    engine = scene(rails, FREE, sunk[""], vehicle, sunk)
    theirs = loads(engine, settled(engine))
    assert set(theirs) == set(ours.loads)
    for wheel, load in ours.loads.items():
        assert theirs[wheel] == pytest.approx(load, rel=0.015), wheel
    if twist:  # a lever is there so that it does nearly nothing
        changed = max(abs(ours.loads[w] / at_rest.loads[w] - 1) for w in ours.loads)
        assert changed < 0.02 if vehicle.equalisers else changed > 0.03


def test_free_vibration() -> None:
    """Given a push and let go, undamped: the peaks of its motion's spectrum."""
    model = build_model(VEHICLE, TRACK, {"coil": STIFFNESS}, laden=True)
    at_rest = stand(model, level(model))
    engine = scene(level(model), HELD, -at_rest.heave)
    data = settled(engine)
    engine.tendon_damping[:] = 0
    data.qvel[:3] = (0.02, 0.02, 0.005)
    motion = np.zeros((30000, 3))
    for n in range(len(motion)):
        mujoco.mj_step(engine, data)
        motion[n] = data.qpos[:3]
    spectra = np.abs(
        np.fft.rfft((motion - motion.mean(0)) * np.hanning(len(motion))[:, None], 1 << 18, axis=0)
    )
    peaks = np.fft.rfftfreq(1 << 18, 1e-4)[spectra.argmax(0)]
    found = {mode.name: mode.frequency for mode in sway(model, at_rest).modes}
    assert peaks[0] == pytest.approx(found["roll"], rel=0.01)
    assert peaks[1] == pytest.approx(found["pitch"], rel=0.01)
    assert peaks[2] == pytest.approx(found["bounce"], rel=0.01)
    assert 2 * pi * peaks[2] == pytest.approx((96_000 / 25) ** 0.5, rel=0.01)
