"""A workshop as written. Figures by hand; tools' usual lengths only where the file gives them."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.handbook.gauge_blocks import GAUGE_SETS
from barstock.workshop.holding_kits import Clamps, VBlock
from barstock.workshop.shop import Holder, ToolKind, Workshop
from barstock.workshop.shop_reading import read_workshop


def read(folder: Path, text: str) -> Workshop:
    path = folder / "workshop.yaml"
    path.write_text("workshop: Trial\n" + text, encoding="utf-8")
    workshop, faults = read_workshop(path)
    assert workshop is not None, faults
    return workshop


def test_a_name_is_enough(tmp_path: Path) -> None:
    assert read(tmp_path, "").tools == ()


def test_speeds_in_steps_or_stepless(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "machines:\n  press: {kind: drill press, speeds: [900, 400]}\n"
        "  lathe: {kind: lathe, speeds: 80 to 2500}\n",
    )
    assert [(m.speeds, m.stepless) for m in shop.machines] == [
        ((400, 900), False),
        ((80, 2500), True),
    ]


def test_a_readout_and_a_handwheel_axis_by_axis(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "machines:\n  mill:\n    kind: mill\n    unit: inch\n    speeds: 100 to 2000\n"
        "    daylight: 10\n    travel: {x: 12, y: 5, z: 7}\n    readout: {x: .0005, y: .0005}\n"
        "    handwheel: {z: {per turn: .050, divisions: 50, backlash: 3 thou}}\n",
    )
    mill = shop.machines[0]
    assert mill.x is not None
    assert mill.z is not None
    assert mill.x.readout == pytest.approx(0.0127)
    assert mill.x.divisions == 0
    assert mill.z.readout is None
    assert (mill.z.per_turn, mill.z.backlash) == pytest.approx((1.27, 0.0762))
    assert mill.daylight == pytest.approx(254)


def test_holding(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "holding:\n  vises: {vise: {jaw width: 3 in, jaw depth: 25, opening: 60}}\n"
        "  parallels: [6 to 10 by 2, 1/2]\n  adjustable parallels: [9.5 to 12.2]\n"
        "  tilting table: 45\n  V-block: yes\n",
    )
    assert shop.vises[0].jaw_width == pytest.approx(76.2)
    assert shop.parallels == (6, 8, 10, 11, 12, 12.7)
    assert (shop.tilting_table, shop.kits) == (45, (VBlock(),))


def test_clamps_are_the_usual_ones_or_as_measured(tmp_path: Path) -> None:
    usual = read(tmp_path, "holding: {clamps: true}\n").kit(Clamps)
    assert usual is not None
    own = read(tmp_path, "holding:\n  clamps: {wide: 3/4 in, highest: 3 in}\n").kit(Clamps)
    assert own is not None
    assert (own.wide, own.highest) == pytest.approx((19.05, 76.2))
    assert (own.long, own.bears, own.tall) == (usual.long, usual.bears, usual.tall)


def test_a_list_of_sizes_stands_for_whole_tools(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "tools:\n  end mills: [6, 1/4]\n  slot drills: 3\n"
        "  drills: [1 to 2 by 0.5, No 1 to No 3]\n",
    )
    assert [(tool.name, tool.diameter) for tool in shop.tools[:6]] == [
        ("end mill 6", 6),
        ("end mill 1/4", 6.35),
        ("slot drill 3", 3),
        ("drill 1", 1),
        ("drill 1.5", 1.5),
        ("drill 2", 2),
    ]
    assert [tool.name for tool in shop.tools[6:]] == ["drill No 1", "drill No 2", "drill No 3"]
    assert [tool.centre_cutting for tool in shop.tools[:3]] == [False, False, True]
    for tool in shop.tools:
        assert tool.reach > tool.flute > tool.diameter


def test_a_tool_may_say_more_of_itself(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "tools:\n"
        "  end mills: [{size: 12, flute: 40, reach: 50, shank: 10, teeth: 3, name: long one,\n"
        "    centre cutting: true, material: carbide}]\n"
        "  countersinks: {size: 10, angle: 82}\n"
        "  boring heads: [{size: 8, largest bore: 60}]\n  taps: [M3]\n",
    )
    mill, sink, head, tap = shop.tools
    assert (mill.name, mill.flute, mill.reach, mill.shank) == ("long one", 40, 50, 10)
    assert (mill.teeth, mill.centre_cutting, mill.material) == (3, True, "carbide")
    assert (sink.kind, sink.point) == (ToolKind.COUNTERSINK, 82)
    assert head.bores == (8, 60)
    assert (tap.thread, tap.diameter, tap.holder) == ("M3", 3, Holder.HAND)


def test_measuring(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "measuring:\n  depth micrometer: {reads: 0.01, range: 0 to 25}\n"
        "  the good one: {kind: micrometer, reads: .0001 in, range: 0 to 1 in}\n"
        "  gauge blocks: {set: 87 piece, sizes: [0.5005]}\n",
    )
    depth, good, blocks = shop.instruments
    assert (depth.kind, depth.step, depth.high) == ("depth micrometer", 0.01, 25)
    assert (good.kind, good.step, good.high) == ("micrometer", 0.00254, 25.4)
    assert len(blocks.sizes) == 88


@pytest.mark.parametrize("name", GAUGE_SETS)
def test_a_gauge_set_has_as_many_blocks_as_it_is_sold_by(name: str) -> None:
    assert len(GAUGE_SETS[name].mm) == int(name.split()[0])


def test_the_rack(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "rack:\n  brass: [28 x 22 x 300, 2 of 3/4 x 1/4 x 12 in, round 12 x 500,\n"
        "    {section: 20 × 5, length: 250, count: 3, tolerance: +0.05/-0.02, to buy: true}]\n",
    )
    flat, inch, rod, own = shop.rack
    assert (flat.name, flat.width, flat.height, flat.length) == ("28 x 22", 28, 22, 300)
    assert (inch.name, inch.count, inch.length) == ("3/4 x 1/4", 2, pytest.approx(304.8))
    assert (rod.shape, rod.width, rod.height) == ("round", 12, 12)
    assert own.tolerance == pytest.approx((-0.02, 0.05))
    assert (own.name, own.count, own.to_buy) == ("20 x 5", 3, True)


def test_times_are_the_users_own(tmp_path: Path) -> None:
    shop = read(tmp_path, "times: {set up: 7.5, file per 100mm: 4}\n")
    assert (shop.times.set_up, shop.times.file_per_100mm) == (7.5, 4)


def test_the_hearth_and_the_screws_in_stock(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "hearth:\n  gas: 0.6 kg/h\n  bricks: no\n  filler rods: {silver 55%: [1, 1.5], Ag 134: 2}\n"
        "  fluxes: FH10\n  pickle: {bath: safety pickle, heated: no, takes: 3}\n"
        "screws: {M3: [16, 10], 6 BA brass: 1/2}\n"
        "times: {heat: 15, strip down: 40}\n",
    )
    hearth = shop.hearth
    assert hearth is not None
    assert (hearth.power, hearth.gas, hearth.bricks) == (0, 600, False)
    assert [(rod.alloy, rod.diameter) for rod in hearth.rods] == [
        ("Ag 155", 1),
        ("Ag 155", 1.5),
        ("Ag 134", 2),
    ]
    assert hearth.fluxes == ("FH10",)
    assert hearth.pickle is not None
    assert (hearth.pickle.bath, hearth.pickle.takes) == ("sodium bisulphate", 3)
    assert [(s.thread, s.lengths, s.of) for s in shop.screws] == [
        ("M3", (10, 16), "steel"),
        ("6 BA", (12.7,), "brass"),
    ]
    assert (shop.times.heat, shop.times.strip_down, shop.times.turn_over) == (15, 40, 5)


def test_several_v_blocks(tmp_path: Path) -> None:
    shop = read(tmp_path, "holding:\n  V-block: [{long: 50, large V: 1-1/4}, {clamp: 6}]\n")
    assert shop.all_of(VBlock) == [VBlock(long=50, large_v=31.75), VBlock(clamp=6)]


def test_a_v_block_as_measured(tmp_path: Path) -> None:
    shop = read(tmp_path, "holding:\n  V-block: {long: 50, large V: 1-1/4, small V: 10}\n")
    assert shop.kit(VBlock) == VBlock(long=50, large_v=31.75, small_v=10)


def test_tools_of_one_kind_and_size_are_told_apart_by_what_they_are(tmp_path: Path) -> None:
    shop = read(
        tmp_path,
        "tools:\n"
        "  slitting saws: [{size: 63, thickness: 1}, {size: 63, thickness: 1.6}, {size: 80}]\n"
        "  end mills: [6, {size: 6, flute: 30}, {size: 6, flute: 30, material: carbide}, 6]\n"
        "  countersinks: [{size: 10, angle: 90}, {size: 10, angle: 60}]\n"
        "  drills: [3, {size: 3, flute: 70, name: the long one}]\n",
    )
    assert [tool.name for tool in shop.tools] == [
        "slitting saw 63, 1 thick",
        "slitting saw 63, 1.6 thick",
        "slitting saw 80",
        "end mill 6, flutes 13",
        "end mill 6, flutes 30, HSS",
        "end mill 6, flutes 30, carbide",
        "countersink 10, 90°",
        "countersink 10, 60°",
        "drill 3",
        "the long one",
    ]


def test_saws_of_an_inch_shop_are_told_apart_in_inches(tmp_path: Path) -> None:
    saws = "[{size: 2-1/2, thickness: 1/32}, {size: 2-1/2, thickness: .040}]"
    shop = read(tmp_path, f"unit: inch\ntools:\n  slitting saws: {saws}\n")
    names = [tool.name for tool in shop.tools]
    assert names == ["slitting saw 2-1/2, 1/32 thick", "slitting saw 2-1/2, .04 thick"]


@pytest.mark.parametrize(
    ("reads", "step"), [("5'", 1 / 12), ("0.1", 0.1), ("1°", 1.0), ("1/2°", 0.5)]
)
def test_a_protractor_reads_degrees_and_minutes(tmp_path: Path, reads: str, step: float) -> None:
    written = f'{{reads: "{reads}", range: 0° to 180°}}'
    shop = read(tmp_path, f"unit: inch\nmeasuring:\n  protractor: {written}\n")
    assert shop.instruments[0].step == pytest.approx(step)


@pytest.mark.parametrize(
    ("written", "many", "first", "last"),
    [
        ("1-10 by 0.5", 19, "drill 1", "drill 10"),
        ("1.0 - 13.0 step 0.5", 25, "drill 1", "drill 13"),
        ("1 to 13 in 0.1 steps", 121, "drill 1", "drill 13"),
        ("'#1-#60'", 60, "drill No 1", "drill No 60"),
        ("No 1-60", 60, "drill No 1", "drill No 60"),
        ("numbers 1 to 80", 80, "drill No 1", "drill No 80"),
        ("A to Z", 26, "drill letter A", "drill letter Z"),
        ("letters A-Z", 26, "drill letter A", "drill letter Z"),
        ("1/16 to 1/2 by 64ths", 29, "drill 1/16", "drill 1/2"),
        ("1/16-1/2 in 64ths", 29, "drill 1/16", "drill 1/2"),
    ],
)
def test_drills_by_the_set_in_the_ways_they_are_written(
    tmp_path: Path, written: str, many: int, first: str, last: str
) -> None:
    tools = read(tmp_path, f"tools:\n  drills: [{written}]\n").tools
    assert (len(tools), tools[0].name, tools[-1].name) == (many, first, last)
