"""Work on end against the angle plate: too tall for a vise, or an end no side of a mill squares."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.proving.prove import Job, prove, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.route import Body, BodyKind, Plunge, Route, Setup, Zero
from barstock.words.cautions import of_setup
from barstock.words.holding import setting_up
from barstock.words.reader import Reader
from barstock.workshop.holding_kits import AnglePlate, Clamps
from barstock.workshop.shop import BarStock, Vise, Workshop

from .conftest import built, find, sample

COLUMN = """
build: Column
unit: mm
parts:
  column: {material: brass, length: 140, width: 40, height: 20, bar: flat,
    as bought: [front, back, top, bottom], features: {
    holes: {kind: hole, face: right, diameter: 5, depth: 14,
      at: [{front: 10, bottom: 8}, {back: 10, bottom: 8}]},
    tongue: {kind: step, face: right, edge: front, width: 4, depth: 3}}}
"""
BLOCK = """
build: Block
unit: mm
parts:
  block: {material: brass, length: 110, width: 80, height: 50, bar: flat,
    as bought: [front, back, top, bottom], features: {
    hole: {kind: hole, face: right, diameter: 5, depth: 10, at: {front: 12, bottom: 8}}}}
"""


def shop(wide: float, high: float, **changes: object) -> Workshop:
    """The wagon's shop with an angle plate 150 x 120 mm and a bar of that section."""
    owned = sample("wagon")[1]
    bar = BarStock("flat", "brass", "rectangle", wide, high, 500)
    kits = (Clamps(), AnglePlate(150, 120))
    return replace(owned, **({"rack": (bar,), "kits": kits} | changes))


def upright(route: Route) -> list[Setup]:
    return [s for s in route.setups if s.holding.of(BodyKind.ANGLE_PLATE)]


