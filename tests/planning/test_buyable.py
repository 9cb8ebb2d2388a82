"""What is bought is of a size and length that is sold; what is owned and does comes first."""

from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from barstock.errors import UnplannableError
from barstock.handbook.cutter_lengths import MILLS, drill_flute, mill_flute
from barstock.handbook.hole_tools import COUNTERSINKS, SPOT_DRILLS
from barstock.planning.tasks.tooling import ToolChest
from barstock.quantities import Unit
from barstock.route import Route
from barstock.workshop.shop import ToolKind, Workshop

from .small_part import operations, planned, proved, shop, written

MIDDLE = "at: {length: centre, width: centre}"


def lacking(owned: Workshop, *kinds: ToolKind) -> Workshop:
    """The shop without tools of some kinds."""
    return replace(owned, tools=tuple(t for t in owned.tools if t.kind not in kinds))


def bought(route: Route) -> list[str]:
    """The names of the tools to buy."""
    return [item.names["tool"] for item in route.summary.buy if "tool" in item.names]


@pytest.mark.parametrize("bore", ["clearance for: M3", "diameter: 3.4 mm +0.2/0"])
def test_the_nearest_drill_owned_that_does_is_used(bore: str, tmp_path: Path) -> None:
    """No 29 is .136 in, 3.454 mm: within 3.4 to 3.58 mm, and there is no 3.4."""
    hole = f"kind: hole, face: top, {MIDDLE}, {bore}, depth: through"
    route = proved(written("1 x 3/4 x 1/2", hole, unit="inch"), tmp_path)
    assert [o.cutter.name for o in operations(route, "f1")][-1] == "drill No 29"
    assert not bought(route)


def test_a_slot_is_widened_by_a_smaller_cutter_owned(tmp_path: Path) -> None:
    slot = "kind: slot, face: top, along: width, position: {length: centre}, width: .44, depth: .2"
    route = proved(written("1 x 3/4 x 1/2", slot, unit="inch"), tmp_path)
    assert not bought(route)


def test_a_clevis_slot_is_milled_with_the_cutter_below_its_size(tmp_path: Path) -> None:
    slot = "kind: slot, face: right, along: width, position: {height: centre}, depth: 9"
    owned = lacking(shop("mm"), ToolKind.SLITTING_SAW)
    route = proved(written("40 x 12 x 12", f"{slot}, width: 3.1 ±0.2"), tmp_path, owned)
    assert {o.cutter.diameter for o in operations(route, "f1")} == {3.0}


def test_a_deeper_one_is_sawn_with_the_saw_below_its_size(tmp_path: Path) -> None:
    """Flutes of a 3 mm end mill are 8 mm long; a saw 3 mm thick is owned."""
    slot = "kind: slot, face: right, along: width, position: {height: centre}, depth: 9"
    route = proved(written("40 x 12 x 12", f"{slot}, width: 3.1 ±0.2"), tmp_path)
    (sawn,) = operations(route, "f1")
    assert (sawn.cutter.kind, sawn.cutter.flute) == (ToolKind.SLITTING_SAW, 3.0)
    assert not bought(route)


@pytest.mark.parametrize(
    ("feature", "cutter"),
    [
        (
            "slot, face: top, along: length, position: {width: centre}, width: .187, length: .6, "
            "open at: left",
            "3/16",
        ),
        (f"pocket, face: top, {MIDDLE}, length: .437, width: 1/4, corner radius: .062", "1/8"),
        (f"hole, face: top, {MIDDLE}, diameter: .187, bottom: flat", "3/16"),
    ],
)
def test_a_fraction_written_to_three_places_is_cut_by_its_cutter(
    feature: str, cutter: str, tmp_path: Path
) -> None:
    """3/16 in is .1875 and is written .187, 1/16 is .0625 and is written .062."""
    told = written("1 x 3/4 x 1/2", f"kind: {feature}, depth: .156", unit="inch")
    route = proved(told, tmp_path)
    assert operations(route, "f1")[-1].cutter.name.endswith(f" {cutter}")
    assert not bought(route)


def test_a_cutter_wider_than_the_high_limit_is_not_taken(tmp_path: Path) -> None:
    """3/16 in is .0005 over."""
    slot = "kind: slot, face: top, along: width, position: {length: centre}, depth: .156"
    route = proved(written("1 x 3/4 x 1/2", f"{slot}, width: .187 +0/-.002", unit="inch"), tmp_path)
    assert {o.cutter.diameter for o in operations(route, "f1")} < {n / 64 * 25.4 for n in range(12)}


def test_a_large_flat_bottomed_hole_is_bored(tmp_path: Path) -> None:
    """The boring head owned bores 8 to 60 mm; no cutter of 16.5 mm is sold."""
    hole = f"kind: hole, face: top, {MIDDLE}, diameter: 16.5, depth: 33, bottom: flat"
    route = proved(written("40 x 40 x 45", hole), tmp_path)
    assert [o.cutter.kind for o in operations(route, "f1")][-1] == ToolKind.BORING_HEAD


