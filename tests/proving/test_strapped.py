"""Work strapped down on the table: a planned route passes, every planted mistake is named."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import Wanted, wanted
from barstock.route import (
    Body,
    BodyKind,
    Holding,
    Operation,
    Plunge,
    Process,
    Route,
    Setup,
    Zero,
)
from barstock.words.reader import Reader
from barstock.words.shopping import item
from barstock.workshop.shop import BarStock
from barstock.workshop.shop_reading import read_workshop

SHOP = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon" / "workshop.yaml"
LID = """
build: Lid
unit: mm
parts:
  lid: {material: brass, length: 140, width: 90, height: 8, bar: plate,
    as bought: [front, back, top, bottom], features: {
    bore: {kind: hole, face: top, at: {left: 70, width: centre}, diameter: 9, depth: through},
    rebate: {kind: step, face: top, edge: left, width: 12, depth: 3}}}
"""


@pytest.fixture(scope="module")
def lid(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route, Wanted]:
    folder = tmp_path_factory.mktemp("lid")
    (folder / "build.yaml").write_text(LID, encoding="utf-8")
    build = read_build(folder, KINDS).build
    shop, _ = read_workshop(SHOP)
    assert build is not None
    assert shop is not None
    bar = BarStock("plate", "brass", "rectangle", 90, 8, 300)
    return build, plan_build(build, replace(shop, rack=(bar,))), wanted(build.parts[0])


Change = Callable[[Setup], Setup]


def said(lid: tuple[Build, Route, Wanted], change: Change, of: str = "lid/bore/drill") -> str:
    """All that the proof complains of where the setup of an operation is changed."""
    build, route, want = lid
    bars, setups = works_of(route, build.parts[0])
    changed = tuple(change(s) if of in {o.id for o in s.operations} else s for s in setups)
    found = prove_part(Job(want, bars, changed, 1, build.least_wall))
    return "\n".join(str(v) for v in found.violations if v.severity == "error")


def found(setup: Setup, kind: BodyKind) -> tuple[Body, ...]:
    """What stands on the table in a setup, of a kind."""
    bodies = setup.holding.of(kind)
    assert bodies
    return bodies


def without(holding: Holding, kind: BodyKind) -> Holding:
    """The holding without its bodies of a kind."""
    left = tuple(body for body in holding.bodies if body.kind is not kind)
    return holding.model_copy(update={"bodies": left})


def on(setup: Setup, kind: BodyKind, *bodies: Body) -> Setup:
    """The setup with other bodies of a kind on the table."""
    held = without(setup.holding, kind)
    held = held.model_copy(update={"bodies": (*bodies, *held.bodies)})
    return setup.model_copy(update={"holding": held})


def at(body: Body, low: tuple[float, ...] = (), high: tuple[float, ...] = ()) -> Body:
    """A body with other corners, as far as these say."""
    corners = {"low": (*low, *body.low[len(low) :]), "high": (*high, *body.high[len(high) :])}
    return body.model_copy(update=corners)


def as_high(body: Body, top: float) -> Body:
    return at(body, high=(*body.high[:2], top))


def first_strap(x: float, y: float) -> Change:
    def change(setup: Setup) -> Setup:
        one, *rest = found(setup, BodyKind.STRAP)
        (a, b, _), (c, d, _) = one.low, one.high
        moved = at(one, (a + x, b + y), (c + x, d + y))
        return on(setup, BodyKind.STRAP, moved, *rest)

    return change


def over_the_bore(setup: Setup) -> Setup:
    """The first strap pushed on until it lies over the middle of the work."""
    strap = found(setup, BodyKind.STRAP)[0]
    nose = strap.high if strap.over in ("left", "front") else strap.low
    middle = strap.middle
    sideways = strap.over in ("left", "right")
    x, y = (70 - nose[0], -45 - middle[1]) if sideways else (70 - middle[0], -45 - nose[1])
    return first_strap(x, y)(setup)


def off_the_work(setup: Setup) -> Setup:
    away = {"left": (-9, 0), "right": (9, 0), "front": (0, -9), "back": (0, 9)}
    over = found(setup, BodyKind.STRAP)[0].over
    assert over is not None
    return first_strap(*away[over])(setup)


def lone(setup: Setup) -> Setup:
    return on(setup, BodyKind.STRAP, found(setup, BodyKind.STRAP)[0])


def unpropped(setup: Setup) -> Setup:
    """Both parallels pushed towards the middle, away from under the noses."""
    under = found(setup, BodyKind.PARALLEL)
    along = under[0].size[0] > 20
    low, high = (-25, -65) if along else (25, 115)
    laid = []
    for one, to in zip(under, (high, low) if along else (low, high), strict=True):
        if along:
            laid.append(at(one, (one.low[0], to), (one.high[0], to + 3)))
        else:
            laid.append(at(one, (to, one.low[1]), (to + 3, one.high[1])))
    return on(setup, BodyKind.PARALLEL, *laid)


def on_one(setup: Setup) -> Setup:
    return on(setup, BodyKind.PARALLEL, found(setup, BodyKind.PARALLEL)[0])


def under_the_bore(setup: Setup) -> Setup:
    under = found(setup, BodyKind.PARALLEL)
    return on(setup, BodyKind.PARALLEL, *under, at(under[0], (68, -60), (71, -30)))


def drilled(setup: Setup, by: float) -> Setup:
    def deeper(o: Operation) -> Operation:
        if o.id != "lid/bore/drill":
            return o
        moves = [m.model_copy(update={"z": m.z - by}) for m in o.moves if isinstance(m, Plunge)]
        return o.model_copy(update={"moves": tuple(moves)})

    return setup.model_copy(update={"operations": tuple(deeper(o) for o in setup.operations)})


def into_the_table(setup: Setup) -> Setup:
    return drilled(setup, setup.holding.packing)


def fenced(setup: Setup, above: float) -> Setup:
    """The fence's top set so far above what the work lies on."""
    (fence,) = found(setup, BodyKind.FENCE)
    return on(setup, BodyKind.FENCE, as_high(fence, setup.holding.packing + above))