@pytest.fixture(scope="module")
def column(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = built(tmp_path_factory.mktemp("column"), COLUMN)
    return build, plan_build(build, shop(40, 20))


def test_tall_work_stands_against_the_plate_and_comes_out_as_drawn(
    column: tuple[Build, Route],
) -> None:
    build, route = column
    (setup,) = upright(route)
    straps = across(setup)
    assert {o.id for o in setup.operations} >= {"column/holes/drill", "column/tongue/mill"}
    assert setup.holding.up == "right"
    proof = prove(route, build)
    assert [str(v) for v in proof.violations] == []
    # 140 mm tall: each strap lies on the front, and all of them below the tongue.
    assert len(straps) == 2
    assert all(0 < s.low[2] < s.high[2] < 140 - 3 for s in straps)


def test_its_places_are_read_from_the_plate(column: tuple[Build, Route]) -> None:
    setup, drill = find(column[1], "column/holes/drill")
    places = sorted((m.x, m.y) for m in drill.moves if isinstance(m, Plunge))
    back = setup.holding.fixed_jaw
    # 10 mm from the front and the back of a part 40 mm deep, 8 mm from the bottom of 20.
    if back in ("back", "front"):
        assert [y for _, y in places] == pytest.approx([-30, -10])
        assert {x for x, _ in places} <= {8, 12}
    else:
        assert [x for x, _ in places] == pytest.approx([10, 30])
        assert {y for _, y in places} <= {-8, -12}
    assert setup.zero_y.find == "fixed jaw"


def test_without_a_plate_the_vise_holds_it_high(tmp_path: Path) -> None:
    build = built(tmp_path, COLUMN)
    route = plan_build(build, shop(40, 20, kits=(Clamps(),)))
    assert upright(route) == []
    setup, _ = find(route, "column/holes/drill")
    assert any(
        "stands" in caution and "above the jaws" in caution for caution in of_setup(setup, Reader())
    )


def test_ends_taller_than_any_flute_are_faced_on_end(tmp_path: Path) -> None:
    build = built(tmp_path, BLOCK)
    narrow = (Vise("small vise", 80, 28, 45),)
    route = plan_build(build, shop(80, 50, vises=narrow))
    first, second = (find(route, f"block/{side} end/square")[0] for side in ("left", "right"))
    assert (first.holding.up, second.holding.up) == ("left", "right")
    # The plate is 120 mm high and the work 110: parallels lift it clear of the cutter.
    assert 110 + second.holding.packing > 120
    assert second.zero_z.find == "rest"
    assert prove(route, build).ok


def test_what_does_not_fit_the_plate_is_said(tmp_path: Path) -> None:
    build = built(tmp_path, BLOCK)
    narrow = (Vise("small vise", 80, 28, 45),)
    small = shop(80, 50, vises=narrow, kits=(Clamps(), AnglePlate()))
    with pytest.raises(UnplannableError, match="100 mm wide, and studs stand on both sides"):
        plan_build(build, small)
    with pytest.raises(UnplannableError, match="no end mill has flutes long enough"):
        plan_build(build, shop(80, 50, vises=narrow, kits=(Clamps(),)))


def test_the_setup_says_how_and_warns(column: tuple[Build, Route]) -> None:
    setup = upright(column[1])[0]
    told = " ".join(line.words for line in setting_up(setup, Reader()))
    for word in ("angle plate", "dial indicator", "upright", "2 straps"):
        assert word in told
    assert any("two bolts at least" in caution for caution in of_setup(setup, Reader()))
    assert any("light cuts" in caution for caution in of_setup(setup, Reader()))


def on(setup: Setup, kind: BodyKind, *bodies: Body) -> Setup:
    """The setup with other bodies of a kind."""
    others = [body for body in setup.holding.bodies if body.kind is not kind]
    held = setup.holding.model_copy(update={"bodies": (*bodies, *others)})
    return setup.model_copy(update={"holding": held})


def across(setup: Setup) -> tuple[Body, ...]:
    return setup.holding.of(BodyKind.STRAP)


def plate(setup: Setup, x: float = 0.0, top: float | None = None) -> Setup:
    """The setup with its angle plate further along X, or of another height."""
    (found,) = setup.holding.of(BodyKind.ANGLE_PLATE)
    (a, b, c), (d, e, f) = found.low, found.high
    high = (d + x, e, f if top is None else top)
    aside = found.model_copy(update={"low": (a + x, b, c), "high": high})
    return on(setup, BodyKind.ANGLE_PLATE, aside)


def high_strap(setup: Setup) -> Setup:
    """The upper strap at the very top, where the tongue is cut."""
    low, high = across(setup)
    (a, b, _), (c, d, _) = high.low, high.high
    raised = high.model_copy(update={"low": (a, b, 118.0), "high": (c, d, 143.0)})
    return on(setup, BodyKind.STRAP, low, raised)


def lone(setup: Setup) -> Setup:
    return on(setup, BodyKind.STRAP, across(setup)[0])


def off(setup: Setup) -> Setup:
    def away(strap: Body) -> Body:
        (a, b, c), (d, e, f) = strap.low, strap.high
        return strap.model_copy(update={"low": (a, b - 5, c), "high": (d, e - 5, f)})

    return on(setup, BodyKind.STRAP, *(away(s) for s in across(setup)))


def low_plate(setup: Setup) -> Setup:
    return plate(setup, top=60.0)


def aside(setup: Setup) -> Setup:
    return plate(setup, x=125.0)


def high_plate(setup: Setup) -> Setup:
    """50 mm above the work, and a spotting drill sticks out less."""
    return plate(setup, top=190.0)


def plateless(setup: Setup) -> Setup:
    return on(setup, BodyKind.ANGLE_PLATE)


def unstrapped(setup: Setup) -> Setup:
    return on(setup, BodyKind.STRAP)


def from_the_back(setup: Setup) -> Setup:
    return setup.model_copy(update={"zero_y": Zero(find="back", finder=10)})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (high_strap, "metal is cut away behind strap 2|runs into a strap across the front"),
        (lone, "may tip under one strap"),
        (unstrapped, "may tip under one strap"),
        (plateless, "the route has no angle plate"),
        (off, "strap 1 bears on 0.0 mm2"),
        (low_plate, "it would sway"),
        (aside, "the plate touches 0.0 mm of the work's width"),
        (high_plate, "the (chuck|collet) meets the angle plate"),
        (from_the_back, "hidden behind the plate"),
    ],
)
def test_a_planted_mistake_is_named(
    column: tuple[Build, Route], change: Callable[[Setup], Setup], words: str
) -> None:
    build, route = column
    bars, setups = works_of(route, build.parts[0])
    mine = {s.id for s in upright(route)}
    changed = tuple(change(s) if s.id in mine else s for s in setups)
    found = prove_part(Job(wanted(build.parts[0]), bars, changed, 1, build.least_wall))
    said = "\n".join(str(v) for v in found.violations if v.severity == "error")
    assert re.search(words, said), said


def test_a_plate_wants_clamps(tmp_path: Path) -> None:
    build = built(tmp_path, BLOCK)
    bare = shop(80, 50, vises=(Vise("small vise", 80, 28, 45),), kits=(AnglePlate(150, 120),))
    with pytest.raises(UnplannableError, match="no end mill has flutes"):
        plan_build(build, bare)
    assert isinstance(shop(80, 50).kit(Clamps), Clamps)
