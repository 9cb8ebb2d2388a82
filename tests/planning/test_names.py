"""Features called as the planner calls its own work: they plan, prove and are logged like any."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.bench.entry import Entry, Kind
from barstock.bench.handing_on import standing
from barstock.bench.work import work_of
from barstock.drawing.build import Build, Face, Pin, within
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.explaining import why
from barstock.planning.plan import Planner, plan_build
from barstock.proving.prove import prove
from barstock.route import Operation, Process, Route
from barstock.tolerancing.guarantee import guarantees
from barstock.workshop.shop import BarStock, Workshop

from .conftest import find, sample

LIKE_OURS = ("face top", "face recess", "left end", "right end", "saw", "spot", "drill")
OURS = (Process.FACE, Process.SQUARE, Process.SAW_OFF)
PLAIN = ("a", "b", "c", "d", "e", "f", "g")
BLOCK = """
build: Block
unit: mm
parts:
  block: {material: brass, length: 90, width: 20, height: 16, copies: 2, bar: big, features: {
    NAME0: {kind: slot, face: top, along: width, position: {left: 15}, width: 6, depth: 3 ±0.1},
    NAME1: {kind: slot, face: bottom, along: width, position: {left: 30}, width: 6, depth: 3},
    NAME2: {kind: slot, face: front, along: height, position: {left: 45}, width: 6, depth: 3},
    NAME3: {kind: pocket, face: back, at: {left: 75, height: centre}, length: 12, height: 8,
      corner radius: 3, depth: 3},
    NAME4: {kind: slot, face: top, along: width, position: {left: 60}, width: 6, depth: 3},
    NAME5: {kind: hole, face: top, diameter: 4, depth: 8, at: {left: 75, front: 5}},
    NAME6: {kind: hole, face: top, diameter: 4, thread: M5, depth: through,
      at: {left: 82, front: 10}}}}
"""


def shop() -> Workshop:
    """The wagon's shop with a bar larger than the block all round."""
    bar = BarStock("big", "brass", "rectangle", 25, 22, 500)
    return replace(sample("wagon")[1], rack=(bar,))


def drawn(folder: Path, called: tuple[str, ...]) -> Build:
    text = BLOCK.replace("diameter: 4, thread", "thread")
    for n, name in enumerate(called):
        text = text.replace(f"NAME{n}", name)
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build


