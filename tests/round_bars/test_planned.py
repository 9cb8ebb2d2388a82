"""Round parts planned in the V-block, proved by cutting the bar; mistakes planted in the route."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.pack.holding_picture import vise
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Body, BodyKind, Holding, Route, Setup
from barstock.tolerancing.fits_of_build import mated
from barstock.words.holding import held_words, setting_up
from barstock.words.reader import Reader
from barstock.workshop.holding_kits import VBlock
from barstock.workshop.shop import BarStock, Workshop
from barstock.workshop.shop_reading import read_workshop
from round_bars.conftest import COTTER, FLAT, OIL_WAY, PIN, SAMPLES, built

ALL = PIN + FLAT + COTTER + OIL_WAY


def shop(**changes: object) -> Workshop:
    """The example's shop, with a V-block and a round bar."""
    found, faults = read_workshop(SAMPLES / "new" / "workshop.yaml")
    assert found is not None, faults
    bar = BarStock("round 16", "mild steel", "round", 16.0, 16.0, 400.0)
    return replace(found, **{"kits": (VBlock(),), "rack": (*found.rack, bar), **changes})  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    """The whole pin and its route; only if you do not modify them."""
    build = built(ALL, tmp_path_factory.mktemp("pin"))
    return build, plan_build(build, shop(), steps=450_000)


def cutting(route: Route, what: str) -> Setup:
    """The setup in which that is cut."""
    return next(s for s in route.setups if any(what in o.id for o in s.operations))


def spoilt(route: Route, setup: Setup, **holding: object) -> Route:
    """The route with that setup held otherwise."""
    held = Holding.model_validate({**setup.holding.model_dump(), **holding})
    changed = setup.model_copy(update={"holding": held})
    setups = tuple(changed if s.id == setup.id else s for s in route.setups)
    return route.model_copy(update={"setups": setups})


def vee_of(setup: Setup) -> Body:
    (vee,) = setup.holding.of(BodyKind.V_BLOCK)
    return vee


def clamp_of(setup: Setup) -> Body:
    (clamp,) = setup.holding.of(BodyKind.CLAMP)
    return clamp


def moved(setup: Setup, x: float) -> dict[str, object]:
    """The V-block and its clamp shifted on the table."""
    bodies = [
        {**body.model_dump(), **{end: (p[0] + x, *p[1:])
         for end, p in (("low", body.low), ("high", body.high))}}
        for body in setup.holding.bodies
    ]  # fmt: skip
    return {"bodies": bodies}


def told(route: Route, build: Build) -> str:
    return "; ".join(str(violation) for violation in prove(route, build).parts[0].violations)


def test_the_pin_comes_out_as_drawn(made: tuple[Build, Route]) -> None:
    build, route = made
    proof = prove(route, build).parts[0]
    assert not proof.violations
    # readings are to 0.01 mm, so no face lies further off than half of that, nor both sides of one
    assert proof.deviation < 0.01
    assert route.bars[0].shape == "round"
    assert route.bars[0].width == 16


def test_the_bar_is_sawn_with_kerf_and_clean_up(made: tuple[Build, Route]) -> None:
    """48 and 0.75 at either end, twice, and one kerf of 1.2 mm between: 2 x 49.5 + 1.2."""
    assert made[1].bars[0].length == pytest.approx(2 * 49.5 + 1.2)


def test_zero_is_on_the_axis_and_the_hole_is_there(made: tuple[Build, Route]) -> None:
    _, route = made
    lying, standing = cutting(route, "cotter/drill"), cutting(route, "oil way/drill")
    assert lying.zero_y.find == "centre"
    assert lying.zero_x.find == "left"
    assert (standing.zero_x.find, standing.zero_y.find) == ("centre", "centre")
    drilled = [o.moves[0] for o in lying.operations if "cotter" in o.id]
    assert [getattr(move, "y", None) for move in drilled] == [0.0, 0.0]
    drill = standing.operations[-1].moves[0]
    assert (getattr(drill, "x", None), getattr(drill, "y", None)) == (0.0, 0.0)


def test_how_the_round_lies_in_the_v(made: tuple[Build, Route]) -> None:
    """In a V of 90 degrees the axis lies sqrt 2 times the radius over its root (elementary
    geometry): of 16 mm, 11.314 mm; its lowest point 8 mm less."""
    setup = cutting(made[1], "flat/mill")
    vee = vee_of(setup)
    assert vee.bears == "up"
    root = vee.high[2] - vee.mouth / 2
    assert setup.holding.packing - root == pytest.approx(8 * 2**0.5 - 8, abs=1e-3)


