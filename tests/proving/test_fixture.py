"""Work on a fixture block: a planned route passes, every planted mistake is refused and named."""

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
from barstock.proving.compare import Wanted, wanted
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.route import Block, Holding, Operation, Plunge, Route, Setup
from barstock.workshop.shop import BarStock
from barstock.workshop.shop_reading import read_workshop

TESTS = Path(__file__).parents[1]
SHOP = TESTS.parent / "src" / "barstock" / "samples" / "wagon" / "workshop.yaml"


@pytest.fixture(scope="module")
def lug() -> tuple[Build, Route, Wanted]:
    """A lug whose outline is milled, planned; and its drawn solid."""
    build = read_build(TESTS / "planning" / "outlines", KINDS).build
    shop, _ = read_workshop(SHOP)
    assert build is not None
    assert shop is not None
    bar = BarStock("flat", "mild steel", "rectangle", 20, 6, 300)
    alone = replace(build, parts=(build.part("lug"),))
    return alone, plan_build(alone, replace(shop, rack=(bar,))), wanted(alone.parts[0])


def proof(
    lug: tuple[Build, Route, Wanted], change: Callable[[Setup], Setup] = lambda s: s
) -> PartProof:
    """The proof of the lug with its milling setup changed."""
    build, route, want = lug
    bars, setups = works_of(route, build.parts[0])
    changed = tuple(change(s) if s.holding.block else s for s in setups)
    return prove_part(Job(want, bars, changed, 1, build.least_wall))


def on(setup: Setup, **block: object) -> Setup:
    """The setup with its block changed."""
    found = setup.holding.block
    assert isinstance(found, Block)
    held: Holding = setup.holding.model_copy(update={"block": found.model_copy(update=block)})
    return setup.model_copy(update={"holding": held})


def said(proof: PartProof) -> str:
    """All that it complains of."""
    return "\n".join(str(v) for v in proof.violations if v.severity == "error")


def test_as_planned_it_is_as_drawn(lug: tuple[Build, Route, Wanted]) -> None:
    found = proof(lug)
    assert said(found) == ""
    assert found.deviation < 0.01


def moved(setup: Setup) -> Setup:
    block = setup.holding.block
    assert block is not None
    first, *rest = block.screws
    return on(setup, screws=(first.model_copy(update={"y": first.y + 3.0}), *rest))


def wide(setup: Setup) -> Setup:
    block = setup.holding.block
    assert block is not None
    return on(setup, screws=tuple(s.model_copy(update={"head": 24.0}) for s in block.screws))


def lone(setup: Setup) -> Setup:
    block = setup.holding.block
    assert block is not None
    return on(setup, screws=block.screws[:1])


def small(setup: Setup) -> Setup:
    block = setup.holding.block
    assert block is not None
    return on(
        setup, screws=tuple(s.model_copy(update={"head": s.size + 0.6}) for s in block.screws)
    )


def deeper(setup: Setup) -> Setup:
    (mill,) = setup.operations
    moves = tuple(m.model_copy(update={"z": m.z - 2.0}) for m in mill.moves)
    return setup.model_copy(update={"operations": (mill.model_copy(update={"moves": moves}),)})


def half(setup: Setup) -> Setup:
    (mill,) = setup.operations
    assert isinstance(mill, Operation)
    moves = tuple(m for m in mill.moves if isinstance(m, Plunge))[::2]
    return setup.model_copy(update={"operations": (mill.model_copy(update={"moves": moves}),)})


def inside(setup: Setup) -> Setup:
    (mill,) = setup.operations
    moves = tuple(m.model_copy(update={"x": m.x - 2.0}) for m in mill.moves)
    return setup.model_copy(update={"operations": (mill.model_copy(update={"moves": moves}),)})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (moved, "does not go through a hole of the work"),
        (wide, "runs into the head of the screw"),
        (lone, "the work may turn"),
        (small, "bears on .* only"),
        (deeper, "runs into the fixture block"),
        (half, "is left to file"),
        (inside, "cut away that the drawing keeps"),
    ],
)
def test_a_planted_mistake_is_named(
    lug: tuple[Build, Route, Wanted], change: Callable[[Setup], Setup], words: str
) -> None:
    assert re.search(words, said(proof(lug, change)))
