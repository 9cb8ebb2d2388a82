"""Outlines milled with the work screwed down on a fixture block."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from math import dist
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.errors import UnplannableError
from barstock.methods import KINDS
from barstock.methods.part_checks import check_part
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.quantities import Unit
from barstock.route import BodyKind, Plunge, Route, Shape, Traverse
from barstock.words.cautions import of_operation
from barstock.words.holding import setting_up
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock, Instrument, Tool, ToolKind, Workshop

from .conftest import bought, dialled, find, mill_of, only, sample

FOLDER = Path(__file__).parent / "outlines"
READOUT = 0.005  # the sample shop's [mm]


def outlines() -> tuple[Build, Workshop]:
    """The two parts, and the wagon's shop with bars for them."""
    build = read_build(FOLDER, KINDS).build
    assert build is not None
    bars = (
        BarStock("flat", "mild steel", "rectangle", 20, 6, 300),
        BarStock("plate", "brass", "rectangle", 30, 5, 300),
    )
    return build, replace(sample("wagon")[1], rack=bars)


@pytest.fixture(scope="module")
def planned() -> Route:
    """Both, planned."""
    return plan_build(*outlines())


def test_the_screws_stand_in_the_parts_own_holes(planned: Route) -> None:
    setup, _ = find(planned, "lug/round/mill")
    screws = setup.holding.of(BodyKind.SCREW)
    # Drawn 10 and 42 mm from the left end, 10 mm from the front of a part 20 mm wide; whichever way
    # it is turned over they are 32 mm apart in the middle of its width.
    first, second = screws
    assert abs(first.middle[0] - second.middle[0]) == pytest.approx(32)
    assert [first.middle[1], second.middle[1]] == pytest.approx([-10, -10])
    # M4 passes both, of 6 and 4.5 mm; M5 would pass the first, but the shop has no such tap.
    assert {first.thread, second.thread} == {"M4"}
    assert setup.holding.stop == "none"
    assert any("Make a fixture block" in one.words for one in setting_up(setup, Reader()))


def test_an_arc_is_gone_round_on_its_own_circle(planned: Route) -> None:
    setup, mill = find(planned, "lug/round/mill")
    plunges = [m for m in mill.moves if isinstance(m, Plunge)]
    screws = setup.holding.of(BodyKind.SCREW)
    eye = max(screw.middle[:2] for screw in screws)
    # Zero is on the left end and the back, as the table's own: a place is read as it stands.
    wanted = 10 + mill.cutter.diameter / 2
    beyond = [dist((p.x, p.y), eye) for p in plunges if p.x >= eye[0]]
    assert len(beyond) > 10
    assert beyond == pytest.approx([wanted] * len(beyond), abs=2 * READOUT)


def test_what_stands_between_two_places_is_little(planned: Route) -> None:
    _, mill = find(planned, "lug/round/mill")
    radius = mill.cutter.diameter / 2
    # The leaning sides are gone round left of the eye, which lies 40 mm from zero.
    leaning = [m for m in mill.moves if isinstance(m, Plunge) and m.x < 39.8]
    steps = [dist((a.x, a.y), (b.x, b.y)) for a, b in pairwise(leaning)]
    # Sagitta of the cutter's own circle over the chord between two places.
    cusps = [radius - (radius**2 - s**2 / 4) ** 0.5 for s in steps if s < radius]
    assert len(cusps) > 20
    assert max(cusps) < 0.2


def test_a_hollow_of_a_cutters_radius_is_cut_straight_down(planned: Route) -> None:
    _, mill = find(planned, "tee/shape/mill")
    assert mill.cutter.diameter == 12
    assert len([m for m in mill.moves if isinstance(m, Plunge)]) == 2
    # Nothing is left to file: every side is straight along a slide, every hollow is the cutter's.
    assert not [o for s in planned.setups for o in s.operations if o.id == "tee/shape/file"]


def test_straights_are_milled_a_cutters_radius_outside(planned: Route) -> None:
    setup, mill = find(planned, "tee/shape/mill")
    ends = [m.points for m in mill.moves if isinstance(m, Traverse)]
    beside_stem = {p[0][0] for p in ends if p[0][0] == p[1][0]}
    # The stem runs from 12 to 28 mm of 40: its sides, the cutter's radius of 6 mm and 0.2 mm for
    # the last cut make 6 and 5.8, 34 and 34.2.
    assert beside_stem == {6.0, 5.8, 34.0, 34.2}
    assert setup.zero_x.find == "left"