def test_what_is_cut_later_is_turned_true_to_what_was_cut_before(made: tuple[Build, Route]) -> None:
    _, route = made
    first, second = (cutting(route, what) for what in ("cotter/drill", "flat/mill"))
    later = max(first, second, key=lambda s: int(s.id))
    words = " ".join(line.words for line in setting_up(later, Reader()))
    assert "Turn the work in the V until" in words
    assert "looks up" in words or "looks to the" in words


def test_planted_the_block_under_the_cutter(made: tuple[Build, Route]) -> None:
    build, route = made
    setup = cutting(route, "right end/square")
    assert "runs into the V-block" in told(spoilt(route, setup, **moved(setup, x=14.0)), build)


def test_planted_the_clamp_where_the_flat_is_cut(made: tuple[Build, Route]) -> None:
    build, route = made
    setup = cutting(route, "flat/mill")
    wrong = spoilt(route, setup, **moved(setup, x=-25.0))
    assert "runs into the clamp of the V-block" in told(wrong, build)


def test_planted_work_that_hangs_over_the_v_or_sinks_into_it(made: tuple[Build, Route]) -> None:
    build, route = made
    setup = cutting(route, "flat/mill")
    packing = setup.holding.packing
    high = spoilt(route, setup, packing=packing + 0.3)
    assert "the work lies along 0.00 mm of the V's front side" in told(high, build)
    low = spoilt(route, setup, packing=packing - 0.3)
    assert "the work would have to go into the V-block" in told(low, build)


def test_planted_a_wider_v_than_the_block_has(made: tuple[Build, Route]) -> None:
    """Standing in it, the work then touches neither side."""
    build, route = made
    setup = cutting(route, "oil way/drill")
    vee = vee_of(setup)
    assert vee.bears == "back"
    wrong = spoilt(route, setup, bodies=[{**vee.model_dump(), "mouth": vee.mouth + 1.0}])
    assert "of the V's left side" in told(wrong, build)


@pytest.mark.parametrize(
    ("what", "kept", "words"),
    [
        ("flat/mill", BodyKind.CLAMP, "the route has no V-block"),
        ("flat/mill", BodyKind.V_BLOCK, "nothing holds the work down in the V-block"),
        ("oil way/drill", BodyKind.CLAMP, "the route has no V-block"),
    ],
)
def test_planted_a_body_left_out(
    made: tuple[Build, Route], what: str, kept: BodyKind, words: str
) -> None:
    build, route = made
    setup = cutting(route, what)
    bodies = [body.model_dump() for body in setup.holding.of(kept)]
    assert words in told(spoilt(route, setup, bodies=bodies), build)


@pytest.mark.parametrize(
    ("what", "way", "words"),
    [
        ("flat/mill", "vise", "nothing of the work is between the jaws|jaws"),
        ("flat/mill", "V-block, standing", "does not look at the fixed jaw"),
        ("oil way/drill", "V-block, lying", "does not look up"),
        ("flat/mill", "bench vise", "work is not held in this way, bench vise, at a mill"),
        ("flat/mill", "a magnet", "the proof knows no way of holding work called 'a magnet'"),
    ],
)
def test_planted_another_way_of_holding(
    made: tuple[Build, Route], what: str, way: str, words: str
) -> None:
    build, route = made
    setup = cutting(route, what)
    assert re.search(words, told(spoilt(route, setup, way=way), build))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"kits": ()}, "is round, and workshop.yaml lists no V-block to hold it in"),
        ({"kits": (VBlock(large_v=12, small_v=8),)}, "the V-block takes rounds of up to 15.6 mm"),
        ({"kits": (VBlock(wide=80),), "parallels": ()}, "no vise opens 80.0 mm for the V-block"),
        ({"kits": (VBlock(large_v=12, small_v=8),)}, "add one with a V at least 12.3 mm wide"),
        ({"parallels": ()}, "no parallels owned bring the V-block to between"),
    ],
)
def test_what_the_shop_lacks(changes: dict[str, object], words: str, tmp_path: Path) -> None:
    """Of two sides 8 mm wide past a millimetre each, sqrt 2 (12 - 2) = 14.1 mm is the most."""
    with pytest.raises(UnplannableError, match=words):
        plan_build(built(ALL, tmp_path), shop(**changes), steps=150_000)


