"""Work too large for every vise: strapped down on the table, planned and proved."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Face
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Body, BodyKind, Plunge, Route, Setup, Traverse
from barstock.words.cautions import of_setup
from barstock.words.holding import setting_up
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock, Workshop

from .conftest import bought, built, dialled, find, sample
from .small_part import shop as ordinary

PLATE = """
build: Base plate
unit: mm
parts:
  base: {material: mild steel, length: 150, width: 100, height: 10, bar: plate,
    as bought: [front, back, top, bottom], features: {
    feet: {kind: hole, face: top, diameter: 6.5, depth: through, at: [
      {left: 10, front: 10}, {left: 140, front: 10}, {left: 10, back: 10}, {left: 140, back: 10}]},
    bore: {kind: hole, face: top, at: {left: 75, width: centre}, diameter: 9, depth: through},
    groove: {kind: slot, face: top, along: width, position: {left: 40}, width: 8, depth: 3},
    rebate: {kind: step, face: top, edge: left, width: 16, depth: 4}}}
"""
FRAME = """
build: Sunk all round
unit: mm
parts:
  lid: {material: mild steel, length: 150, width: 100, height: 10, bar: plate,
    as bought: [front, back, top, bottom], features: {
    a: {kind: step, face: top, edge: left, width: 14, depth: 3},
    b: {kind: step, face: top, edge: right, width: 14, depth: 3},
    c: {kind: step, face: top, edge: front, width: 14, depth: 3},
    d: {kind: step, face: top, edge: back, width: 14, depth: 3}}}
"""


def shop(thick: float = 10) -> Workshop:
    """The wagon's shop, whose one vise opens 75 mm, with a plate 100 mm wide."""
    return replace(
        sample("wagon")[1], rack=(BarStock("plate", "mild steel", "rectangle", 100, thick, 500),)
    )


def strapped(route: Route) -> list[tuple[Setup, tuple[Body, ...]]]:
    """The setups with straps, and the straps."""
    found = ((s, s.holding.of(BodyKind.STRAP)) for s in route.setups)
    return [(s, straps) for s, straps in found if straps]


@pytest.fixture(scope="module")
def plate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = built(tmp_path_factory.mktemp("plate"), PLATE)
    return build, plan_build(build, shop())


def test_it_is_strapped_down_and_comes_out_as_drawn(plate: tuple[Build, Route]) -> None:
    build, route = plate
    assert {s.id for s, _ in strapped(route)} == {s.id for s in route.setups if s.stage == "piece"}
    proof = prove(route, build)
    assert [str(v) for v in proof.violations] == []
    assert proof.parts[0].deviation < 0.02


def test_places_are_read_from_stop_and_fence(plate: tuple[Build, Route]) -> None:
    setup, drill = find(plate[1], "base/bore/drill")
    (move,) = drill.moves
    assert isinstance(move, Plunge)
    # Drawn 75 mm from the left end and in the middle of 100 mm.
    assert (move.x, move.y) == pytest.approx((75, -50))
    assert (setup.zero_x.find, setup.zero_y.find) == ("left", "fixed jaw")
    assert setup.holding.jaw_top == 0


def test_a_drill_comes_out_into_air(plate: tuple[Build, Route]) -> None:
    setup, drill = find(plate[1], "base/bore/drill")
    (move,) = drill.moves
    assert isinstance(move, Plunge)
    top = setup.holding.packing + 10
    # The cone of a 118 degree point of 9 mm is 2.70 mm tall, and lies below the work.
    assert -setup.holding.packing < move.z + 10 < -2.7
    assert top + move.z > 0


def test_straps_stand_where_nothing_is_cut_and_press_on_parallels(
    plate: tuple[Build, Route],
) -> None:
    for setup, straps in strapped(plate[1]):
        done = {o.id for o in setup.operations}
        for strap in straps:
            (x0, y0, _), (x1, y1, _) = strap.low, strap.high
            if "base/groove/mill" in done:
                assert x1 < 36 or x0 > 44  # 8 wide about 40
            if "base/rebate/mill" in done:
                assert x0 > 16
            assert any(
                under.low[0] < x1 and x0 < under.high[0] and under.low[1] < y1
                and y0 < under.high[1] for under in setup.holding.of(BodyKind.PARALLEL)
            )  # fmt: skip
        assert len(straps) >= 2


def test_what_is_cut_all_round_takes_two_setups(tmp_path: Path) -> None:
    build = built(tmp_path, FRAME)
    route = plan_build(build, shop())
    ways = {frozenset(s.over for s in straps) for _, straps in strapped(route)}
    assert len(ways) >= 2
    across, along = find(route, "lid/a/mill")[0], find(route, "lid/c/mill")[0]
    assert {s.over for s in across.holding.of(BodyKind.STRAP)} <= {"front", "back"}
    assert {s.over for s in along.holding.of(BodyKind.STRAP)} <= {"left", "right"}
    assert prove(route, build).ok