@pytest.mark.parametrize("high", ["40.2", "39.8", "44"])
def test_a_bore_deeper_than_the_bar_of_the_head_is_not_tried_with_it(
    high: str, tmp_path: Path
) -> None:
    """The head's bar is 40 mm long, and comes 0.3 mm out of the far side."""
    hole = f"kind: hole, face: top, {MIDDLE}, diameter: 30 H7, finish: bored, depth: through"
    route = proved(written(f"60 x 60 x {high}", hole), tmp_path)
    bore = operations(route, "f1")[-1]
    assert bore.cutter.flute >= float(high) + 0.3


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_mills_and_drills_bought_are_sold(unit: str) -> None:
    """Of 300 asked for by chance, what is named to buy has a size and flutes of the ranges."""
    chance, chest = Random(unit), ToolChest(shop(unit))
    for _ in range(300):
        best = chance.uniform(2.0, 16.0)
        deep = chance.uniform(0.5, 2.5) * best
        mill = chest.flat_to_buy(best, deep, deep)
        assert mill.diameter in MILLS[Unit(unit)]
        assert mill.diameter <= best + 0.005
        assert mill.flute == mill_flute(mill.diameter, deep)
        size = min(best, 12.5)  # above that, drills are sold in larger steps
        drill = chest.drill(size - 0.2, size, size, deep)
        if drill.name in chest.to_buy:
            assert drill.flute == drill_flute(drill.diameter, deep)


@pytest.mark.parametrize(("unit", "room"), [("mm", 100.0), ("mm", 2.7), ("inch", 2.0)])
def test_spot_drills_bought_are_sold_and_go_into_the_room(unit: str, room: float) -> None:
    chest = ToolChest(lacking(shop(unit), ToolKind.SPOT_DRILL))
    size = chest.spot(room).diameter
    assert size in SPOT_DRILLS[Unit(unit)]
    assert size <= room


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("angle", [60.0, 82.0, 90.0])
def test_countersinks_bought_are_the_nearest_sold_that_do(unit: str, angle: float) -> None:
    chest = ToolChest(lacking(shop(unit), ToolKind.COUNTERSINK))
    sold = COUNTERSINKS[Unit(unit)][angle]
    for top in (2.0, 9.3, 17.9, 24.0):
        size = chest.countersink(angle, top).diameter
        assert size in sold
        assert size >= top
        assert not [s for s in sold if max(top, 6.0) < s < size]
    with pytest.raises(UnplannableError, match="and none is sold"):
        chest.countersink(angle, 45.0)


def test_a_reamer_owned_within_the_limits_comes_before_one_to_buy(tmp_path: Path) -> None:
    """The shop has a reamer of 8; one of 8.02 would be sold."""
    hole = f"kind: hole, face: top, {MIDDLE}, finish: reamed, depth: through"
    route = proved(written("20 x 20 x 8", f"{hole}, diameter: 8.02 ±0.05"), tmp_path)
    assert operations(route, "f1")[-1].cutter.name == "reamer 8"
    assert not bought(route)


@pytest.mark.parametrize(
    ("limits", "reamer"), [("7.02 ±0.05", "reamer 7"), ("7.13 ±0.02", "reamer 7.13")]
)
def test_reamers_bought_are_sold(limits: str, reamer: str, tmp_path: Path) -> None:
    """Whole millimetres of DIN 212 within the limits first, else hundredths."""
    hole = f"kind: hole, face: top, {MIDDLE}, finish: reamed, depth: through"
    owned = lacking(shop("mm"), ToolKind.REAMER)
    route = proved(written("20 x 20 x 8", f"{hole}, diameter: {limits}"), tmp_path, owned)
    assert reamer in bought(route)
    with pytest.raises(UnplannableError, match=r"reamer of .* and none is sold"):
        ToolChest(owned).reamer(18.23, 18.24, 18.25, 20.0)


def test_boring_bars_bought_are_sold_and_slender_enough() -> None:
    """A bar of 12 for a bore of 16.5 stands out 40; none for 8 mm reaches 60."""
    chest = ToolChest(lacking(shop("mm"), ToolKind.BORING_HEAD))
    head = chest.boring_head(16.5, 33.0, 33.0)
    assert (head.shank, head.reach) == (12, 40)
    with pytest.raises(UnplannableError, match="none is sold so slender"):
        chest.boring_head(8.0, 60.0, 60.0)


def test_a_cutter_that_does_not_exist_is_told(tmp_path: Path) -> None:
    slot = "kind: slot, face: top, along: width, position: {length: centre}, width: 1/16, depth"
    route = planned(written("1 x 3/4 x 1", f"{slot}: .6", unit="inch"), tmp_path)[1]
    assert [o.cutter.kind for o in operations(route, "f1")] == [ToolKind.SLITTING_SAW]
    with pytest.raises(UnplannableError, match=r"end mill of 0.0312 to 0.0625 in .* none is sold"):
        planned(written("1 x 3/4 x 1-1/2", f"{slot}: 1.3", unit="inch"), tmp_path)
    hole = "kind: hole, face: left, at: {width: centre, height: centre}, diameter: 5"
    with pytest.raises(UnplannableError, match="flutes 192 mm long, and none is sold so long"):
        planned(written("190 x 20 x 20", f"{hole}, depth: through"), tmp_path)