def test_it_is_sawn_first_and_filed_last(planned: Route) -> None:
    order = [o.id for s in planned.setups for o in s.operations]
    steps = [order.index(f"lug/round/{step}") for step in ("saw", "mill", "file")]
    assert steps == sorted(steps)
    assert steps[1] > order.index("lug/foot/drill")
    filed = find(planned, "lug/round/file")[1].moves[0]
    assert isinstance(filed, Shape)
    assert 0 < filed.most < 0.3


def test_without_two_holes_it_says_what_to_add() -> None:
    build, shop = outlines()
    lug = only(build, "lug").parts[0]
    bare = replace(lug, features=tuple(f for f in lug.features if f.name != "foot"))
    with pytest.raises(UnplannableError, match=r"no two holes right through.*add two"):
        plan_build(replace(build, parts=(bare,)), shop)


def test_the_shops_own_block_is_used() -> None:
    build, shop = outlines()
    owned = replace(shop, fixture_block=(80.0, 50.0, 20.0))
    route = plan_build(only(build, "tee"), owned)
    setup, _ = find(route, "tee/shape/mill")
    (block,) = setup.holding.of(BodyKind.BLOCK)
    assert [b - a for a, b in zip(block.low, block.high, strict=True)] == [80.0, 50.0, 20.0]
    assert not block.made
    assert any("Take the fixture block" in one.words for one in setting_up(setup, Reader()))


def test_it_is_sawn_with_a_saw(planned: Route) -> None:
    for part in ("lug/round", "tee/shape"):
        _, sawn = find(planned, f"{part}/saw")
        assert sawn.cutter.kind is ToolKind.SAW_BLADE
        assert "saw" in sawn.cutter.name
        assert not any("file" in caution.lower() for caution in of_operation(sawn, Reader()))


INCH_LUG = """
build: In inches
unit: inch
parts:
  lug: {material: mild steel, length: 2, width: 3/4, height: 1/4, bar: flat, features: {
    eye: {kind: hole, face: top, at: {left: 3/8, front: 3/8}, depth: through, diameter: 1/4,
      countersink: {diameter: 3/8, angle: 90}},
    foot: {kind: hole, face: top, at: {left: 1-5/8, front: 3/8}, depth: through, diameter: 3/16},
    round: {kind: outline, face: top, finish: milled, start: {left: 0, front: 0}, path: [
      {to: {left: 2, front: 1/8}}, {to: {left: 2, front: 5/8}}, {to: {left: 0, front: 3/4}},
      {to: {left: 0, front: 0}}]}}}
"""