@pytest.fixture(scope="module")
def block(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = drawn(tmp_path_factory.mktemp("like_ours"), LIKE_OURS)
    return build, plan_build(build, shop())


def operations(route: Route) -> list[Operation]:
    return [o for setup in route.setups for o in setup.operations]


def test_they_are_planned_as_under_any_other_name(
    block: tuple[Build, Route], tmp_path: Path
) -> None:
    plain = plan_build(drawn(tmp_path, PLAIN), shop())
    assert len(operations(block[1])) == len(operations(plain))
    # of orders alike the search takes one by name, and what follows may then cost a little
    assert block[1].summary.hours == pytest.approx(plain.summary.hours, rel=0.01)


def test_they_are_proved(block: tuple[Build, Route]) -> None:
    build, route = block
    assert prove(route, build).ok


def test_every_operation_has_an_id_of_its_own(block: tuple[Build, Route]) -> None:
    ids = [o.id for o in operations(block[1])]
    assert len(ids) == len(set(ids))
    checks = [c.name for o in operations(block[1]) for c in o.checks]
    assert len(checks) == len(set(checks))


def test_the_bars_own_work_is_told_from_theirs(block: tuple[Build, Route]) -> None:
    route = block[1]
    own = {o.id: (o.does, o.face) for o in operations(route) if o.does in OURS}
    assert own == {
        "block/bar face top/mill": (Process.FACE, Face.TOP),
        "block/face bottom/mill": (Process.FACE, Face.BOTTOM),
        "block/face front/mill": (Process.FACE, Face.FRONT),
        "block/face back/mill": (Process.FACE, Face.BACK),
        "block/bar left end/square": (Process.SQUARE, Face.LEFT),
        "block/bar right end/square": (Process.SQUARE, Face.RIGHT),
        "block/bar saw/off": (Process.SAW_OFF, None),
    }
    made = {name for o in operations(route) if o.does not in OURS for name in o.features}
    assert made == set(LIKE_OURS)


def test_their_limits_are_kept_as_under_any_other_name(
    block: tuple[Build, Route], tmp_path: Path
) -> None:
    plain = drawn(tmp_path, PLAIN)
    found = []
    for build, route in (block, (plain, plan_build(plain, shop()))):
        chains = guarantees(route, build, shop())
        found.append(sorted((g.asked.dimension.nominal, g.low, g.high) for g in chains))
    assert found[0] == found[1]


@pytest.mark.parametrize(
    "wanted",
    ["face top/mill", "bar face top", "face recess", "block/left end/mill", "bar left end",
     "block/saw/mill", "bar saw", "spot/drill", "drill/tap"],
)  # fmt: skip
def test_why_finds_each(block: tuple[Build, Route], wanted: str) -> None:
    found = why(Planner(block[0], shop()), (), wanted)
    assert wanted in found.operation


def test_a_pin_means_the_feature_or_the_bars_own_work(block: tuple[Build, Route]) -> None:
    pin = Pin("before", ("block/left end", "block/right end"))
    route = plan_build(replace(block[0], pins=(pin,)), shop())
    done = [o.id for o in operations(route)]
    first = [n for n, one in enumerate(done) if within("block/left end", one)]
    then = [n for n, one in enumerate(done) if within("block/right end", one)]
    assert max(first) < min(then)


def test_the_log_hands_each_on_as_done(block: tuple[Build, Route]) -> None:
    build, route = block
    setup, squared = find(route, "block/bar left end/square")
    before = route.setups[: [s.id for s in route.setups].index(setup.id) + 1]
    lines = [
        Entry(kind=Kind.TICK, setup=s.id, operation=o.id, work=s.work, nth=n)
        for s in before
        for o in s.operations
        for n in range(1, s.copies + 1)
    ]
    done = standing(work_of(lines), route)
    assert done.done[squared.id] == 2
    again = plan_build(build, shop(), resumed=(route, done))
    assert find(again, squared.id)[0].minutes == 0
    assert prove(again, build).ok


def test_names_may_have_strokes_in_them(tmp_path: Path) -> None:
    called = ("1/4 slot", "under/side", "c", "1/2 in", "e", "3/16 hole", "10/32")
    text = BLOCK.replace("diameter: 4, thread", "thread").replace("  block:", "  L/H block:")
    text += "pins:\n  before: [[L/H block/3/16 hole, L/H block/1/4 slot]]\n"
    for n, name in enumerate(called):
        text = text.replace(f"NAME{n}", name)
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    reading = read_build(tmp_path, KINDS)
    assert reading.build is not None, reading.faults
    route = plan_build(reading.build, shop())
    assert prove(route, reading.build).ok
    assert {o.part for o in operations(route)} == {"L/H block"}
    done = [o.id for o in operations(route)]
    assert done.index("L/H block/3/16 hole/drill") < done.index("L/H block/1/4 slot/mill")
    found = why(Planner(reading.build, shop()), (), "3/16 hole/drill")
    assert found.operation == "L/H block/3/16 hole/drill"
    asked = {g.asked.check.name for g in guarantees(route, reading.build, shop())}
    assert "1/4 slot/depth" in asked


def test_a_pin_of_no_such_feature_is_told_with_strokes_too(tmp_path: Path) -> None:
    text = BLOCK.replace("diameter: 4, thread", "thread") + "pins:\n  first: [block/1/4 hole]\n"
    for n, name in enumerate(PLAIN):
        text = text.replace(f"NAME{n}", name)
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    (fault,) = read_build(tmp_path, KINDS).faults
    assert fault.what == "a pin names '1', no feature of 'block'"
