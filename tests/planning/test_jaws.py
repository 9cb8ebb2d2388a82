"""What jaws need of the work: height, and cuts near enough. Plan and proof agree."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.handbook.holding_limits import OVERHANG
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import BodyKind, Route, Setup
from barstock.words.cautions import of_setup
from barstock.words.holding import held_words
from barstock.words.reader import Reader
from barstock.workshop.shop import BarStock, Vise, Workshop

from .conftest import built, find, sample
from .small_part import proved, written
from .small_part import shop as ordinary

TEE = """
build: Tee bar
unit: mm
parts:
  tee: {material: brass, length: 60, width: 24, height: 14, bar: bar,
    as bought: [front, back, top, bottom], features: {
    front rebate: {kind: step, face: top, edge: front, width: 9, depth: 11},
    back rebate: {kind: step, face: top, edge: back, width: 9, depth: 11}%s}}
"""
CROSS = """,
    cross: {kind: hole, face: front, at: {left: 20, top: 5}, diameter: 3, depth: through}"""
THINNER = (TEE % "").replace("depth: 11}", "depth: 12.5}")
HOLES_AT_ENDS = """
build: Holes at both ends
unit: mm
parts:
  bar: {material: brass, length: %g, width: %g, height: %g, bar: bar,
    as bought: [front, back, top, bottom], features: {
    near: {kind: hole, face: top, at: {left: %g, width: centre}, diameter: 3, depth: through},
    far: {kind: hole, face: top, at: {right: %g, width: centre}, diameter: 3, depth: through}}}
"""
STRIP, LINK = HOLES_AT_ENDS % (200, 12, 3, 6, 6), HOLES_AT_ENDS % (152, 10, 6, 5, 5)
CHAMFERED = """
build: Chamfered
unit: mm
parts:
  tongue: {material: brass, length: 40, width: 20, height: 6, bar: bar,
    as bought: [front, back, top, bottom], features: {
    one: {kind: edge, between: [top, front], bevel: 2},
    two: {kind: edge, between: [top, back], bevel: 2},
    three: {kind: edge, between: [bottom, front], bevel: 2},
    four: {kind: edge, between: [bottom, back], bevel: 2},
    groove: {kind: slot, face: bottom, along: length, position: {width: centre}, width: 4,
      depth: 2}}}
"""
ROCKING = """
build: Rocking
unit: mm
parts:
  pad: {material: brass, length: 60, width: 20, height: 12, bar: bar,
    as bought: [front, back, top, bottom], features: {
    pad: {kind: step, face: top, edge: left, width: 20, depth: 3},
    ridge: {kind: ridge, face: bottom, peak along: width, position: {length: centre}, angle: 3,
      depth at peak: 0.5}}}
"""
SMALL, LARGE = Vise("small vise", 80, 28, 75), Vise("large vise", 100, 28, 75)


def shop(width: float, height: float, *vises: Vise) -> Workshop:
    """The wagon's shop with these vises, parallels from 6 to 26 by 2, and one bar."""
    bar = BarStock("bar", "brass", "rectangle", width, height, 600)
    low = tuple(float(n) for n in range(6, 28, 2))
    return replace(sample("wagon")[1], vises=vises, parallels=low, rack=(bar,))


def told(route: Route, build: Build, setup: Setup, change: Callable[[Setup], Setup]) -> str:
    """What the proof says where one setup of a route is changed."""
    changed = tuple(change(s) if s.id == setup.id else s for s in route.setups)
    spoilt = route.model_copy(update={"setups": changed})
    return " ".join(str(v) for v in prove(spoilt, build).violations)


def held_otherwise(**how: object) -> Callable[[Setup], Setup]:
    """A setup held otherwise than planned."""
    return lambda s: s.model_copy(update={"holding": s.holding.model_copy(update=how)})


