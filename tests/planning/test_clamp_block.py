"""Small work on end in a toolmaker's clamp block, where the vise's jaws do not suit it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.pack.setup_pictures import setup_picture
from barstock.planning.plan import plan_build
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.route import Body, BodyKind, Plunge, Route, Setup, Zero
from barstock.words.holding import held_words, setting_up
from barstock.words.reader import Reader
from barstock.words.zeros import zero_lines
from barstock.workshop.holding_kits import ClampBlock
from barstock.workshop.shop import BarStock, Vise, Workshop
from barstock.workshop.shop_reading import read_workshop

from .conftest import built, find, sample

PILLAR = """
build: Pillar
unit: mm
parts:
  pillar: {material: brass, length: 50, width: 12, height: 10, bar: flat, copies: 2,
    as bought: [front, back, top, bottom], features: {
    hole: {kind: hole, face: right, diameter: 3, depth: 10, at: {front: 6, bottom: 5}},
    tongue: {kind: step, face: right, edge: front, width: 3, depth: 4}}}
"""
BLOCK = ClampBlock(high=35)
"""Higher than the usual one: the pillar is 50 mm tall, and must be held over half of that."""


def shop(*kits: ClampBlock) -> Workshop:
    """The wagon's shop, its vise a small one: 38 mm of the pillar would stand above jaws 12 deep,
    more than three times their depth."""
    bar = BarStock("flat", "brass", "rectangle", 12, 10, 500)
    vise = Vise("small vise", 80, 12, 60)
    low = (3.0, 4.0, 5.0, 6.0, 8.0)
    return replace(sample("wagon")[1], rack=(bar,), vises=(vise,), parallels=low, kits=kits)


@pytest.fixture(scope="module")
def pillar(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build = built(tmp_path_factory.mktemp("pillar"), PILLAR)
    return build, plan_build(build, shop(BLOCK), steps=300_000)


def upright(route: Route) -> Setup:
    """The setup in which its end is up."""
    return find(route, "pillar/hole/drill")[0]


Change = Callable[[Setup], Setup]


def proof(pillar: tuple[Build, Route], change: Change = lambda s: s) -> PartProof:
    """The proof of the pillar with that setup changed."""
    build, route = pillar
    bars, setups = works_of(route, build.parts[0])
    mine = upright(route).id
    changed = tuple(change(s) if s.id == mine else s for s in setups)
    return prove_part(Job(wanted(build.parts[0]), bars, changed, 2, build.least_wall))


def test_it_stands_in_the_block_and_comes_out_as_drawn(pillar: tuple[Build, Route]) -> None:
    setup, (move,) = upright(pillar[1]), find(pillar[1], "pillar/hole/drill")[1].moves
    assert setup.holding.way == "clamp block"
    assert setup.holding.of(BodyKind.PLAIN)
    found = proof(pillar)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01
    # From wall and back: 6 mm of 12 and 5 mm of 10, whichever way round it stands.
    assert isinstance(move, Plunge)
    assert sorted((move.x, -move.y)) == pytest.approx([5, 6])


def test_without_one_the_vise_holds_it_high(tmp_path: Path) -> None:
    route = plan_build(built(tmp_path, PILLAR), shop(), steps=300_000)
    assert upright(route).holding.way == "on end"


def test_what_the_vise_holds_well_stays_there(tmp_path: Path) -> None:
    owned = replace(shop(BLOCK), vises=(Vise("vise", 80, 28, 60),), parallels=(3.0, 8.0, 14.0))
    route = plan_build(built(tmp_path, PILLAR), owned, steps=300_000)
    assert upright(route).holding.device == "vise"


@pytest.mark.parametrize(
    "kit",
    [
        ClampBlock(high=35, inner=9),  # the pillar is 10 by 12 mm
        ClampBlock(high=35, out=10),  # from the yoke 30 mm off, 18 mm are to be reached over
        ClampBlock(high=20),  # 20 of 50 mm are less than half
        ClampBlock(high=60),  # 18 mm of parallels would lift it over that, and 8 mm are the most
    ],
)
def test_a_block_that_does_not_suit_it_is_not_used(kit: ClampBlock, tmp_path: Path) -> None:
    route = plan_build(built(tmp_path, PILLAR), shop(kit), steps=300_000)
    assert upright(route).holding.way == "on end"


def test_parallels_bring_what_is_cut_above_the_block(tmp_path: Path) -> None:
    """Of a block 48 mm high, 4 mm cut away and 4 mm to spare: 50 mm of work lack 6 mm."""
    build = built(tmp_path, PILLAR)
    pillar = build, plan_build(build, shop(ClampBlock(high=48)), steps=300_000)
    setup = upright(pillar[1])
    assert (setup.holding.way, setup.holding.packing) == ("clamp block", 6.0)
    assert [str(v) for v in proof(pillar).violations] == []


def test_it_is_printed(pillar: tuple[Build, Route]) -> None:
    setup = upright(pillar[1])
    held = dict(held_words(setup, Reader()))
    assert "clamp block" in held["Held in"]
    assert held["Block's back"] == setup.holding.fixed_jaw
    told = " ".join(line.words for line in setting_up(setup, Reader()))
    assert "Bolt the clamp block to the table" in told
    zeros = {line.axis: line.words for line in zero_lines(setup, Reader())}
    assert "before the work goes on" in zeros["Y"]
    assert "the clamp block's face" in zeros["Y"]
    stage = next(s for s in proof(pillar).stages if s.setup == setup.id)
    assert "clamp block" in setup_picture(setup, stage.solid, stage.fresh)


def test_the_workshop_names_it(tmp_path: Path) -> None:
    text = "workshop: W\nmachines: {}\nholding: {clamp block: {high: 1-3/8 in}}\n"
    (tmp_path / "workshop.yaml").write_text(text, encoding="utf-8")
    owned, _ = read_workshop(tmp_path / "workshop.yaml")
    assert owned is not None
    assert owned.kit(ClampBlock) == ClampBlock(high=34.925)


def on(setup: Setup, *bodies: Body) -> Setup:
    held = setup.holding.model_copy(update={"bodies": bodies})
    return setup.model_copy(update={"holding": held})


def shifted(kind: BodyKind, bears: str, **by: float) -> Change:
    """The bodies of a kind that bear that way, further along an axis or higher."""
    step = (by.get("x", 0.0), by.get("y", 0.0), by.get("z", 0.0))

    def moved(body: Body) -> Body:
        if body.kind is not kind or body.bears != bears:
            return body
        low = tuple(a + b for a, b in zip(body.low, step, strict=True))
        high = tuple(a + b for a, b in zip(body.high, step, strict=True))
        return body.model_copy(update={"low": low, "high": high})

    return lambda setup: on(setup, *map(moved, setup.holding.bodies))


def without(kind: BodyKind) -> Change:
    return lambda s: on(s, *(body for body in s.holding.bodies if body.kind is not kind))


def raised(by: float) -> Change:
    """The whole block so much higher."""

    def change(setup: Setup) -> Setup:
        def tall(body: Body) -> Body:
            top = (*body.high[:2], body.high[2] + by)
            return body.model_copy(update={"high": top})

        block = BodyKind.PLAIN
        return on(setup, *(tall(b) if b.kind is block else b for b in setup.holding.bodies))

    return change


def found_at(find_y: str) -> Change:
    zero = Zero.model_validate({"find": find_y, "finder": 10})
    return lambda setup: setup.model_copy(update={"zero_y": zero})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (shifted(BodyKind.SCREW, "back", y=-2), "screw bears on 0.0 mm2"),
        (shifted(BodyKind.SCREW, "back", y=2), "screw would have to go into the work"),
        (shifted(BodyKind.SCREW, "back", z=28), "metal is cut away behind the clamp block's screw"),
        (shifted(BodyKind.SCREW, "back", x=14), "screw bears on 0.0 mm2"),
        (shifted(BodyKind.PLAIN, "right", x=-2), "the wall of the clamp block touches 0.0"),
        (shifted(BodyKind.PLAIN, "right", x=2), "would have to go into the clamp block"),
        (shifted(BodyKind.PLAIN, "front", y=2), "the back of the clamp block touches 0.0"),
        (raised(12), "runs into the clamp block"),
        (raised(15), "edge the X zero is found on is hidden by the clamp block"),
        (raised(-15), "it would sway"),
        (found_at("front"), "edge the Y zero is found on is hidden in the clamp block"),
        (without(BodyKind.SCREW), "no whole clamp block"),
        (without(BodyKind.PLAIN), "no whole clamp block"),
    ],
)
def test_a_planted_mistake_is_refused(
    pillar: tuple[Build, Route], change: Change, words: str
) -> None:
    said = "\n".join(str(v) for v in proof(pillar, change).violations if v.severity == "error")
    assert re.search(words, said), said
