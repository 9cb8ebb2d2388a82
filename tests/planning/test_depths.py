"""Depths are counted from where a hole starts, as the drawing counts them."""

from itertools import product
from pathlib import Path
from random import Random

import pytest

from barstock.errors import UnplannableError
from barstock.route import Plunge
from barstock.route.statements import CautionKind

from .small_part import operations, planned, proved, shop, written

STEP = "kind: step, face: top, edge: right, width: 18, depth: 6"
SLOT = "kind: slot, face: top, along: width, position: {right: 10}, width: 10, depth: 6"
POCKET = (
    "kind: pocket, face: top, at: {right: 12, width: centre}, length: 16, width: 12, "
    "corner radius: 3, depth: 6"
)
ROUND = "kind: pocket, face: top, at: {right: 10, width: centre}, diameter: 12, depth: 6"
PLACES = {STEP: "10", SLOT: "10", POCKET: "12", ROUND: "10"}
BORES = (
    "diameter: 4, depth: 7",
    "diameter: 4, depth: 7, bottom: flat",
    "thread: M4, depth: 6",
    "diameter: 4 H7, finish: reamed, depth: 6",
    "diameter: 3.2, depth: 7, counterbore: {diameter: 6, depth: 2}",
    "diameter: 3.2, depth: 7, countersink: {diameter: 5, angle: 90}",
)


@pytest.mark.parametrize(("floor", "bore"), list(product(PLACES, BORES)))
def test_a_blind_hole_that_starts_on_a_floor(floor: str, bore: str, tmp_path: Path) -> None:
    hole = f"kind: hole, face: top, at: {{right: {PLACES[floor]}, width: centre}}"
    proved(written("40 x 20 x 20", floor, f"{hole}, starts below: 6, {bore}"), tmp_path)


def test_a_countersink_beside_a_high_wall_is_no_wider_than_the_room(tmp_path: Path) -> None:
    """The shop's least countersink is 10, and the wall stands 4 from the hole's axis, so that
    none over 8 goes; the mouth is 7."""
    floor = "kind: step, face: top, edge: front, width: 8, depth: 5"
    hole = "kind: hole, face: top, at: {left: 20, front: 4}, starts below: 5, diameter: 3"
    mouth = "depth: through, countersink: {diameter: 7}"
    route = proved(written("40 x 20 x 12", floor, f"{hole}, {mouth}"), tmp_path)
    (sunk,) = (o.cutter.diameter for o in operations(route, "f2") if o.does == "countersink")
    assert 7 <= sunk <= 8


def test_a_hole_with_a_wall_right_beside_its_axis_is_drilled_before_that(tmp_path: Path) -> None:
    """No spotting drill goes down beside it."""
    floor = "kind: step, face: top, edge: front, width: 8, depth: 4"
    hole = "kind: hole, face: top, at: {left: 20, front: 7.8}, diameter: 6, depth: through"
    hole += ", breaks into: f1"
    route = proved(written("40 x 20 x 12", floor, hole), tmp_path)
    made = [o.id for s in route.setups for o in s.operations]
    assert made.index("part/f2/drill") < made.index("part/f1/mill")


@pytest.mark.parametrize("bore", ["diameter: 4, depth: 7", "thread: M4, depth: 6"])
def test_a_blind_hole_that_starts_on_a_wall_that_an_outline_leaves(
    bore: str, tmp_path: Path
) -> None:
    """The wall lies 8 mm behind the front; the hole is there first, and as deep below the wall."""
    corners = (40, 0), (40, 24), (0, 24), (0, 8), (22, 8), (22, 0)
    path = ", ".join(f"{{to: {{left: {x}, front: {y}}}}}" for x, y in corners)
    outline = f"kind: outline, face: top, start: {{left: 22, front: 0}}, path: [{path}]"
    hole = f"kind: hole, face: front, at: {{left: 12, height: centre}}, starts below: 8, {bore}"
    route = proved(written("40 x 24 x 10", outline, hole), tmp_path)
    drill = next(o for o in operations(route, "f2") if o.id.endswith("/drill"))
    assert drill.cutter.flute >= 8 + 7


@pytest.mark.parametrize("number", range(6))
def test_depths_by_chance(number: int, tmp_path: Path) -> None:
    """The drill's full diameter ends as far below the face as floor and depth together."""
    chance = Random(number)
    floor, deep = chance.randint(10, 60) / 10, chance.randint(20, 90) / 10
    step = f"kind: step, face: top, edge: right, width: 18, depth: {floor}"
    hole = "kind: hole, face: top, at: {right: 9, width: centre}"
    text = written(
        "40 x 20 x 20", step, f"{hole}, starts below: {floor}, diameter: 5, depth: {deep}"
    )
    route = proved(text, tmp_path)
    drill = next(o for o in operations(route, "f2") if o.id.endswith("/drill"))
    setup = next(s for s in route.setups if drill in s.operations)
    (move,) = drill.moves
    assert isinstance(move, Plunge)
    high = {"top": 0.0, "rest": 20.0}[setup.zero_z.find]
    # the point of a 5 mm drill of 118 degrees is 2.5 / tan 59 = 1.502 mm high
    assert high - move.z == pytest.approx(floor + deep + 1.502, abs=0.006)