def test_a_thin_flange_is_gripped_by_little_and_the_page_says_so(tmp_path: Path) -> None:
    build = built(tmp_path, TEE % "")
    route = plan_build(build, shop(24, 14, SMALL), steps=300_000)
    assert prove(route, build).ok
    milled = find(route, "tee/front rebate/mill")[0]
    # A flange 3 mm thick, jaws 28 deep on parallels of 26: 2 mm between them, 12 above.
    assert (milled.holding.grip, milled.holding.stick_up) == (2.0, 12.0)
    assert any("light cuts" in line for line in of_setup(milled, Reader()))
    # The ends leave the jaws as much as they like: they are squared in a firm grip.
    assert find(route, "tee/right end/square")[0].holding.grip > 3
    raised = held_otherwise(packing=26.5, parallels=(26.5,), grip=1.5, stick_up=12.5)
    assert "the jaws grip only 1.50 mm" in told(route, build, milled, raised)


def test_too_thin_a_flange_is_strapped_down(tmp_path: Path) -> None:
    build = built(tmp_path, THINNER)
    route = plan_build(build, shop(24, 14, SMALL), steps=300_000)
    assert prove(route, build).ok
    first, second = (find(route, f"tee/{side} rebate/mill")[0] for side in ("front", "back"))
    assert first.id != second.id
    # Over the side that is not cut; the second time the nose is on the flange, 1.5 mm thick.
    later = max(first, second, key=lambda s: int(s.id))
    assert {s.low[2] - later.holding.packing for s in later.holding.of(BodyKind.STRAP)} == {1.5}


def test_without_straps_it_is_refused_for_what_the_jaws_would_hold(tmp_path: Path) -> None:
    bare = replace(shop(24, 14, SMALL), kits=())
    with pytest.raises(UnplannableError, match=r"gripped by 1\.30 mm of height, and 2\.00 mm is"):
        plan_build(built(tmp_path, THINNER), bare, steps=300_000)


def test_a_hole_goes_into_the_side_of_the_stem(tmp_path: Path) -> None:
    build = built(tmp_path, TEE % CROSS)
    route = plan_build(build, shop(24, 14, SMALL), steps=300_000)
    assert prove(route, build).ok
    drilled, drill = find(route, "tee/cross/drill")
    assert drill.does == "drill"
    assert {drilled.holding.up, drilled.holding.fixed_jaw} <= {"front", "back", "top", "bottom"}


def test_a_long_thin_strip_is_gripped_near_either_end(tmp_path: Path) -> None:
    build = built(tmp_path, STRIP)
    route = plan_build(build, shop(12, 3, SMALL), steps=300_000)
    assert prove(route, build).ok
    near, far = (find(route, f"bar/{name}/drill")[0] for name in ("near", "far"))
    assert near.id != far.id
    # Whichever end is at the left, every hole is within five thicknesses of the jaws.
    for setup in (near, far):
        places = [m.x + setup.zero_x.set_to for o in setup.operations for m in o.moves
                  if m.kind == "plunge"]  # fmt: skip
        assert places
        for x in places:
            reached = max(setup.holding.jaws_from - x, x - setup.holding.jaws_to)
            assert reached < OVERHANG * 3
    moved = held_otherwise(jaws_from=60.0, jaws_to=140.0)
    assert "past the jaws' end" in told(route, build, near, moved)
    lines = dict(held_words(far, Reader()))
    assert "Along the jaws" in lines


def test_the_wider_vise_is_taken_where_the_first_would_leave_the_work_too_far_out(
    tmp_path: Path,
) -> None:
    build = built(tmp_path, LINK)
    # 6 mm thick, it may be cut 30 mm out: 31 mm of it stand out of jaws 80 wide up to the hole's
    # axis at 5 mm, 21 mm of jaws 100 wide.
    route = plan_build(build, shop(10, 6, SMALL, LARGE), steps=300_000)
    assert prove(route, build).ok
    near = find(route, "bar/near/drill")[0]
    assert near.id == find(route, "bar/far/drill")[0].id
    assert near.holding.device == "large vise"


