"""Short rounds: held by little in a V, zeros by block and jaw, ends filed, several V-blocks."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import BodyKind, Holding, Route, Setup
from barstock.workshop.holding_kits import VBlock
from barstock.workshop.shop import BarStock, Vise, Workshop
from round_bars.conftest import built
from round_bars.test_planned import cutting, shop, spoilt, vee_of

EYE = """
build: Short
unit: mm
parts:
  eye: {{material: mild steel, length: {length}, diameter: {across}, features: {{
    bore: {{kind: hole, face: left, at: {{width: centre, height: centre}}, diameter: 5,
      depth: through}}}}}}
"""
PIN = """
build: Short
unit: mm
parts:
  pin: {material: mild steel, length: 20, diameter: 6, features: {
    cotter: {kind: hole, face: top, at: {right: 3.5, width: centre}, diameter: 2,
      depth: through}}}
"""


def owning(across: float, *blocks: VBlock, jaw: float = 28) -> Workshop:
    """The example's shop with these V-blocks, one bar and jaws so deep."""
    bar = BarStock("round", "mild steel", "round", across, across, 400.0)
    low = tuple(float(n) for n in range(3, 38))
    vise = Vise("vise", 100, jaw, 100)
    return shop(kits=blocks or (VBlock(),), rack=(bar,), vises=(vise,), parallels=low)


def planned(text: str, owned: Workshop, folder: Path) -> tuple[Build, Route]:
    """A build and its route, which proves."""
    build = built(text, folder)
    route = plan_build(build, owned, steps=300_000)
    assert [str(v) for v in prove(route, build).violations] == []
    return build, route


def told(build: Build, route: Route, setup: Setup, **how: object) -> str:
    """What the proof says where a setup is held otherwise."""
    return " ".join(str(v) for v in prove(spoilt(route, setup, **how), build).violations)


def test_an_eye_is_faced_standing_by_half_of_its_height(tmp_path: Path) -> None:
    block = VBlock(long=28)  # as long as the jaws are deep: nothing of the height is lost
    build, route = planned(EYE.format(length=10, across=20), owning(20, block), tmp_path)
    for end in ("left", "right"):
        setup = cutting(route, f"{end} end/square")
        assert setup.holding.way == "V-block, standing"
        assert setup.holding.grip < 0.5 * 20
    left = cutting(route, "left end/square")
    # 11.5 mm tall as sawn, half of it is 5.75: on parallels 23.5 high 4.5 mm are between the jaws.
    raised: dict[str, object] = {"packing": 23.5, "parallels": (23.5,), "grip": 4.5, "stick_up": 7}
    assert "the work lies along 4.50 mm of the V's left side" in told(build, route, left, **raised)


def test_a_zero_out_of_sight_is_found_on_block_and_jaw(tmp_path: Path) -> None:
    build, route = planned(EYE.format(length=5, across=20), owning(20), tmp_path)
    bore = cutting(route, "bore/drill")
    assert (bore.zero_x.find, bore.zero_x.on) == ("centre", BodyKind.V_BLOCK)
    assert (bore.zero_y.find, bore.zero_y.on) == ("fixed jaw", None)
    # The axis is half the diameter in front of the jaw, and in the middle of the block.
    (move,) = next(o for o in bore.operations if "drill" in o.id).moves
    assert move.kind == "plunge"
    assert move.y == pytest.approx(-10)
    assert move.x == pytest.approx(0)
    vee = vee_of(bore)
    aside = vee.model_copy(update={"low": (vee.low[0] + 1, *vee.low[1:]),
                                   "high": (vee.high[0] + 1, *vee.high[1:])})  # fmt: skip
    assert "V-block" in told(build, route, bore, bodies=(aside,))


def test_the_ends_of_a_washer_too_thin_to_be_held_for_them_are_filed(tmp_path: Path) -> None:
    _, route = planned(EYE.format(length=3, across=12), owning(12), tmp_path)
    for end in ("left", "right"):
        assert cutting(route, f"{end} end/square").machine_kind == "bench"
    assert cutting(route, "bore/drill").holding.way == "V-block, standing"


def test_of_two_blocks_the_one_that_leaves_the_cut_free_is_taken(tmp_path: Path) -> None:
    wide, narrow = VBlock(clamp=18), VBlock(long=20, small_v=10, clamp=6)
    _, route = planned(PIN, owning(6, wide, narrow), tmp_path)
    lying = Holding.model_validate(cutting(route, "cotter/drill").holding)
    (clamp,) = lying.of(BodyKind.CLAMP)
    assert clamp.size[0] == 6


def test_x_is_found_at_the_right_end_where_the_clamp_hides_the_left(tmp_path: Path) -> None:
    """Of 14 mm the hole leaves the clamp no more than the left: it stands out past that end, over
    a third of the work's length at least, 14 / 3 = 4.67 mm."""
    text = PIN.replace("length: 20, diameter: 6", "length: 14, diameter: 8").replace("3.5", "2.5")
    build, route = planned(text, owning(8, VBlock(tall=3)), tmp_path)
    drilled = cutting(route, "cotter/drill")
    assert drilled.zero_x.find == "right"
    (clamp,) = drilled.holding.of(BodyKind.CLAMP)
    assert clamp.low[0] < 0
    assert clamp.high[0] >= 14 / 3
    off = clamp.model_copy(update={"low": (clamp.low[0] - 3, *clamp.low[1:]),
                                   "high": (clamp.high[0] - 3, *clamp.high[1:])})  # fmt: skip
    bodies = (vee_of(drilled), off)
    assert "the clamp of the V-block bears on" in told(build, route, drilled, bodies=bodies)
