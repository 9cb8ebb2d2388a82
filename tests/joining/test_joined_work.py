"""A fabrication through all of it: joined, machined as one, proved, its fixture with it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Build
from barstock.methods.drawn_solid import drawn_solid
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Operation, Plunge, Route
from barstock.route.work_done import ALL, Standing

SMALL = Path(__file__).parent / "small"


@pytest.fixture(scope="module")
def stand() -> tuple[Build, Route]:
    """The small stand planned, only if you do not modify it."""
    build, workshop = api.read(SMALL)
    return build, plan_build(build, workshop)


def test_every_part_comes_out_as_drawn_and_the_fixture_too(stand: tuple[Build, Route]) -> None:
    build, route = stand
    proof = prove(route, build)
    assert [str(v) for v in proof.violations] == []
    assert {part.part for part in proof.parts} == {"cheek", "bridge", "stand", "stand fixture"}
    assert max(part.deviation for part in proof.parts) < 0.01


def test_pieces_and_fixture_are_made_before_the_whole_is_machined(
    stand: tuple[Build, Route],
) -> None:
    _, route = stand
    works = [bar.part for s in route.setups for bar in route.bars if s.work == bar.id]
    assert set(works) == {"cheek", "bridge", "stand fixture"}
    places = [n for n, s in enumerate(route.setups) if s.work == "stand"]
    assert places == list(range(places[0], len(route.setups)))
    assert route.fabrications[0].after == route.setups[places[0] - 1].id
    # what is left over is filed first: 1.5 mm at either end
    first = [o.id for n in places for o in route.setups[n].operations][:2]
    assert first == ["stand/left end/file", "stand/right end/file"]


def test_the_hole_of_a_fixing_screw_leads_the_drill(stand: tuple[Build, Route]) -> None:
    _, route = stand
    steps = [o.id.rpartition("/")[2] for s in route.setups if s.work == "stand"
             for o in s.operations if "screws" in o.id]  # fmt: skip
    assert steps == ["drill", "tap"]


def test_the_solid_of_the_whole_is_its_pieces_together(stand: tuple[Build, Route]) -> None:
    part = stand[0].part("stand")
    assert part.joined is not None
    solid = [replace(p, part=replace(p.part, features=())) for p in part.joined.pieces]
    filed = tuple(f for f in part.features if f.kind == "flush")
    bare = replace(part, joined=replace(part.joined, pieces=tuple(solid)), features=filed)
    whole = drawn_solid(bare)
    # two cheeks 30 x 16 x 8, and the bridge 16 x 6, its ends filed off to 40 long
    assert whole.volume == pytest.approx(2 * 30 * 16 * 8 + 40 * 16 * 6, abs=1e-6)
    (low, high) = whole.bounds
    assert [b - a for a, b in zip(low, high, strict=True)] == pytest.approx([40, 16, 36], abs=1e-5)


def test_a_piece_that_stands_elsewhere_than_drawn_is_refused(stand: tuple[Build, Route]) -> None:
    build, route = stand
    joined = route.fabrications[0]
    pieces = [
        p.model_copy(update={"shift": (p.shift[0], p.shift[1] + 0.5, p.shift[2])})
        if p.name == "bridge"
        else p
        for p in joined.pieces
    ]
    moved = joined.model_copy(update={"pieces": tuple(pieces)})
    proof = prove(route.model_copy(update={"fabrications": (moved,)}), build)
    stand_proof = next(part for part in proof.parts if part.part == "stand")
    assert not stand_proof.ok
    assert stand_proof.deviation == pytest.approx(0.5, abs=0.05)


def test_a_route_that_forgets_the_joining_is_refused(stand: tuple[Build, Route]) -> None:
    build, route = stand
    proof = prove(route.model_copy(update={"fabrications": ()}), build)
    assert "the route does not say how it is joined" in " ".join(map(str, proof.violations))


def test_drilling_before_the_rough_end_is_filed_is_refused(stand: tuple[Build, Route]) -> None:
    build, route = stand
    filed = [s for s in route.setups if any("end/file" in o.id for o in s.operations)]
    others = [s for s in route.setups if s not in filed]
    proof = prove(route.model_copy(update={"setups": (*others, *filed)}), build)
    said = " ".join(str(v) for v in proof.violations)
    assert "end is still as sawn and stand/screws/drill is measured from it" in said


def test_the_fixture_holds_the_feet_where_the_cheeks_have_them(stand: tuple[Build, Route]) -> None:
    _, route = stand
    block = route.fabrications[0].fixture
    assert block is not None
    # 43 mm of work and 6 mm past either end: 55 long, so that its left end is 7.5 mm to the left of
    # the whole's; the cheeks' middles are 4 and 36 mm from there
    assert [hole.left for hole in block.holes] == pytest.approx([11.5, 43.5])
    assert [hole.locates for hole in block.holes] == [True, False]
    assert block.holes[1].shift > 0.1  # brass outgrows steel


def test_one_heat_makes_both_joints_and_the_careful_order_stands_beside_it(
    stand: tuple[Build, Route],
) -> None:
    _, route = stand
    joined = route.fabrications[0]
    assert [heat.joints for heat in joined.heats] == [("left", "right")]
    assert joined.careful[0] == 2
    # brass goes into the pickle; the steel fixture is not in it
    assert joined.cleaning is not None
    assert [name for dip in joined.cleaning.dips for name, _ in dip.things] == ["stand"]
    assert not joined.cleaning.by_hand


def test_what_is_done_of_the_whole_stays_and_the_rest_is_planned_anew(
    stand: tuple[Build, Route],
) -> None:
    build, route = stand
    _, workshop = api.read(SMALL)
    done = {o.id: ALL for s in route.setups if s.work != "stand" for o in s.operations}
    done["stand/left end/file"] = ALL
    anew = plan_build(build, workshop, resumed=(route, Standing(done=done)))
    left = [s for s in anew.setups if s.minutes > 0]
    assert {s.work for s in left} == {"stand"}
    operations = [o.id for s in left for o in s.operations]
    assert "stand/left end/file" not in operations
    assert "stand/right end/file" in operations
    assert prove(anew, build).ok


def test_the_hours_hold_the_hearth_and_so_does_the_bound(stand: tuple[Build, Route]) -> None:
    summary = stand[1].summary
    # one heat of 20 minutes and 10 of cleaning, by the shop's times
    assert summary.hearth_hours == pytest.approx(0.5, abs=1e-3)
    setups = sum(summary.minutes_by_setup.values()) / 60
    assert summary.hours == pytest.approx(setups + summary.hearth_hours, abs=0.002)
    assert 0.5 < summary.bound_hours <= summary.hours
    assert summary.one_part_at_a_time_hours >= summary.hours - 0.01


def test_a_tap_that_bottoms_before_its_thread_is_full_is_refused(
    stand: tuple[Build, Route],
) -> None:
    """M4, 12 deep: the bluntest tap's lead of 1.5 pitches takes 1.05 mm, the drill leaves 0.5."""
    build, route = stand
    spoilt = []
    for setup in route.setups:
        operations = tuple(_shallow(o) if o.id == "stand/screws/drill" else o
                           for o in setup.operations)  # fmt: skip
        spoilt.append(setup.model_copy(update={"operations": operations}))
    said = " ".join(str(v) for v in prove(route.model_copy(update={"setups": tuple(spoilt)}),
                                          build).violations)  # fmt: skip
    assert "bottoms before its thread is full: its hole goes 0.50 mm below" in said


def _shallow(operation: Operation) -> Operation:
    """The drilling 12.5 mm deep where it is written 16."""
    moves = tuple(
        m.model_copy(update={"z": m.z + 3.5}) if isinstance(m, Plunge) else m
        for m in operation.moves
    )
    return operation.model_copy(update={"moves": moves})