def high_fence(setup: Setup) -> Setup:
    return fenced(setup, 8)


def long_fence(setup: Setup) -> Setup:
    """One that stands 20 mm past the work's end, where the end mill that squares it comes by."""
    (fence,) = found(setup, BodyKind.FENCE)
    return on(setup, BodyKind.FENCE, at(fence, high=(fence.high[0] + 25,)))


def short_reach(setup: Setup, **cutter: float) -> Setup:
    """Squared by a cutter too wide above its edges, beside a fence whose top they do not reach."""
    high = fenced(setup, 7)
    spoilt = [
        o.model_copy(update={"cutter": o.cutter.model_copy(update=cutter)})
        if o.does is Process.SQUARE
        else o
        for o in high.operations
    ]
    return high.model_copy(update={"operations": tuple(spoilt)})


def no_fence(setup: Setup) -> Setup:
    return fenced(setup, 0)


def from_the_back(setup: Setup) -> Setup:
    return setup.model_copy(update={"zero_y": Zero(find="back", finder=10)})


def bare(kind: BodyKind) -> Change:
    """The setup without anything of a kind."""

    def change(setup: Setup) -> Setup:
        return setup.model_copy(update={"holding": without(setup.holding, kind)})

    return change


def other_packing(setup: Setup) -> Setup:
    held = setup.holding.model_copy(update={"parallels": (setup.holding.packing + 2,)})
    return setup.model_copy(update={"holding": held})


def test_as_planned_nothing_is_wrong(lid: tuple[Build, Route, Wanted]) -> None:
    assert said(lid, lambda setup: setup) == ""


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (over_the_bore, "lies where metal is cut away"),
        (over_the_bore, "runs into the strap over the"),
        (off_the_work, "the nose of strap 1, over the .* bears on 0.0 mm2"),
        (lone, "held by one strap"),
        (unpropped, "presses where no parallel is under the work"),
        (on_one, "does not lie on the parallels on both sides"),
        (under_the_bore, "drill 9 runs into a parallel"),
        (into_the_table, "drill 9 runs into the table"),
        (no_fence, "the fence touches the work along 0.00 mm"),
        (from_the_back, "hidden behind the fence"),
        (other_packing, "the parallels stack to"),
        (bare(BodyKind.STRAP), "the work may turn"),
        (bare(BodyKind.PARALLEL), "does not lie on the parallels"),
        (bare(BodyKind.FENCE), "the fence touches the work along 0.00 mm"),
    ],
)
def test_a_planted_mistake_is_named(
    lid: tuple[Build, Route, Wanted], change: Change, words: str
) -> None:
    assert re.search(words, said(lid, change)), said(lid, change)


def test_a_step_cut_over_a_fence_set_too_high(lid: tuple[Build, Route, Wanted]) -> None:
    found = said(lid, high_fence, "lid/rebate/mill")
    assert "runs into the fence" in found


def squared(route: Route) -> str:
    """The operation that squares an end of the work under its straps."""
    return next(
        o.id
        for setup in route.setups
        if setup.holding.of(BodyKind.STRAP)
        for o in setup.operations
        if o.does is Process.SQUARE
    )


def test_an_end_squared_past_a_fence_that_is_too_long(lid: tuple[Build, Route, Wanted]) -> None:
    assert "runs into the fence" in said(lid, long_fence, squared(lid[1]))


@pytest.mark.parametrize(
    ("cutter", "words"),
    [
        ({"reach": 2.0}, "the collet meets the fence"),
        ({"flute": 2.0, "shank": 40.0}, "the shank of .* rubs on the fence"),
    ],
)
def test_what_is_above_the_edges_meets_the_fence(
    lid: tuple[Build, Route, Wanted], cutter: dict[str, float], words: str
) -> None:
    found = said(lid, lambda setup: short_reach(setup, **cutter), squared(lid[1]))
    assert re.search(words, found), found


def test_thin_work_lies_on_a_board_or_would_spring(tmp_path: Path) -> None:
    """60 mm wide and 2 mm thick: on parallels 8 mm inside its sides it would span over 40 mm."""
    text = LID.replace("length: 140, width: 90, height: 8", "length: 90, width: 60, height: 2")
    text = text.replace("left: 70", "left: 45").replace("depth: 3", "depth: 1")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    shop, _ = read_workshop(SHOP)
    assert build is not None
    assert shop is not None
    bar = BarStock("plate", "brass", "rectangle", 60, 2, 300)
    route = plan_build(build, replace(shop, rack=(bar,)))
    thin = build, route, wanted(build.parts[0])
    assert said(thin, lambda setup: setup) == ""
    told = [item(one, Reader()) for one in route.summary.buy]
    assert any(line.startswith("flat board to cut into, 90 x 60") for line in told)

    def on_parallels(setup: Setup) -> Setup:
        (board,) = found(setup, BodyKind.BOARD)
        parallel = board.model_copy(update={"kind": BodyKind.PARALLEL})
        bare = setup.model_copy(update={"holding": without(setup.holding, BodyKind.BOARD)})
        laid = (at(parallel, (5, -58), (80, -55)), at(parallel, (5, -5), (80, -2)))
        return on(bare, BodyKind.PARALLEL, *laid)

    assert "it would spring under the cutter" in said(thin, on_parallels)