def test_a_fit_by_the_diameter_of_the_bar(tmp_path: Path) -> None:
    """A bar of 16 +0/-0.1 in a bore of 16.1 to 16.15: 16.1 - 16 to 16.15 - 15.9 [mm]."""
    text = (
        PIN
        + FLAT
        + (
            "fits:\n  pivot: {inside: {size: 16.1 +0.05/0}, outside: pivot pin/diameter, "
            "clearance: {least: 0.05, most: 0.3}}\n"
        )
    )
    found = mated(built(text, tmp_path), shop())[0]
    assert found.fit.clearance() == pytest.approx((0.1, 0.25))


def test_the_clamp_goes_where_it_leaves_the_cut_free(tmp_path: Path) -> None:
    """A slot across the middle of a pin little longer than the block: only at an end of the block
    is the clamp clear of it."""
    text = PIN.replace("48 ±0.1", "40") + (
        "      groove: {kind: slot, face: top, along: width, position: {length: centre},\n"
        "        width: 6, depth: 2}\n"
    )
    build = built(text, tmp_path)
    route = plan_build(build, shop(), steps=150_000)
    clamp = clamp_of(cutting(route, "groove/mill"))
    assert clamp.high[0] < 20 - 3 or clamp.low[0] > 20 + 3
    assert not prove(route, build).parts[0].violations


def test_a_cutter_too_short_to_pass_the_clamp(tmp_path: Path) -> None:
    """A groove 3 mm wide wants a 3 mm slot drill, which does not stand out as far as a clamp 60 mm
    tall, where no parallels raise the work between flat jaws either."""
    text = PIN.replace("48 ±0.1", "40") + (
        "      groove: {kind: slot, face: top, along: width, position: {length: centre},\n"
        "        width: 3, depth: 2}\n"
    )
    tall = shop(kits=(VBlock(tall=60, high=42),), parallels=())
    with pytest.raises(UnplannableError, match="slot drill 3 is too short to reach past the clamp"):
        plan_build(built(text, tmp_path), tall, steps=150_000)


def test_the_picture_shows_block_and_clamp(made: tuple[Build, Route]) -> None:
    build, route = made
    setup = cutting(route, "flat/mill")
    stage = next(s for s in prove(route, build).parts[0].stages if s.setup == setup.id)
    bodies = {b.of: b.solid for b in vise(setup.holding, *stage.solid.bounds, 0.0, []).bodies}
    assert {"V-block", "clamp", "fixed jaw", "moving jaw"} <= bodies.keys()
    # the block is a box less a V of 90 degrees as wide at the face: half of that squared, along it
    vee = VBlock()
    whole = vee.long * (vee.wide * vee.high - (vee.large_v / 2) ** 2)
    assert bodies["V-block"].volume == pytest.approx(whole, rel=1e-6)
    words = dict(held_words(setup, Reader()))
    assert "24 mm V up" in words["V-block"]


def test_a_thin_pin_stands_for_its_ends_and_is_found_by_the_block(tmp_path: Path) -> None:
    """A round of 6 mm in a V 12 mm wide: its axis lies 3 sqrt 2 = 4.24 mm over the root, under the
    block's face at 6 mm, where no finder touches its sides; the block's own sides are touched. In
    inches it is the same bar."""
    text = """\
build: Thin
parts:
  pin:
    unit: inch
    material: mild steel
    copies: 2
    length: 16 mm
    diameter: 6 mm
    bar: round 6 mm
    features:
      hole: {kind: hole, face: top, at: {left: 2.5 mm, width: centre}, diameter: 2 mm,
        depth: through}
"""
    bar = BarStock("round 6", "mild steel", "round", 6.0, 6.0, 300.0)
    build = built(text, tmp_path)
    route = plan_build(build, shop(rack=(bar,), kits=(VBlock(clamp=6),)), steps=150_000)
    hole, left = cutting(route, "hole/drill"), cutting(route, "left end/square")
    assert (hole.zero_y.find, hole.zero_y.on) == ("centre", "V-block")
    assert vee_of(left).bears == "back"
    assert left.zero_z.find == "rest"
    assert not prove(route, build).parts[0].violations
    jaws = hole.holding.jaw_top + 30
    hidden = spoilt(route, hole, jaw_top=jaws)
    assert "the sides of the V-block that the Y zero is found between are hidden" in told(
        hidden, build
    )
