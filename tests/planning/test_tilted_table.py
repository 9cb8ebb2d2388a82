"""A leaning cut in work longer than a vise opens: strapped on a tilted table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, radians
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.pack.setup_pictures import setup_picture
from barstock.planning.plan import plan_build
from barstock.proving.proof_record import PartProof
from barstock.proving.prove import Job, prove_part, works_of
from barstock.proving.wanted import wanted
from barstock.route import Body, BodyKind, Route, Setup, TiltBy, Traverse
from barstock.words.holding import held_words, setting_up
from barstock.words.reader import Reader
from barstock.words.zeros import zero_lines
from barstock.workshop.shop import BarStock, Vise, Workshop

from .conftest import built, dialled, find, sample

SLIDE = """
build: Slide
unit: mm
parts:
  slide: {material: mild steel, length: 101.6, width: 25.4, height: 12.7, bar: flat,
    as bought: [front, back, top, bottom], features: {
    ramp: {kind: slot, face: top, along: width, position: {length: centre}, width: 10, depth: 6,
      lean: LEAN, wide end: front, depth at: back}}}
"""
MILL = "slide/ramp/mill"


def shop(tilts: float = 45.0) -> Workshop:
    """A shop with a vise that opens 2-1/2 in, clamps, and a table that tilts so far [degrees]."""
    bar = BarStock("flat", "mild steel", "rectangle", 25.4, 12.7, 500)
    vises = (Vise("small vise", 63.5, 25, 63.5),)
    return replace(sample("wagon")[1], rack=(bar,), vises=vises, tilting_table=tilts)


def planned(folder: Path, lean: float = 3, tilts: float = 45.0) -> tuple[Build, Route]:
    build = built(folder, SLIDE.replace("LEAN", f"{lean:g}"))
    return build, plan_build(build, shop(tilts), steps=150_000)


@pytest.fixture(scope="module")
def slide(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    return planned(tmp_path_factory.mktemp("slide"))


def proof(
    slide: tuple[Build, Route], change: Callable[[Setup], Setup] = lambda setup: setup
) -> PartProof:
    """The proof of the part with the setup of the leaning cut changed."""
    build, route = slide
    bars, setups = works_of(route, build.parts[0])
    changed = tuple(change(s) if MILL in {o.id for o in s.operations} else s for s in setups)
    return prove_part(Job(wanted(build.parts[0]), bars, changed, 1, build.least_wall))


def refusals(slide: tuple[Build, Route], change: Callable[[Setup], Setup]) -> str:
    return "\n".join(str(v) for v in proof(slide, change).violations if v.severity == "error")


def holding(**new: object) -> Callable[[Setup], Setup]:
    """A setup with something in its holding changed."""
    return lambda s: s.model_copy(update={"holding": s.holding.model_copy(update=new)})


def bodies(change: Callable[[Body], Body | None], *kinds: BodyKind) -> Callable[[Setup], Setup]:
    """A setup with the bodies of some kinds changed, or left out."""

    def changed(setup: Setup) -> Setup:
        new = [change(b) if b.kind in kinds else b for b in setup.holding.bodies]
        return holding(bodies=tuple(b for b in new if b is not None))(setup)

    return changed


def moved(x: float, y: float, z: float) -> Callable[[Body], Body]:
    """A body moved by so much, along and square to the tilted table."""

    def change(body: Body) -> Body:
        low, high = ((a + x, b + y, c + z) for a, b, c in (body.low, body.high))
        return body.model_copy(update={"low": low, "high": high})

    return change


@pytest.mark.parametrize("lean", [3, 12])
def test_it_comes_out_as_drawn(tmp_path: Path, lean: float) -> None:
    made = planned(tmp_path, lean)
    setup, mill = find(made[1], MILL)
    assert setup.holding.way == "tilted table"
    assert setup.holding.tilt == lean
    assert setup.holding.tilt_set is not None
    assert setup.holding.tilt_set.by is TiltBy.TILTING_TABLE
    assert all(body.lean == lean for body in setup.holding.bodies)
    found = proof(made)
    assert [str(v) for v in found.violations] == []
    assert found.deviation < 0.01
    # The slot is 6 deep at the back, whose top edge is the highest point; square to the floor the
    # edge is 6 times the cosine above it.
    floor = mill.moves[-1]
    assert isinstance(floor, Traverse)
    assert -floor.z == pytest.approx(6 * cos(radians(lean)), abs=0.01)


def test_straps_bear_on_the_work_as_it_leans(slide: tuple[Build, Route]) -> None:
    setup, _ = find(slide[1], MILL)
    straps = setup.holding.of(BodyKind.STRAP)
    assert {strap.over for strap in straps} == {"front", "back"}
    (table,) = setup.holding.of(BodyKind.TILTING_TABLE)
    for strap in straps:  # the work is 12.7 mm thick
        assert strap.low[2] - table.high[2] == pytest.approx(12.7 + setup.holding.packing, abs=1e-3)


def test_the_setup_is_told(slide: tuple[Build, Route]) -> None:
    setup, _ = find(slide[1], MILL)
    held = dict(held_words(setup, Reader()))
    assert held["Held on"] == "the tilting table, under 2 straps, over the front and back"
    assert held["Tilt"] == "3°, right-hand end up"
    lines = setting_up(setup, Reader())
    told = " ".join(line.words for line in lines)
    for word in ("tilting table", "fence", "stop", "2 straps", "dial indicator"):
        assert word in told
    assert dialled(lines[-1]) == {"tilt": "3.00 °"}
    assert "every lock" in lines[-1].caution
    # The middle of each strap is over the middle of 25.4 mm.
    said = next(dialled(line) for line in lines if "Work against fence" in line.words)
    assert {text.split()[-2] for text in said.values()} == {"12.7"}
    zeros = {line.axis: line.words for line in zero_lines(setup, Reader())}
    assert "the fence's face" in zeros["Y"]


def test_it_is_drawn_leaning(slide: tuple[Build, Route]) -> None:
    setup, _ = find(slide[1], MILL)
    stage = next(s for s in proof(slide).stages if s.setup == setup.id)
    picture = setup_picture(setup, stage.solid, stage.fresh)
    for word in ("strap", "fence", "tilted 3°"):
        assert word in picture


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (holding(tilt=-3.0), "does not lean as the work does"),
        (holding(tilt_set=None), "nothing says that the table is tilted"),
        (
            bodies(lambda b: b.model_copy(update={"lean": 0.0}), BodyKind.STRAP),
            "does not lean as the work does",
        ),
        (bodies(lambda _: None, BodyKind.TILTING_TABLE), "no tilting table there"),
        (bodies(moved(0, 0, -2), BodyKind.TILTING_TABLE), "above the tilted table"),
        (bodies(moved(0, 0, 1), BodyKind.STRAP), "bears on 0.0 mm2"),
        (bodies(moved(0, 20, 0), BodyKind.FENCE), "the fence touches the work along 0.00 mm"),
        (bodies(lambda _: None, BodyKind.STRAP), "the work may turn"),
        (
            bodies(lambda b: b.model_copy(update={"at": b.at + 2}), BodyKind.TILTING_TABLE),
            "does not lie against the stop",
        ),
    ],
)
def test_mistakes_are_refused(
    slide: tuple[Build, Route], change: Callable[[Setup], Setup], words: str
) -> None:
    assert words in refusals(slide, change)


def test_a_strap_pushed_under_the_cutter_is_refused(slide: tuple[Build, Route]) -> None:
    told = refusals(
        slide,
        bodies(
            lambda b: moved(0, 45, 0)(b) if b.over == "front" else b, BodyKind.STRAP, BodyKind.NUT
        ),
    )
    assert "lies where metal is cut away" in told
    assert "runs into" in told


@pytest.mark.parametrize(
    ("tilts", "words"),
    [(0.0, "lists no tilting table that tilts 3°"), (2.0, "lists no tilting table that tilts 3°")],
)
def test_a_table_that_does_not_tilt_so_far(tmp_path: Path, tilts: float, words: str) -> None:
    with pytest.raises(UnplannableError, match=words):
        planned(tmp_path, 3, tilts)


def test_without_clamps_it_says_so(tmp_path: Path) -> None:
    build = built(tmp_path, SLIDE.replace("LEAN", "3"))
    with pytest.raises(UnplannableError, match="lists no clamps, to strap it on with"):
        plan_build(build, replace(shop(), kits=()))


def test_a_vise_that_opens_for_it_is_taken_first(tmp_path: Path) -> None:
    build = built(tmp_path, SLIDE.replace("LEAN", "3"))
    wide = replace(shop(), vises=(Vise("large vise", 120, 25, 120),))
    assert find(plan_build(build, wide), MILL)[0].holding.way == "vise"
