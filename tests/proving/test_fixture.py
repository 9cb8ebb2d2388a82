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
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import Wanted, wanted
from barstock.route import Body, BodyKind, Holding, Operation, Plunge, Route, Setup
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
    changed = tuple(change(s) if s.holding.of(BodyKind.BLOCK) else s for s in setups)
    return prove_part(Job(want, bars, changed, 1, build.least_wall))


def screwed(setup: Setup, *screws: Body) -> Setup:
    """The setup with other screws."""
    (block,) = setup.holding.of(BodyKind.BLOCK)
    held: Holding = setup.holding.model_copy(update={"bodies": (block, *screws)})
    return setup.model_copy(update={"holding": held})


def headed(screw: Body, head: float) -> Body:
    """A screw whose head is so wide [mm]."""
    (x, y, _), half = screw.middle, head / 2
    low, high = (x - half, y - half, screw.low[2]), (x + half, y + half, screw.high[2])
    return screw.model_copy(update={"low": low, "high": high})


def said(proof: PartProof) -> str:
    """All that it complains of."""
    return "\n".join(str(v) for v in proof.violations if v.severity == "error")


def test_as_planned_it_is_as_drawn(lug: tuple[Build, Route, Wanted]) -> None:
    found = proof(lug)
    assert said(found) == ""
    assert found.deviation < 0.01


def moved(setup: Setup) -> Setup:
    first, *rest = setup.holding.of(BodyKind.SCREW)
    (a, b, c), (d, e, f) = first.low, first.high
    aside = first.model_copy(update={"low": (a, b + 3.0, c), "high": (d, e + 3.0, f)})
    return screwed(setup, aside, *rest)


def wide(setup: Setup) -> Setup:
    return screwed(setup, *(headed(s, 24.0) for s in setup.holding.of(BodyKind.SCREW)))


def lone(setup: Setup) -> Setup:
    return screwed(setup, setup.holding.of(BodyKind.SCREW)[0])


def small(setup: Setup) -> Setup:
    return screwed(setup, *(headed(s, s.diameter + 0.6) for s in setup.holding.of(BodyKind.SCREW)))


def unscrewed(setup: Setup) -> Setup:
    return screwed(setup)


def blockless(setup: Setup) -> Setup:
    held = setup.holding.model_copy(update={"bodies": setup.holding.of(BodyKind.SCREW)})
    return setup.model_copy(update={"holding": held})


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
        (unscrewed, "the work may turn"),
        (blockless, "the route has no block"),
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