def test_chamfers_all_round_are_put_in_an_order_that_leaves_a_grip(tmp_path: Path) -> None:
    """Any two leave the others 2 mm of 6 to lie on, or to be gripped by."""
    build = built(tmp_path, CHAMFERED)
    route = plan_build(build, shop(20, 6, SMALL))
    assert prove(route, build).ok
    done = [o.features[0] for s in route.setups for o in s.operations if o.does == "bevel"]
    assert sorted(done) == ["four", "one", "three", "two"]


def test_tilted_work_with_a_step_beneath_stands_as_the_route_says(tmp_path: Path) -> None:
    """The step takes the corner it would stand on: 20 mm of it raise the end by 20 sin 3 = 1.05."""
    build = built(tmp_path, ROCKING)
    route = plan_build(build, shop(20, 12, SMALL))
    assert prove(route, build).ok
    tilted = [s for s in route.setups if s.holding.tilt]
    assert len(tilted) == 2
    whole = held_otherwise(stick_up=tilted[-1].holding.stick_up + 1.05)
    assert "the work lies otherwise" in told(route, build, tilted[-1], whole)


@pytest.mark.parametrize("long", [4, 5, 6])
def test_the_ends_of_a_short_nut_are_squared_as_it_stands(long: int, tmp_path: Path) -> None:
    thread = "kind: hole, face: left, at: {width: centre, height: centre}, thread: M3"
    corner = "kind: edge, between: [front, top], radius: 0.8"
    proved(written(f"{long} x 7 x 7", f"{thread}, depth: through", corner), tmp_path)


@pytest.mark.parametrize(
    ("size", "features"),
    [
        # a T's stem 4 thick between jaws that grip its end, the hole nearer that than a spotting
        # drill of 10 is wide
        (
            "50 x 18 x 18",
            (
                "kind: step, face: top, edge: front, width: 7, depth: 15",
                "kind: step, face: top, edge: back, width: 7, depth: 15",
                "kind: hole, face: front, at: {left: 18, top: 3}, diameter: 2.5, depth: through",
            ),
        ),
        # a countersink sunk from a floor beside the side of the work
        (
            "40 x 20 x 15",
            (
                "kind: step, face: top, edge: front, width: 12, depth: 4",
                "kind: hole, face: top, at: {left: 20, front: 4}, starts below: 4, diameter: 3,"
                " depth: through, countersink: {diameter: 6}",
            ),
        ),
    ],
)
def test_jaws_stay_below_cones_beside_the_edge_of_the_work(
    size: str, features: tuple[str, ...], tmp_path: Path
) -> None:
    """No spotting drill or countersink, wider than its hole, runs into a jaw."""
    route = proved(written(size, *features), tmp_path)
    hole = f"f{len(features)}"
    assert any(hole in o.features for s in route.setups for o in s.operations)


BATTEN = """
build: Batten
unit: mm
parts:
  batten: {material: brass, length: 180, width: 9, height: 5, bar: flat,
    as bought: [front, back], features: {
    holes: {kind: hole, face: top, diameter: 3, depth: through, at: [
      {left: 8, width: centre}, {left: 60, width: centre}, {right: 8, width: centre}]}}}
"""


def test_long_thin_work_is_faced_and_drilled_in_two_grips(tmp_path: Path) -> None:
    build = built(tmp_path, BATTEN)
    bar = BarStock("flat", "brass", "rectangle", 9, 7, 600)
    route = plan_build(build, replace(ordinary("mm"), rack=(bar,)))
    assert [str(v) for v in prove(route, build).violations if v.severity == "error"] == []
    # 5 mm bears 25 past the jaws, and 100 mm of jaw about the middle of 180 leave 40.
    left, right = (
        find(route, name)[0] for name in ("batten/face top/mill 1", "batten/face top/mill")
    )
    assert left.id != right.id
    for setup, ends in ((left, (0, 90)), (right, (90, 180))):
        held = (setup.holding.jaws_from - 25, setup.holding.jaws_to + 25)
        assert held[0] <= ends[0] + 0.75
        assert ends[1] <= held[1]