def test_the_setup_says_how_to_strap_and_warns(plate: tuple[Build, Route]) -> None:
    setup, straps = strapped(plate[1])[0]
    told = " ".join(line.words for line in setting_up(setup, Reader()))
    for word in ("fence", "stop", "parallel", "dial indicator", f"{len(straps)} straps"):
        assert word in told
    warned = " ".join(of_setup(setup, Reader()))
    for word in ("level", "close to the work", "by hand to every end of travel"):
        assert word in warned
    assert any("dial indicator" in line for line in bought(plate[1]))


def test_the_setup_says_where_the_fence_begins_and_ends(plate: tuple[Build, Route]) -> None:
    for setup, _ in strapped(plate[1]):
        (bar,) = setup.holding.of(BodyKind.FENCE)
        told = setting_up(setup, Reader())
        fence = next(line for line in told if "fence" in line.words and line.other)
        said = dialled(fence)
        begins, ends = (float(said[name].split()[0]) for name in ("begins", "ends"))
        assert (begins, ends) == pytest.approx((bar.low[0], bar.high[0]), abs=0.1)
        assert 0 < begins < ends < 160
        assert "is struck" in fence.caution


def test_strapping_down_costs_the_shops_own_minutes(plate: tuple[Build, Route]) -> None:
    build, route = plate
    slower = replace(shop(), times=replace(shop().times, clamp=24.0))
    # 20 minutes more for every loading of the one copy: no fewer than there are setups.
    more = (plan_build(build, slower).summary.hours - route.summary.hours) * 60
    assert more >= 20 * len(strapped(route)) - 0.1


def test_without_clamps_it_says_so(tmp_path: Path) -> None:
    with pytest.raises(UnplannableError, match=r"no vise opens 100\.0 mm.*lists no clamps"):
        plan_build(built(tmp_path, PLATE), replace(shop(), kits=()))


def test_a_face_cut_all_over_leaves_no_place_for_straps(tmp_path: Path) -> None:
    with pytest.raises(UnplannableError, match=r"nor by straps.*run into the strap.*take bar"):
        plan_build(
            built(tmp_path, PLATE.replace("front, back, top, bottom", "front, back")), shop(12)
        )


def test_a_mill_whose_table_does_not_travel_so_far(tmp_path: Path) -> None:
    owned = shop()
    mill, *others = owned.machines
    assert mill.y is not None
    short = replace(mill, y=replace(mill.y, travel=90.0))
    with pytest.raises(UnplannableError, match=r"of travel along Y; the mill has 90"):
        plan_build(built(tmp_path, PLATE), replace(owned, machines=(short, *others)))


def test_no_parallels_of_a_height_are_asked_for(tmp_path: Path) -> None:
    with pytest.raises(UnplannableError, match="no parallels owned carry the work between"):
        plan_build(built(tmp_path, PLATE), replace(shop(), parallels=(70.0,)))


STRIP = """
build: Strip from wider flat bar
unit: mm
parts:
  strip: {material: mild steel, length: 230, width: 42, height: 4, bar: flat,
    as bought: [top, bottom], features: {
    ends: {kind: hole, face: top, diameter: 5, depth: through, at: [
      {left: 7, front: 30}, {right: 7, front: 30}]},
    bore: {kind: hole, face: top, at: {left: 60, front: 21}, diameter: 12, depth: through}}}
"""


def test_the_edges_of_a_long_thin_strip_are_milled_as_it_lies_flat(tmp_path: Path) -> None:
    build = built(tmp_path, STRIP)
    owned = replace(ordinary("mm"), rack=(BarStock("flat", "mild steel", "rectangle", 50, 4, 600),))
    route = plan_build(build, owned)
    assert [str(v) for v in prove(route, build).violations if v.severity == "error"] == []
    for face in (Face.FRONT, Face.BACK):
        setup, facing = find(route, f"strip/face {face}/mill")
        # Cut by the side of the mill at its front, from top to bottom of 4 mm.
        assert (setup.holding.up.axis, setup.holding.fixed_jaw) == (2, face.opposite)
        assert facing.cutter.flute > 4
        assert setup.holding.of(BodyKind.BOARD)
    setup, facing = find(route, "strip/face back/mill")
    radius = facing.cutter.diameter / 2
    last = facing.moves[-1]
    assert isinstance(last, Traverse)
    # Zero is at the fence, on the front face that is there already: 42 mm from it, and the radius.
    assert [y for _, y in last.points] == pytest.approx([-42 - radius] * 2)
