"""The sample wagon rides; bogies and levers are read from a build as they are written."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from typer.testing import CliRunner

from barstock.cli.commands import app
from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.mechanism.ride import NothingToRideError, ride
from barstock.mechanism.ride_chart import run_chart
from barstock.mechanism.ride_words import record, ride_lines, verdicts
from barstock.mechanism.springs.springs_of_build import DeflectionsError, fitted
from barstock.methods import KINDS
from barstock.reading.amounts import G

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"
WAGON = SAMPLES / "wagon"


def built(folder: Path) -> Build:
    build = read_build(folder, KINDS).build
    assert build is not None
    return build


def test_the_sample_wagon_rides() -> None:
    found = ride(built(WAGON))
    assert found.holds
    laden = found.states["laden"].standing
    # 9 and 16 kg on eight springs alike; 2.5 mm is what they were chosen to give
    for box in laden.boxes.values():
        assert box.spring == pytest.approx(25 * G / 8)
        assert box.shortened == pytest.approx(2.5)
    assert found.sinks == pytest.approx(2.5 * 16 / 25)
    assert sum(laden.loads.values()) == pytest.approx(27.8 * G)
    assert all(one.standing.residual < 1e-8 for one in found.passings)
    spring = found.springs["axlebox spring"]
    assert spring.count == 8
    assert spring.room.diameter == pytest.approx(5.9)  # a 6 mm pocket by the general tolerance
    assert spring.room.depth == 10  # 6 in the box, 4 in the seat
    runs = [state.run for state in found.states.values()]
    assert all(run and 0 < run.unloading < 1 for run in runs)


def test_it_says_so_and_defers() -> None:
    found = ride(built(WAGON))
    words = "\n".join(ride_lines(found))
    assert "60% is the most allowed" in words
    # the rail 2 low under one wheel of four, 139.7 across: 0.82°, of which the frame takes half
    assert "the track asks that the box leading left tilts 0.41°" in words
    assert "insurer" in words
    assert all(verdict.holds is not False for verdict in verdicts(found))
    assert json.loads(json.dumps(record(found), allow_nan=False))["holds"] is True


def test_a_spring_may_stand_in_a_hole_of_a_fabrication(tmp_path: Path) -> None:
    text = (WAGON / "build.yaml").read_text(encoding="utf-8")
    for feature, faults in (("hanger screws", 0), ("hanger screw", 1)):
        other = text.replace("[axlebox/spring pockets,", f"[horn frame/{feature},")
        (tmp_path / "build.yaml").write_text(other, encoding="utf-8")
        told = [str(fault) for fault in read_build(tmp_path, KINDS).faults]
        assert sum("no feature of the build" in line for line in told) == faults


def test_a_build_without_a_vehicle_has_nothing_to_ride() -> None:
    with pytest.raises(NothingToRideError, match="no vehicle"):
        ride(built(SAMPLES / "new"))


BOGIES = """
build: Coach
parts: {}
mechanism:
  springs:
    coil: {rest deflection: 4, travel: 3}
    bearer coil: {wound: {wire: 2 mm, outside: 16, turns: 7, free length: 32}}
  vehicle:
    masses:
      body: {mass: 40 kg, height: 200, along: 20, length: 900, width: 220, tall: 200}
    load:
      driver: {mass: 75 kg, height: 420, along: -60}
    axles:
      one: {along: 340, mass: 2 kg, spring: coil, springs: 2, bogie: front}
      two: {along: 260, mass: 2 kg, spring: coil, springs: 2, bogie: front}
      three: {along: -260, mass: 2 kg, spring: coil, springs: 2, bogie: rear}
      four: {along: -340, mass: 2 kg, bogie: rear}
    equalisers:
      beam across: {between: [four left, four right], spring: coil, springs: 4}
    wheel: 90
    spring centres: 150
    bogies:
      front: {along: 300, mass: 4 kg, height: 70, pivot height: 110,
              side bearers: {apart: 130, spring: bearer coil, springs: 6}}
      rear: {along: -300, mass: 4 kg, height: 70, pivot height: 110}
  track:
    gauge: 127
    twist: 1 in 100
