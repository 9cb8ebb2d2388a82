"""Working values of the samples against arithmetic written out from the drawing's figures."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin, tan
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Face
from barstock.pack.compose import compose
from barstock.planning.plan import plan_build
from barstock.quantities import Unit, show
from barstock.route import Plunge, Route, Traverse
from barstock.words.cautions import caution, of_setup
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock, ToolKind, Workshop

from .conftest import built, dialled, find, mill_of, sample

Planned = tuple[Build, Workshop, Route]
READOUT = 0.005  # step of the wagon shop's readout [mm]


def test_leaning_slots_lie_level_and_are_turned_end_for_end(wagon: Planned) -> None:
    front, first = find(wagon[2], "axlebox/guide slots/mill 1")
    back, second = find(wagon[2], "axlebox/guide slots/mill 2")
    assert (front.holding.up, back.holding.up) == (Face.FRONT, Face.BACK)
    # Tilted alike both times: the tilt is set once, the work turned over against the other face.
    assert front.holding.tilt == pytest.approx(1.5)
    assert back.holding.tilt == pytest.approx(1.5)
    assert front.holding.fixed_jaw is back.holding.fixed_jaw.opposite
    assert [m.z for m in first.moves] == [m.z for m in second.moves]


def test_leaning_floor_is_read_from_the_high_corner(wagon: Planned) -> None:
    _, slot = find(wagon[2], "axlebox/guide slots/mill 1")
    # 28 wide, 23 across the floors at the wide end: 2.5 deep there; 32 further on, 1.5 degrees
    # deeper. The high corner is at that deep end: the floor lies depth x cos below it.
    deep = (28 - 23) / 2 + 32 * tan(radians(1.5))
    assert min(m.z for m in slot.moves) == pytest.approx(-deep * cos(radians(1.5)), abs=READOUT)


def test_slot_walls_are_cut_to_size_with_the_radius_inside(wagon: Planned) -> None:
    _, slot = find(wagon[2], "axlebox/guide slots/mill 1")
    # 8 +0.05/0 in the middle of 22: worked to 8.025, its walls are 6.9875 and 15.0125 from the jaw.
    radius = slot.cutter.diameter / 2
    assert slot.cutter.diameter < 8
    walls = sorted({round(m.points[0][1], 3) for m in slot.moves[-2:] if isinstance(m, Traverse)})
    assert walls == pytest.approx([-15.0125 + radius, -6.9875 - radius], abs=READOUT)


def test_rebates_are_cut_in_the_bar(wagon: Planned) -> None:
    setup, rebate = find(wagon[2], "horn guide/front rebate/mill")
    assert setup.stage == "bar"
    wall = rebate.moves[-1]
    assert isinstance(wall, Traverse)
    # 6.2 wide from the front of 20: the wall is 13.8 in front of the fixed jaw; 7 deep.
    assert wall.points[0][1] == pytest.approx(-13.8 - rebate.cutter.diameter / 2, abs=READOUT)
    assert wall.z == pytest.approx(-7)


def test_second_end_is_cut_to_length_from_the_stop(wagon: Planned) -> None:
    sawn = [part for part in wagon[0].parts if part.joined is None]
    for part in sawn:
        setup, end = find(wagon[2], f"{part.name}/right end/square")
        last = end.moves[-1]
        assert isinstance(last, Traverse)
        # Zero is the left end, or so far from it as the readings of a shared pattern ask.
        left = setup.zero_x.set_to + setup.zero_x.finder / 2
        want = part.length.nominal + end.cutter.diameter / 2 + left
        assert last.points[0][0] == pytest.approx(want, abs=READOUT)


def test_ridge_is_cut_from_both_sides_to_one_depth(wagon: Planned) -> None:
    _, one = find(wagon[2], "rocker/rocking face/mill 1")
    _, other = find(wagon[2], "rocker/rocking face/mill 2")
    assert min(m.z for m in one.moves) == min(m.z for m in other.moves)
    # The high corner of the 60 long bar, tilted 3 degrees: the flat runs from the peak (0.5 below
    # the top, 30 from the end) down to the end; the corner stands 30 sin + 0.5 cos above it.
    high = 30 * sin(radians(3)) + 0.5 * cos(radians(3))
    assert min(m.z for m in one.moves) == pytest.approx(-high, abs=READOUT)


def test_countersink_goes_down_from_the_touch_at_the_edge(wagon: Planned) -> None:
    _, sink = find(wagon[2], "axlebox/oil hole/countersink")
    # From 2 to 4 mm at 90 degrees: (4 - 2) / 2 / tan 45.
    (plunge,) = sink.moves
    assert isinstance(plunge, Plunge)
    assert plunge.touch
    assert plunge.z == pytest.approx(-1.0)


def test_drills_allow_for_the_point_and_reamers_have_undersize_drills(wagon: Planned) -> None:
    _, oil = find(wagon[2], "axlebox/oil hole/drill")
    (plunge,) = oil.moves
    assert isinstance(plunge, Plunge)
    # 13 of full diameter; the point of 118 degrees goes 1 / tan 59 further.
    assert plunge.z == pytest.approx(-13 - 1 / tan(radians(59)), abs=READOUT)
    _, drill = find(wagon[2], "axlebox/axle bore/drill")
    assert 0.08 <= 10 - drill.cutter.diameter <= 0.45


def test_inch_readings_come_as_turns_of_the_wheel(bracket: Planned) -> None:
    _, spot = find(bracket[2], "bracket/rod hole/spot")
    dial = dialled(lines(spot, Reader(Unit.INCH, mill_of(bracket[1])))[0])
    # .437 from the right end of 1.500, the left end at the stop: 1.063 in, ten turns of .100 and
    # 63 divisions; .281 above the bottom, which is at the fixed jaw.
    assert dial["X"] == "+10 turns 63 div"
    assert dial["Y"] == "−2 turns 81 div"


def test_spindle_steps_are_respected_and_the_share_said(bracket: Planned) -> None:
    steps = {180, 320, 560, 1000, 1800}
    slow = []
    for setup in bracket[2].setups:
        for operation in setup.operations:
            if operation.rpm:
                assert operation.rpm in steps
                if operation.speed_share < 0.9 and operation.cutter.kind is not ToolKind.TAP:
                    slow.append(operation)
    assert slow, "small cutters in brass ask more than 1800 rpm"
    assert all(any("surface speed" in caution(c, Reader()) for c in o.cautions) for o in slow)


def test_an_end_is_squared_clear_of_the_jaws(bracket: Planned) -> None:
    for part in bracket[0].parts:
        setup, _ = find(bracket[2], f"{part.name}/right end/square")
        told = of_setup(setup, Reader(part.unit))
        assert any("5/32 in past jaws and parallels" in c for c in told)


def test_work_to_one_side_of_the_vise_is_packed_at_the_other(wagon: Planned) -> None:
    build, _, route = wagon
    bars = {bar.id: bar.part for bar in route.bars}
    told = 0
    for setup in route.setups:
        held = setup.holding
        part = build.part(bars.get(setup.work, setup.work))
        told_here = of_setup(setup, Reader(part.unit))
        packed = [c for c in told_here if "at the other end of the jaws too" in c]
        if held.bodies or not held.jaw_top:
            assert not packed
            continue
        thick = show(held.opening, part.unit)
        assert all(f"a piece {thick} thick" in words for words in packed)
        if setup.stage == "bar":
            assert not packed, "a bar lies across the whole of the jaws"
        told += len(packed)
    assert told >= 5
    squared = find(route, "axlebox/left end/square")[0]
    assert any("a piece 28 mm thick" in c for c in of_setup(squared, Reader())), (
        "held by its end alone"
    )


def test_a_tap_is_printed_without_a_speed(wagon: Planned) -> None:
    build, shop, route = wagon
    pages = compose(route, build, shop, {}, {}).setups
    boxes = [o for page in pages for loading in page.passes for o in loading.operations]
    taps = [o for o in boxes if o.tool.startswith("tap ")]
    assert taps
    assert all(o.running == (("by hand", ""),) and not o.shortfall for o in taps)


def test_the_stop_stays_under_what_a_cutter_passes_over_it_with(wagon: Planned) -> None:
    for setup in (s for s in wagon[2].setups if s.zero_x.find == "left"):
        # From the moves alone: x 0 is on the work's left end, where the stop bears.
        over = [
            move.z
            for o in setup.operations
            for move in o.moves
            if isinstance(move, Traverse)
            and min(x for x, _ in move.points) + setup.zero_x.set_to + setup.zero_x.finder / 2
            < o.cutter.diameter / 2 - 1e-6
        ]
        assert (setup.holding.stop_below is None) == (not over), setup.id
    setup, slot = find(wagon[2], "axlebox/guide slots/mill 1")
    h = setup.holding
    assert h.stop_below is not None
    # The slot runs out at the left end: no part of the stop as high as its floor.
    assert h.stop_below < h.jaw_top + h.stick_up + min(m.z for m in slot.moves)


def test_a_blind_tap_is_told_to_go_deeper_by_its_lead(wagon: Planned) -> None:
    taps = [o for s in wagon[2].setups for o in s.operations if o.cutter.kind is ToolKind.TAP]
    # ISO 261 coarse pitches, and BS 93 for 6 BA, from memory. A bottoming tap's lead, 1.5 pitches,
    # cuts no full thread.
    pitch = {"M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "6 BA": 0.53}
    blind = 0
    for tap in taps:
        printed = lines(tap, Reader(Unit.MM, mill_of(wagon[1])))
        told = [line for line in printed if "full thread ends" in line.words]
        assert len(told) == all("through" not in dialled(line)["Z"] for line in printed[:1])
        for line in told:
            (end,) = (float(text.replace("−", "-")) for text in dialled(line).values())
            (full,) = {move.z for move in tap.moves if isinstance(move, Plunge)}
            assert full - end == pytest.approx(1.5 * pitch[tap.cutter.thread], abs=2 * READOUT)
            blind += 1
    assert blind


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize("wide", [5, 8])
def test_a_slot_that_opens_at_one_end_is_milled_in_from_there(
    wide: int, end: str, tmp_path: Path
) -> None:
    """An end mill that may not plunge would else begin in the metal of the closed end."""
    build = built(
        tmp_path,
        "build: Key\nparts:\n  key: {material: mild steel, length: 50, width: 20, height: 10, "
        "bar: flat, as bought: [front, back, top, bottom], features: {cut: {kind: slot, "
        f"face: top, along: length, position: {{width: centre}}, width: {wide}, depth: 3, "
        f"length: 20, open at: {end}}}}}}}\n",
    )
    bar = BarStock("flat", "mild steel", "rectangle", 20, 10, 300)
    route = plan_build(build, replace(sample("wagon")[1], rack=(bar,)), steps=150_000)
    setup, milled = find(route, "key/cut/mill")
    assert setup.zero_x.find == "left"
    closed = 20 if end == "left" else 30
    rough = [m for m in milled.moves if isinstance(m, Traverse) and m.wall is None]
    assert rough
    for one in rough:
        (first, _), (second, _) = one.points[:2]
        assert abs(first - closed) > 20 > abs(second - closed)
