"""Vees of an outline are milled with the work tilted, the slot at the root first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import atan, degrees, radians, sin, tan
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.methods import KINDS
from barstock.methods.cuts import LevelCut
from barstock.planning.holding.tilting import tilting
from barstock.planning.plan import plan_build
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.quantities import Unit
from barstock.route import Route, Setup, TiltBy, Traverse
from barstock.workshop.shop import BarStock, Holder, Instrument, Tool, ToolKind, Workshop

from .conftest import built, find, sample

VEE = """
build: V-block
unit: mm
parts:
  block: {material: cast iron, length: 50, width: 40, height: 32, bar: flat,
    as bought: [front, back, top, bottom], features: {
    ROOT
    vee: {kind: outline, face: left, finish: milled, start: {front: 0, bottom: 0}, path: [
      {to: {front: 0, top: 0}}, {to: {front: NEAR, top: 0}}, {to: {front: 20, top: DEEP}},
      {to: {front: FAR, top: 0}}, {to: {back: 0, top: 0}}, {to: {back: 0, bottom: 0}},
      {to: {front: 0, bottom: 0}}]}}}
"""
ROOT = "relief: {kind: slot, face: top, along: length, position: {width: centre}, width: 2, "
ROOT += "depth: 16},"


def shop() -> Workshop:
    """The wagon's shop with a bar of cast iron and a slitting saw."""
    owned = sample("wagon")[1]
    bar = BarStock("flat", "cast iron", "rectangle", 40, 32, 500)
    saw = Tool("slitting saw 80", ToolKind.SLITTING_SAW, 80, 2, 40, 40, holder=Holder.ARBOR,
               teeth=64, centre_cutting=False)  # fmt: skip
    return replace(owned, rack=(bar,), tools=(*owned.tools, saw))


def drawn(
    folder: Path, near: float = 8, far: float = 32, deep: float = 12, root: str = ""
) -> Build:
    text = VEE.replace("NEAR", f"{near:g}").replace("FAR", f"{far:g}").replace("DEEP", f"{deep:g}")
    return built(folder, text.replace("ROOT", root))


