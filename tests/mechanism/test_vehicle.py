"""A vehicle on its springs against statics and closed forms worked beside each check."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, pi, radians, sqrt

import pytest

from barstock.drawing.track_measured import Dip, Joints, Track
from barstock.drawing.vehicle import Axle, Bearers, Bogie, Equaliser, Mass, Vehicle
from barstock.mechanism.ride import guided, ridden
from barstock.mechanism.ride_words import verdicts
from barstock.mechanism.run_over_joints import over
from barstock.mechanism.track_cases import cases, sunk
from barstock.mechanism.vehicle.vehicle_at_rest import TopplesError, level, stand
from barstock.mechanism.vehicle.vehicle_model import Model, Stiffness, build_model
from barstock.mechanism.vehicle.vehicle_sway import sway
from barstock.reading.amounts import G
from barstock.reading.faults import Place

PLACE = Place("build.yaml", 1, 1)
TRACK = Track(gauge=127, tread=140)
LOW = 1e-6
"""Height of everything where leaning is not to count [mm]."""
RATE = 12.0


def wagon(**other: object) -> Vehicle:
    """Two axles, 220 apart, springs 100 apart, all low."""
    body = Mass("body", 20, 0, 0, LOW, (300, 160, 60))
    axles = (Axle("front", 110, 1.0, "coil", 2), Axle("rear", -110, 1.0, "coil", 2))
    plain = Vehicle((body,), (), axles, LOW, 100, PLACE)
    return replace(plain, **other)  # type: ignore[arg-type]


def model(vehicle: Vehicle, **stop: float) -> Model:
    return build_model(vehicle, TRACK, {"coil": Stiffness(RATE, **stop)}, laden=True)


def test_a_mass_off_the_middle_loads_the_wheels_by_its_moments() -> None:
    bare = wagon(masses=(Mass("body", 20, 22, 7, LOW),))
    found = stand(model(bare), level(model(bare)))
    # axles carry 0.5 ± 22/220 of it; alike springs share the moment across, so that each wheel has
    # 7/140/2 of it more or less; and half an axle
    for box, along, across in (
        ("front left", 0.6, 1), ("front right", 0.6, -1),
        ("rear left", 0.4, 1), ("rear right", 0.4, -1),
    ):  # fmt: skip
        share = along / 2 + across * 7 / 140 / 2
        assert found.loads[box] == pytest.approx(20 * G * share + G / 2, rel=1e-9)
    assert found.residual < 1e-9


def test_twisted_track_takes_its_share_of_the_springs() -> None:
    """±h at the wheels: each axle tilts 2h/s, its springs h b/s each way, the wheels k h (b/s)²."""
    found = wagon()
    rails = {"front left": 1.0, "front right": -1.0, "rear left": -1.0, "rear right": 1.0}
    twisted = stand(model(found), rails)
    change = 2 * RATE * 1.0 * (100 / 140) ** 2
    for box, way in rails.items():
        assert twisted.loads[box] == pytest.approx(5 * G + G / 2 + way * change, rel=1e-9)
        # the body stays level, so all the tilt is at the box
        assert twisted.boxes[box].tilt == pytest.approx(
            degrees(2 / 140) * (1 if box.startswith("front") else -1)
        )


def test_a_wheel_lifts_and_carries_nothing_and_nothing_pulls() -> None:
    steep = {"front left": 30.0, "front right": -30.0, "rear left": -30.0, "rear right": 30.0}
    # springs outside the wheels: one that is left hanging is lifted by its axle's other end
    axles = tuple(replace(axle, mass=0.2) for axle in wagon().axles)
    light = wagon(masses=(Mass("body", 3, 0, 0, LOW),), centres=200, axles=axles)
    found = stand(model(light), steep)
    lifted = [box for box, load in found.loads.items() if load == 0]
    assert lifted
    assert all(load >= -1e-9 for load in found.loads.values())
    assert sum(found.loads.values()) == pytest.approx(3.4 * G)
    for box in lifted:
        n = model(light).wheels[box]
        assert found.q[n] >= steep[box] - 1e-9
    assert found.residual < 1e-8


def test_over_a_deep_hole_it_stands_on_three_wheels_as_a_stool_on_its_legs() -> None:
    """Whatever the springs: three loads follow from weight and centre alone."""
    body = Mass("body", 20, 30, 14, LOW)
    # springs outside the wheels, so that an axle's end can hang from them
    of = model(wagon(masses=(body,), centres=200))
    found = stand(of, level(of) | {"rear right": -25.0})
    # moments about the front axle, and about the left wheels: an axle's 1 kg is in its middle
    rear = (20 * G * (110 - 30) + G * 220) / 220
    right = (20 * G * (70 - 14) + 2 * G * 70) / 140
    loads = {"rear right": 0.0, "rear left": rear, "front right": right}
    loads["front left"] = 22 * G - rear - right
    for box, load in loads.items():
        assert found.loads[box] == pytest.approx(load, rel=1e-7, abs=1e-9)
    assert found.q[of.wheels["rear right"]] > -25.0


def test_a_spring_that_runs_solid_becomes_hard() -> None:
    # 20 kg on 4 boxes of 24 N/mm shortens them 2.043 mm; solid at 1.5 the body stops there
    found = stand(model(wagon(), stop=1.5), level(model(wagon())))
    assert found.heave == pytest.approx(-1.5)
    for box in found.boxes.values():
        assert box.shortened == pytest.approx(1.5)
        assert box.left == pytest.approx(0.0, abs=1e-9)
        assert box.spring == pytest.approx(20 * G / 8)


def test_a_box_meets_its_stop_and_its_keep() -> None:
    """Too steep a twist: it stands on two wheels, and, top-heavy, tips on to a third."""
    vehicle = wagon(bump=0.8, rebound=0.5, masses=(Mass("body", 20, 0, 0, 40),))
    of = model(vehicle)
    laden = stand(of, level(of))
    rails = {"front left": 9.0, "front right": -9.0, "rear left": -9.0, "rear right": 9.0}
    found = stand(of, rails, laden=laden)
    rises = [box.rise for box in found.boxes.values()]
    assert max(rises) == pytest.approx(0.8)
    assert min(rises) == pytest.approx(-0.5)
    assert sorted(load > 0 for load in found.loads.values()) == [False, True, True, True]
    assert found.residual < 1e-8


def test_bounce_roll_and_pitch_by_their_closed_forms() -> None:
    high = wagon(masses=(Mass("body", 20, 0, 0, 80, (300, 160, 60)),), wheel=30.0)
    of = model(high)
    found = sway(of, stand(of, level(of)))
    at = {mode.name: mode.frequency for mode in found.modes}
    k, lean = 8 * RATE, 20 * G * 50  # the centre is 50 mm above the axles
    roll, pitch = k * 50**2 - lean, k * 110**2 - lean
    inertia = [20 * 50**2 + 20 / 12 * (a**2 + 60**2) for a in (160, 300)]
    assert at["bounce"] == pytest.approx(sqrt(k * 1000 / 20) / (2 * pi), rel=1e-9)
    assert at["roll"] == pytest.approx(sqrt(roll * 1000 / inertia[0]) / (2 * pi), rel=1e-9)
    assert at["pitch"] == pytest.approx(sqrt(pitch * 1000 / inertia[1]) / (2 * pi), rel=1e-9)
    assert found.heave == pytest.approx(k)
    assert found.roll == pytest.approx(radians(1) * roll / 1000)


def test_a_vehicle_too_high_for_its_springs_falls_over() -> None:
    # 8 · 12 · 50² = 240 000 N mm per radian holds up to 240 000 / (20 G) = 1224 mm above the axles
    for height, stays in ((1200, True), (1250, False)):
        of = model(wagon(masses=(Mass("body", 20, 0, 0.1, height),)))
        if stays:
            left_over = 240_000 - 20 * G * height
            rolls = -degrees(20 * G * 0.1 / left_over)
            assert stand(of, level(of)).roll == pytest.approx(rolls, rel=1e-5)
        else:
            with pytest.raises(TopplesError):
                stand(of, level(of))


def test_a_lever_across_one_axle_makes_three_points_of_four() -> None:
    """Front boxes on a lever: the body rests on three points, and twist takes no load off."""
    lever = (Equaliser("beam", ("front left", "front right")),)
    axles = (Axle("front", 110, 1.0), Axle("rear", -110, 1.0, "coil", 2))
    of = model(wagon(equalisers=lever, axles=axles))
    twist = {"front left": 2.0, "front right": -2.0, "rear left": -2.0, "rear right": 2.0}
    for rails in (level(of), twist):
        found = stand(of, rails)
        assert found.loads["front left"] == pytest.approx(found.loads["front right"])
        assert found.loads["front left"] == pytest.approx(5 * G + G / 2)


def test_a_lever_shares_by_its_pivot() -> None:
    """A third of the way from the first box, that one carries twice what the other does."""
    lever = (Equaliser("beam", ("front left", "rear left"), 1 / 3),)
    of = model(wagon(equalisers=lever))
    found = stand(of, level(of))
    first, second = (found.links["box", f"{end} left"] for end in ("front", "rear"))
    assert first == pytest.approx(2 * second)


def bogied(bearers: Bearers | None) -> Vehicle:
    axles = tuple(
        Axle(f"{end} {n}", along, 0.8, "coil", 2, end)
        for end, middle in (("front", 200), ("rear", -200))
        for n, along in ((1, middle + 40), (2, middle - 40))
    )
    bogies = (
        Bogie("front", 200, Mass("front", 2, 200, 0, LOW), LOW, bearers),
        Bogie("rear", -200, Mass("rear", 2, -200, 0, LOW), LOW),
    )
    return Vehicle((Mass("body", 30, 50, 0, LOW, (600, 180, 80)),), (), axles, LOW, 100, PLACE,
                   bogies=bogies)  # fmt: skip


def test_a_body_on_two_bogies_loads_them_by_its_place() -> None:
    of = model(bogied(Bearers(90)))
    found = stand(of, level(of))
    front = sum(load for box, load in found.loads.items() if box.startswith("front"))
    # pivots 400 apart, the centre 250 from the rear one
    assert front == pytest.approx(30 * G * 250 / 400 + 2 * G + 1.6 * G)
    assert found.residual < 1e-8


def test_without_side_bearers_nothing_holds_the_body_from_rolling_over() -> None:
    of = model(replace(bogied(None), masses=(Mass("body", 30, 0, 1, 90),)))
    with pytest.raises(TopplesError):
        stand(of, level(of))


def test_a_gap_at_a_side_bearer_closes_before_it_carries() -> None:
    """Two pivots only, and bearers with 1 mm gap 45 mm out: the body rolls 1/45 and no further."""
    off = replace(bogied(Bearers(90, 1.0)), masses=(Mass("body", 30, 0, 5, LOW),))
    found = stand(model(off), level(model(off)))
    assert found.links["bearer", "front left"] > 0
    assert found.links["bearer", "front right"] == 0
    frame = found.q[3 + 1]
    assert found.q[1] - frame == pytest.approx(-1 / 45)


def test_the_curve_pushes_the_outer_wheels_down() -> None:
    """v²/R g = 0.1 less the cant's 0.05, taken at the height of each mass: moments about a rail."""
    vehicle = wagon(masses=(Mass("body", 20, 0, 0, 60),), wheel=30.0)
    of = build_model(
        vehicle, TRACK, {"coil": Stiffness(1e6)}, laden=True
    )  # hard: no leaning of its own
    canted = {box: 3.5 if "right" in box else -3.5 for box in of.wheels}
    found = stand(of, canted, lean=0.1)
    right = sum(load for box, load in found.loads.items() if "right" in box)
    push = 0.1 - 7 / 140
    assert right == pytest.approx(11 * G + push * G * (20 * 60 + 2 * 30) / 140, rel=1e-4)


