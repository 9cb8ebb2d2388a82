"""Slots and pockets cut right through a plate: planned, proved, and refused where they would part
it."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Build
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Route, Setup, Traverse

from .conftest import find

SHOP = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon" / "workshop.yaml"
PLATE = """build: Through
parts:
  plate:
    material: brass
    length: 60
    width: 25
    height: 6
    bar: 25 x 6
    as bought: [front, back, top, bottom]
    features:
      closed: {kind: slot, face: top, along: length, position: {width: centre}, width: 6,
        depth: through, length: 20, end from: {left: 8}}
      window: {kind: pocket, face: top, at: {left: 46, width: centre}, length: 12, width: 10,
        corner radius: 3, depth: through}
"""


def written(folder: Path, text: str = PLATE) -> Path:
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    (folder / "workshop.yaml").write_text(SHOP.read_text(encoding="utf-8"), encoding="utf-8")
    return folder


def told(folder: Path, text: str) -> str:
    faults = api.check(written(folder, text))
    return "\n".join(f"{f.what}; {f.mend}" for f in faults if f.grade == "error")


@pytest.fixture(scope="module")
def plate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Build, Route]:
    build, shop = api.read(written(tmp_path_factory.mktemp("plate")))
    return build, plan_build(build, shop)


def test_it_comes_out_as_drawn(plate: tuple[Build, Route]) -> None:
    proof = prove(plate[1], plate[0])
    assert [str(v) for v in proof.violations if v.severity == "error"] == []
    assert proof.parts[0].deviation < 0.02


@pytest.mark.parametrize("name", ["closed", "window"])
def test_the_cutter_goes_out_below_into_air(plate: tuple[Build, Route], name: str) -> None:
    setup, mill = find(plate[1], f"plate/{name}/mill")
    deepest = min(move.z for move in mill.moves if isinstance(move, Traverse))
    assert deepest == pytest.approx(-6.5)
    assert setup.holding.packing > 0.5, "there is room below the work"


def test_work_laid_on_the_bed_of_the_vise_is_refused(plate: tuple[Build, Route]) -> None:
    """Planted: the parallels left out, the cutter comes out into the bed."""
    build, route = plate

    def on_the_bed(setup: Setup) -> Setup:
        held = setup.holding
        if not held.jaw_top or setup.stage == "bar":
            return setup
        low = held.model_copy(update={"packing": 0.0, "parallels": (), "grip": 6.0})
        return setup.model_copy(update={"holding": low})

    spoilt = route.model_copy(update={"setups": tuple(on_the_bed(s) for s in route.setups)})
    found = [str(v) for v in prove(spoilt, build).violations if v.severity == "error"]
    assert any("closed" in words and "bed" in words for words in found), found


def test_a_slot_through_from_end_to_end_would_part_the_work(tmp_path: Path) -> None:
    said = told(tmp_path, PLATE.replace(", length: 20, end from: {left: 8}", ""))
    assert "would saw the part in two" in said


def test_a_slot_through_has_nothing_to_mirror(tmp_path: Path) -> None:
    said = told(tmp_path, PLATE.replace("width: 6,\n", "width: 6, mirrored: true,\n", 1))
    assert "nothing to mirror" in said


@pytest.mark.parametrize("what", ["closed", "window"])
def test_a_depth_of_the_whole_height_is_told_how_to_be_written(tmp_path: Path, what: str) -> None:
    head, tail = PLATE.split(f"      {what}:")
    said = told(tmp_path, f"{head}      {what}:{tail.replace('depth: through', 'depth: 6', 1)}")
    assert "'depth: through'" in said