@pytest.fixture(scope="module")
def block(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = drawn(tmp_path_factory.mktemp("vee"), root=ROOT)
    return build, plan_build(build, shop(), steps=150_000)


def proof(
    made: tuple[Build, Route], change: Callable[[Setup], Setup] = lambda setup: setup
) -> PartProof:
    build, route = made
    bars, setups = works_of(route, build.parts[0])
    changed = tuple(change(s) if s.holding.tilt else s for s in setups)
    return prove_part(Job(wanted(build.parts[0]), bars, changed, 1, build.least_wall))


def test_one_of_a_right_angle_is_cut_at_one_tilt_after_its_root(
    block: tuple[Build, Route],
) -> None:
    setup, mill = find(block[1], "block/vee/mill")
    assert setup.holding.tilt == pytest.approx(45)
    assert mill.cutter.name == "end mill 16"
    order = [o.id for s in block[1].setups for o in s.operations]
    assert order.index("block/relief/slit") < order.index("block/vee/mill")
    assert "root first" in [reason.kind for reason in mill.why]
    found = proof(block)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01


def test_the_floor_lies_under_the_highest_corner(block: tuple[Build, Route]) -> None:
    _, mill = find(block[1], "block/vee/mill")
    floors = {move.z for move in mill.moves if isinstance(move, Traverse)}
    # The flank goes through the vee's edge 8 from the front; the far upper edge, 32 from there
    # along the face, stands higher by that times the sine of 45 degrees.
    assert min(floors) == pytest.approx(-32 * sin(radians(45)), abs=0.011)


@pytest.mark.parametrize(("near", "far", "deep"), [(2, 38, 10), (8, 36, 9)])
def test_each_flank_of_a_wide_one_is_cut_in_turn(
    tmp_path: Path, near: float, far: float, deep: float
) -> None:
    build = drawn(tmp_path, near, far, deep)
    made = build, plan_build(build, shop(), steps=150_000)
    tilts = sorted(s.holding.tilt for s in made[1].setups if s.holding.tilt)
    # The slopes are the depth over what is left and right of the root, 20 from the front.
    slopes = sorted(degrees(atan(deep / reach)) for reach in (20 - near, far - 20))
    assert tilts == pytest.approx(slopes)
    found = proof(made)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01


STEPPED = """
build: Stepped
unit: mm
parts:
  block: {material: cast iron, length: 50, width: 40, height: 32, bar: flat, features: {
    rest: {kind: outline, face: left, finish: milled, start: {front: 0, bottom: 0}, path: [
      {to: {front: 0, top: 0}}, {to: {front: 8, top: 0}}, {to: {front: 20, top: 12}},
      {to: {front: 32, top: 0}}, {to: {back: 5, top: 0}}, {to: {back: 5, bottom: 10}},
      {to: {back: 0, bottom: 10}}, {to: {back: 0, bottom: 0}}, {to: {front: 0, bottom: 0}}]}}}
"""


def test_no_end_mill_goes_into_a_narrow_one_or_an_outline_with_more(tmp_path: Path) -> None:
    for build in (drawn(tmp_path, 12, 28, 14), built(tmp_path, STEPPED)):
        (feature,) = build.parts[0].features
        ways = KINDS[feature.kind].ways(feature.spec, build.parts[0])
        assert [way.name for way in ways] == ["milled", "filed"]


def test_what_a_vee_takes_away(tmp_path: Path) -> None:
    part = drawn(tmp_path).parts[0]
    (feature,) = part.features
    (cut,) = KINDS[feature.kind].ways(feature.spec, part)[0].cuts
    assert isinstance(cut, LevelCut)
    # 12 deep in the middle at 20, its flanks at 45 degrees.
    for y, z, gone in ((20, 20.5, True), (20, 19.5, False), (30, 30.5, True), (30, 29.5, False),
                       (10, 30.5, True), (10, 29.5, False), (6, 31.9, False)):  # fmt: skip
        assert cut.clears((25.0, y, z)) is gone
    for y, deep in ((20, 12), (14, 6), (28, 4), (36, 0)):
        assert cut.air((25.0, y, 32.0), cut.face) == pytest.approx(deep, abs=0.03)


def tilted(by: float) -> Callable[[Setup], Setup]:
    return lambda s: s.model_copy(
        update={"holding": s.holding.model_copy(update={"tilt": s.holding.tilt + by})}
    )


def shallow(setup: Setup) -> Setup:
    """The cutter stopped short of the wall."""
    done = tuple(
        o.model_copy(
            update={
                "moves": tuple(
                    m.model_copy(update={"points": tuple((x + 1, y) for x, y in m.points)})
                    if isinstance(m, Traverse)
                    else m
                    for m in o.moves
                )
            }
        )
        for o in setup.operations
    )
    return setup.model_copy(update={"operations": done})


@pytest.mark.parametrize(
    ("change", "words"), [(tilted(1), "cut away that the drawing keeps"), (shallow, "mm left on")]
)
def test_mistakes_are_refused(
    block: tuple[Build, Route], change: Callable[[Setup], Setup], words: str
) -> None:
    assert words in "\n".join(str(v) for v in proof(block, change).violations)


def test_a_dial_indicator_is_not_asked_for_more_than_it_shows() -> None:
    owned = replace(shop(), sine_bar=0.0, tilting_table=0.0)
    indicator = Instrument("dial indicator", "dial indicator", 0.01)
    owned = replace(owned, instruments=(indicator,))
    for angle in (1.5, 10.0, 30.0, 45.0):
        found = tilting(angle, 50.0, 60.0, owned, Unit.MM)
        assert found.by is TiltBy.DIAL_INDICATOR
        assert found.rise == pytest.approx(found.over * tan(radians(angle)), abs=0.01)
        assert found.rise < 10
    assert tilting(60.0, 50.0, 60.0, owned, Unit.MM).by is TiltBy.PROTRACTOR