def test_what_is_dialled_is_in_the_machines_unit_and_what_is_judged_in_the_parts(
    tmp_path: Path,
) -> None:
    (tmp_path / "build.yaml").write_text(INCH_LUG, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    flat = BarStock("flat", "mild steel", "rectangle", 20, 7, 300)
    route = plan_build(build, replace(sample("wagon")[1], rack=(flat,)))  # read in millimetres
    setup, _ = find(route, "lug/round/mill")
    (block,), screws = (setup.holding.of(kind) for kind in (BodyKind.BLOCK, BodyKind.SCREW))
    inches = Reader(Unit.INCH, mill_of(sample("wagon")[1]))
    lines_ = [one for one in setting_up(setup, inches) if one.words.startswith("Hole")]
    told = [dialled(one) for one in lines_]
    assert [[float(v.removesuffix(" mm")) for v in dial.values()] for dial in told] == [
        pytest.approx([s.middle[i] - block.low[i] for i in (0, 1)], abs=0.001) for s in screws
    ]
    _, sink = find(route, "lug/eye/countersink")
    # From 1/4 to 3/8 in at 90 degrees: half of 3.175 mm deep.
    shown = dialled(lines(sink, inches)[0])
    assert shown["Z"].startswith(("1.585 mm", "1.590 mm"))
    # 1 mm is 2.5 of the 64ths of an inch that a rule shows.
    _, saw = find(route, "lug/round/saw")
    assert "saw 3/64 in outside the line" in lines(saw, Reader(Unit.INCH))[0].words


def test_what_the_block_needs_and_the_shop_lacks_is_to_buy() -> None:
    build, shop = outlines()
    lug = only(build, "lug")
    owned = replace(shop, instruments=(*shop.instruments, Instrument("clock", "dial indicator")))
    assert plan_build(lug, owned).summary.buy == ()
    tools = tuple(t for t in shop.tools if t.kind is not ToolKind.TAP)
    bare = replace(shop, tools=tools, instruments=())
    route = plan_build(lug, bare)
    setup, _ = find(route, "lug/round/mill")
    # Without a tap the thickest screws: M5 passes a 6 mm hole and M4 one of 4.5 mm.
    for name in ("tap M4", "tap M5", "dial indicator"):
        assert any(b.startswith(name) and setup.id in b for b in bought(route)), name


def test_it_says_which_screw_would_not_go_in_or_has_no_room() -> None:
    build, shop = outlines()
    lug = only(build, "lug").parts[0]

    def refused(size: float) -> str:
        features = [f for f in lug.features if f.name != "foot"]
        foot = next(f for f in lug.features if f.name == "foot")
        small = replace(foot.spec, bore=replace(foot.spec.bore, diameter=size))
        part = replace(lug, features=(*features, replace(foot, spec=small)))
        with pytest.raises(UnplannableError) as wrong:
            plan_build(replace(build, parts=(part,)), shop)
        return str(wrong.value)

    # M2.5 is the thinnest there is, and wants 0.1 mm to pass.
    assert "the hole 2.5 mm across is too small for M2.5" in refused(2.5)
    # The hole stands 10 mm inside sides that lean: less than 20 mm for a washer 4 mm wider than it.
    assert re.search(r"has room for 1\d\.\d* mm across, and the washer of M4 is 19 mm", refused(15))


@pytest.mark.parametrize(("foot", "warned"), [("4.5", False), ("2.5", True)])
def test_too_small_a_hole_to_hold_by_is_told_when_checked(
    tmp_path: Path, foot: str, warned: bool
) -> None:
    text = (FOLDER / "build.yaml").read_text(encoding="utf-8")
    (tmp_path / "build.yaml").write_text(text.replace("4.5", foot), encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    faults = check_part(only(build, "lug").parts[0])
    assert any(f.feature == "round" and "it has 1" in f.what for f in faults) == warned


def test_a_shank_thicker_than_its_cutter_keeps_clear_of_the_screws(tmp_path: Path) -> None:
    """A stem 10 mm wide with hollows of 1.5 mm: the 3 mm cutter cuts 8 mm deep, its shank of 6 mm
    comes down beside heads that end 9 mm above the block, and 1.5 mm further in than the cutter."""
    slim = (
        (FOLDER / "build.yaml")
        .read_text(encoding="utf-8")
        .replace("left: 6, front: 20", "left: 13.5, front: 20")
        .replace("left: 12, front: 14}, arc: 6", "left: 15, front: 18.5}, arc: 1.5")
        .replace("left: 12, front: 0", "left: 15, front: 0")
        .replace("left: 28, front: 0", "left: 25, front: 0")
        .replace("left: 28, front: 14", "left: 25, front: 18.5")
        .replace("left: 34, front: 20}, arc: 6", "left: 26.5, front: 20}, arc: 1.5")
        .replace("thread: M4", "diameter: 5")
    )
    (tmp_path / "build.yaml").write_text(slim, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    owned = outlines()[1]
    with pytest.raises(UnplannableError, match=r"beside the shank of end mill 3, which has 8 mm"):
        plan_build(only(build, "tee"), owned)
    longer = Tool("long 3", ToolKind.END_MILL, 3, 12, 25, 6)
    mills = tuple(t for t in owned.tools if (t.kind, t.diameter) != (ToolKind.END_MILL, 3))
    route = plan_build(only(build, "tee"), replace(owned, tools=(*mills, longer)))
    assert find(route, "tee/shape/mill")[1].cutter.name == "long 3"
    assert prove(route, only(build, "tee")).ok