def test_a_dip_is_one_wave_of_a_cosine() -> None:
    assert [sunk(Dip(3, 600), at) for at in (0, 150, 300, 600)] == pytest.approx([0, 1.5, 3, 0])


def test_the_track_is_tried_both_ways() -> None:
    track = replace(TRACK, twist=0.01, dip=Dip(3, 600), radius=6000, cant=3, speed=2.0)
    names = [case.name for case in cases(wagon(), track)]
    for word in ("left", "right"):
        assert f"twisted track, falling to the {word}" in names
        assert f"dip in the {word} rail" in names
        assert f"curve to the {word}, at the highest speed" in names
    twisted = next(c for c in cases(wagon(), track) if "falling to the left" in c.name)
    cross = {end: twisted.rails[f"{end} left"] - twisted.rails[f"{end} right"]
             for end in ("front", "rear")}  # fmt: skip
    assert cross["front"] - cross["rear"] == pytest.approx(0.01 * 220)


def test_a_shaken_wagon_dies_away_at_its_damped_frequency() -> None:
    """A step up of both rails under both axles at once: bounce alone, checked by its overshoot.

    The body overshoots a step by exp(-π ζ/√(1-ζ²)) of it; wheel load falls by k times that.
    """
    vehicle = wagon(damping=0.05)
    of = model(vehicle)
    at_rest = stand(of, level(of))
    swaying = sway(of, at_rest)

    def height(along: float, side: int) -> float:
        return -0.4 if along > -400 else 0.0  # all wheels step down at once, and stay on the rail

    found = over(of, height, 1.0, 900.0, at_rest, at_rest, swaying)
    lost = 24 * 0.4 / at_rest.loads["front left"]  # at once the springs lengthen by the step
    assert found.unloading >= lost * 0.95
    late = found.loads["front left"][-1]
    assert late == pytest.approx(at_rest.loads["front left"], rel=0.05)