"""


def test_a_coach_on_bogies_with_levers(tmp_path: Path) -> None:
    text = BOGIES.replace("parts: {}", "parts:\n  pad: {material: brass, length: 20, width: 12, "
                          "height: 10}")  # fmt: skip
    (tmp_path / "build.yaml").write_text(text)
    assert [str(fault) for fault in read_build(tmp_path, KINDS).faults] == []
    found = ride(built(tmp_path))
    laden = found.states["laden"].standing
    # about the rear pivot, 600 behind the front one; what it pitches shifts it a little
    front = G * (40 * 320 + 75 * 240) / 600
    loads = {box: load for box, load in laden.loads.items() if box.split()[0] in ("one", "two")}
    assert sum(loads.values()) == pytest.approx(front + 8 * G, rel=5e-3)
    assert sum(laden.loads.values()) == pytest.approx(131 * G)
    # a lever with its pivot midway loads both its boxes alike, on twisted track too
    twisted = next(one.standing for one in found.passings if "twisted" in one.case)
    left, right = (twisted.links["box", f"four {side}"] for side in ("left", "right"))
    assert left == pytest.approx(right)
    assert found.springs["bearer coil"].load > 0


THREE_AXLES = """
build: Coach
parts:
  pad: {material: brass, length: 20, width: 12, height: 10}
mechanism:
  springs:
    outer coil: {rest deflection: 3}
    middle coil: {rest deflection: MIDDLE}
  vehicle:
    masses: {body: {mass: 40 kg, height: 100, length: 900, width: 220, tall: 100}}
    load: {driver: {mass: 75 kg, height: 120}}
    axles:
      one: {along: 200, mass: 2 kg, spring: outer coil}
      two: {along: 0, mass: 2 kg, spring: middle coil}
      three: {along: -200, mass: 2 kg, spring: outer coil}
    wheel: 40
    spring centres: 150
  track: {gauge: 127}
"""


def test_three_axles_cannot_sink_by_different_amounts_on_level_track(tmp_path: Path) -> None:
    """A stiff body on springs of which the middle ones are to give more than those at the ends."""
    (tmp_path / "build.yaml").write_text(THREE_AXLES.replace("MIDDLE", "3"))
    found = fitted(built(tmp_path))
    assert sum(2 * one.load * one.count / 2 for one in found.values()) == pytest.approx(115 * G)
    (tmp_path / "build.yaml").write_text(THREE_AXLES.replace("MIDDLE", "3.5"))
    with pytest.raises(DeflectionsError, match="middle coil"):
        fitted(built(tmp_path))


def test_the_command_of_springs(tmp_path: Path) -> None:
    run = CliRunner().invoke
    told = run(app, ["spring", str(WAGON), "--json"])
    assert told.exit_code == 0
    (data,) = json.loads(told.output)
    assert data["count"] == 8
    assert data["choices"]
    wanted = ["spring", "--load", "25 N", "--deflection", "3", "--travel", "2", "--hollow", "6x10"]
    picture = tmp_path / "choices.svg"
    told = run(app, [*wanted, "--chart", str(picture), "--trial", "3.2:5.8"])
    assert told.exit_code == 0
    assert "mandrel" in told.output
    assert "by your trial coil" in told.output
    assert picture.read_text().startswith("<svg")
    told = run(app, ["spring", "--measured", "10 11 10.4 10.6", "--each", "2"])
    assert told.output.count(", 21 N") == 2  # 10 and 11, 10.4 and 10.6
    # 8 springs of the wagon's, to its own boxes
    told = run(app, ["spring", str(WAGON), "--measured", "9 9 9 9 9 9 9 9"])
    assert "trailing right" in told.output


@pytest.mark.parametrize(
    ("words", "said_so"),
    [
        (["spring", "--load", "2 N"], "how stiff"),
        (["spring", str(WAGON), "axlebox sprig"], "did you mean 'axlebox spring'?"),
        (["spring", str(SAMPLES / "new")], "has no springs"),
        (["spring", "--trial", "3"], "no trial coil"),
        (["spring", str(WAGON), "--measured", "9 9"], "2 springs are measured, but 8 are wanted"),
        (["spring", "--measured", "9 high"], "'high' is no load"),
    ],
)
def test_what_cannot_be_answered(words: list[str], said_so: str) -> None:
    told = CliRunner().invoke(app, words)
    assert told.exit_code == 2
    assert said_so in told.output + (told.stderr if told.stderr_bytes else "")


def test_the_chart_of_a_run_draws_every_wheel() -> None:
    state = ride(built(WAGON)).states["empty"]
    assert state.run is not None
    root = ET.fromstring(run_chart(state.run, "empty"))
    lines = [e for e in root.iter() if e.tag.endswith("polyline")]
    assert len(lines) == 4
    assert len({e.get("stroke-dasharray") for e in lines}) == 4  # told apart without colour
    assert set(state.run.loads) <= {e.text for e in root.iter()}