@pytest.mark.parametrize("size", ["M3", "M4", "M5", "M6", "M8", "M10", "4 BA", "1/4 BSF"])
def test_a_thread_that_ends_on_a_flat_bottom(size: str, tmp_path: Path) -> None:
    """The tapping drill's point stays above the bottom, the tap's lead above the point."""
    hole = "kind: hole, face: top, at: {length: centre, width: centre}, depth: 10, bottom: flat"
    route = proved(written("30 x 24 x 24", f"{hole}, thread: {size}"), tmp_path, shop("inch"))
    assert [o.id.split("/")[-1] for o in operations(route, "f1")][-1] == "tap"


def test_a_flat_bottom_with_no_room_for_a_point_is_cut_by_a_drill_ground_flat(
    tmp_path: Path,
) -> None:
    """M4 has a pitch of 0.7: its lead takes 1.05 mm, the point of a 3.3 mm drill 0.99 mm: there
    are 1.2 mm for both."""
    hole = "kind: hole, face: top, at: {length: centre, width: centre}, bottom: flat, thread: M4"
    route = proved(written("30 x 20 x 20", f"{hole}, depth: 8, drill depth: 9.2"), tmp_path)
    flat = next(o for o in operations(route, "f1") if o.id.endswith("/flat"))
    assert flat.cutter.name == "drill 3.3, its end ground flat"
    assert "drill 3.3, its end ground flat" in [i.names.get("tool") for i in route.summary.buy]


@pytest.mark.parametrize("number", range(6))
def test_a_drill_that_goes_the_taps_lead_deeper_and_no_more(number: int, tmp_path: Path) -> None:
    """The bluntest tap's lead is a pitch and a half; readings rounded apart must leave it room."""
    chance = Random(number)
    name, pitch = chance.choice([("M3", 0.5), ("M4", 0.7), ("M5", 0.8), ("M6", 1.0)])
    deep = chance.randint(6000, 12000) / 1000
    hole = f"kind: hole, face: top, at: {{length: centre, width: centre}}, thread: {name}"
    hole += f", depth: {deep}, drill depth: {deep + 1.5 * pitch:.3f}"
    proved(written("30 x 20 x 24", hole), tmp_path)


def test_a_thread_deeper_than_any_tap_goes_is_told_before_one_is_bought(tmp_path: Path) -> None:
    hole = "kind: hole, face: top, at: {length: centre, width: centre}, thread: M7, depth: through"
    with pytest.raises(UnplannableError, match="tap M7 does not reach 74 mm deep"):
        planned(written("30 x 20 x 72.5", hole), tmp_path)


def test_a_drill_that_goes_through_where_the_thread_ends_before(tmp_path: Path) -> None:
    hole = "kind: hole, face: top, at: {left: 20, width: centre}, thread: M6, depth: 8"
    route = proved(written("40 x 20 x 16", f"{hole}, drill depth: through"), tmp_path)
    through = {
        operation.id.rpartition("/")[2]: move.through
        for operation in operations(route, "f1")
        for move in operation.moves
        if isinstance(move, Plunge)
    }
    assert (through["drill"], through["tap"]) == (True, False)


@pytest.mark.parametrize(
    ("size", "at", "bore"),
    [
        ("round 10 x 24", "width: centre, height: centre", "diameter: 5"),
        ("round 8 x 15", "width: centre, height: centre", "thread: M3"),
        (
            "round 25 x 20",
            "circle: {count: 4, diameter: 16}, centre: {width: centre, height: centre}",
            "diameter: 4",
        ),
    ],
)
def test_a_hole_right_through_standing_round_work_passes_its_parallels(
    size: str, at: str, bore: str, tmp_path: Path
) -> None:
    hole = f"kind: hole, face: left, at: {{{at}}}, {bore}, depth: through"
    route = proved(written(size, hole, material="mild steel"), tmp_path)
    drilled = next(s for s in route.setups if any("/drill" in o.id for o in s.operations))
    assert drilled.holding.parallels_out
    assert CautionKind.PARALLELS_OUT in [c.kind for c in drilled.cautions]


@pytest.mark.parametrize("bore", ["diameter: 6", "thread: M6", "diameter: 6 H7, finish: reamed"])
def test_the_mouth_at_the_far_end_is_sunk_from_the_bore_s_edge(bore: str, tmp_path: Path) -> None:
    hole = f"kind: hole, face: top, at: {{left: 20, width: centre}}, {bore}, depth: through"
    route = proved(written("40 x 20 x 12", f"{hole}, far countersink: {{diameter: 8}}"), tmp_path)
    order = [operation.id.rpartition("/")[2] for operation in operations(route, "f1")]
    assert order.index("drill 1") < order.index("countersink 2")
    if "thread" in bore:
        assert order.index("countersink 2") < order.index("tap 1")