def test_slow_bumps_load_the_wheels_as_standing_on_them_would() -> None:
    """At a crawl the run must give what statics give at the same place."""
    track = replace(TRACK, joints=Joints(1.0, 200, 1200, False), speed=0.02)
    vehicle = wagon(masses=(Mass("body", 20, 0, 0, 60, (300, 160, 60)),), wheel=30.0)
    of = build_model(vehicle, track, {"coil": Stiffness(RATE)}, laden=True)
    at_rest = stand(of, level(of))

    def height(along: float, side: int) -> float:
        return -sunk(Dip(1.0, 200), along - 20) if side == 1 else 0.0

    found = over(of, height, 0.2, 240, at_rest, at_rest, sway(of, at_rest))
    least = dict.fromkeys(of.wheels, 1.0)
    for n in range(0, 241, 2):
        rails = {
            box: height(n + axle.along - 110, 1 if "left" in box else -1)
            for axle in vehicle.axles
            for box in axle.boxes
        }
        for box, load in stand(of, rails).loads.items():
            least[box] = min(least[box], load / at_rest.loads[box])
    for box, share in least.items():
        assert found.least[box] == pytest.approx(share, abs=0.01)


def test_what_boxes_may_tilt_is_held_against_what_the_track_asks() -> None:
    axles = tuple(replace(axle, guide="horns") for axle in wagon().axles)
    track = replace(TRACK, twist=0.02)
    for most, good in ((1.2, True), (0.8, False)):
        allowed = {"horns": {"tilt": most}}
        found = guided(ridden(wagon(axles=axles), track, {"coil": Stiffness(RATE)}), allowed)
        # 0.02 · 220 = 4.4 of cross level between the axles, half at each: 2.2 / 140 of a radian
        asked = degrees(2.2 / 140)
        assert found.asked[0].asked == pytest.approx(asked, rel=1e-3)
        told = [v for v in verdicts(found) if "before it touches" in v.words]
        assert [v.holds for v in told] == [good]
        assert f"tilts {most:.2f}°" in told[0].words
        assert f"the track asks {asked:.2f}°" in told[0].words
        assert found.holds is good
