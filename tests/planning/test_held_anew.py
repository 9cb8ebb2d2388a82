"""Work that one grip does not hold for all that is cut in a pose, while the bar is still large."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Route, Setup
from barstock.workshop.shop import BarStock, Vise, Workshop

from .conftest import built, find, sample

BLOCK = """
build: Bevelled block
unit: mm
parts:
  block: {material: brass, length: 66.5, width: 27.5, height: 6.5, features: {
    bevel: {kind: edge, between: [left, top], bevel: 2},
    hole: {kind: hole, face: right, at: {front: 22, top: 3.5}, depth: 8, diameter: 2}}}
"""
SLIP = """
build: Slip
unit: mm
parts:
  slip: {material: brass, length: 60, width: 25, height: 3.5, as bought: [front, back], features: {
    hole: {kind: hole, face: top, at: {length: centre, width: centre}, depth: through,
      diameter: 6}}}
"""
STEPPED = """
build: Stepped
unit: mm
parts:
  stepped: {copies: 2, material: brass, length: 89.5, width: 10.5, height: 13, features: {
    groove: {kind: slot, face: top, along: length, position: {width: centre}, width: 2, depth: 2},
    across: {kind: slot, face: back, along: height, position: {length: centre}, width: 3,
      depth: 1.5},
    notch: {kind: step, face: back, edge: right, width: 3.5, depth: 2.5},
    pocket: {kind: pocket, face: top, at: {length: centre, width: centre}, length: 18, width: 5,
      corner radius: 2, depth: 4.5},
    rebate: {kind: step, face: front, edge: bottom, width: 5, depth: 2}}}
"""


def shop(*bar: float, parallels: tuple[float, ...] = tuple(range(4, 29, 3))) -> Workshop:
    """The wagon's shop with jaws 30 mm deep, parallels 4 to 28 by 3 and one bar."""
    return replace(
        sample("wagon")[1],
        vises=(Vise("vise", 100, 30, 85),),
        parallels=tuple(map(float, parallels)),
        rack=(BarStock("bar", "brass", "rectangle", *bar, 600),),
    )


@pytest.fixture(scope="module")
def block(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = built(tmp_path_factory.mktemp("block"), BLOCK)
    return build, plan_build(build, shop(34, 10))


def test_the_bevel_waits_until_the_face_has_made_the_work_lower(
    block: tuple[Build, Route],
) -> None:
    build, route = block
    faced, bevelled = (find(route, f"block/{name}")[0] for name in ("face top/mill", "bevel/bevel"))
    assert faced.id != bevelled.id
    assert (faced.holding.up, faced.holding.fixed_jaw) == (
        bevelled.holding.up,
        bevelled.holding.fixed_jaw,
    )
    # The cone runs half a millimetre below the bevel, 4 mm above the rest: the jaws end lower.
    assert 30 - bevelled.holding.packing < 4
    proof = prove(route, build)
    assert [str(v) for v in proof.violations if v.severity == "error"] == []


def test_as_low_as_for_the_face_the_cone_meets_the_jaws(block: tuple[Build, Route]) -> None:
    build, route = block
    faced, bevelled = (find(route, f"block/{name}")[0] for name in ("face top/mill", "bevel/bevel"))

    def low(s: Setup) -> Setup:
        packing = {"packing": faced.holding.packing, "parallels": faced.holding.parallels}
        held = s.holding.model_copy(update=packing)
        return s.model_copy(update={"holding": held}) if s.id == bevelled.id else s

    spoilt = route.model_copy(update={"setups": tuple(map(low, route.setups))})
    assert "jaw" in " ".join(str(v) for v in prove(spoilt, build).violations)


def test_of_thin_work_half_is_cut_away_on_either_side(tmp_path: Path) -> None:
    build = built(tmp_path, SLIP)
    route = plan_build(build, shop(25, 9))
    assert prove(route, build).ok
    # 9 mm of bar, 3.5 of work: the second face is cut with 6.25 mm in the vise.
    second = find(route, "slip/face top/mill")[0]
    assert second.holding.grip + second.holding.stick_up == pytest.approx(6.25)


def test_the_next_vise_is_tried_where_the_first_has_no_parallels(tmp_path: Path) -> None:
    owned = shop(25, 9, parallels=(7.0, 9.0, 11.0))
    with pytest.raises(UnplannableError, match="no parallels owned pack 'slip'"):
        plan_build(built(tmp_path, SLIP), owned)
    two = replace(owned, vises=(*owned.vises, Vise("low vise", 80, 12, 90)))
    build = built(tmp_path, SLIP)
    route = plan_build(build, two)
    assert "low vise" in {s.holding.device for s in route.setups}
    assert prove(route, build).ok


def test_jaws_must_meet_at_the_same_height(tmp_path: Path) -> None:
    """Groove and pocket leave the one jaw the work's front, the rebate the other what is behind
    it: 2.25 mm where both press. The notch, cut between them, comes before one of these."""
    build = built(tmp_path, STEPPED)
    bar = BarStock("bar", "brass", "rectangle", 11.5, 14.5, 600)
    route = plan_build(build, replace(sample("wagon")[1], rack=(bar,)), steps=300_000)
    assert [str(v) for v in prove(route, build).violations if v.severity == "error"] == []
    order = [o.id.split("/")[1] for s in route.setups for o in s.operations]
    assert order.index("notch") < max(order.index("groove"), order.index("rebate"))
