"""The pack's pages of what moves: the sample wagon's spring and its ride."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.model import Build
from barstock.drawing.reading import read_build
from barstock.methods import KINDS
from barstock.pack.moving_kept import key_of, moves_in, moving_asked, read_moving
from barstock.pack.moving_pages import Moving, moving_pages
from barstock.pack.pages import Pack
from barstock.pack.printed import pdf
from barstock.pack.webpage import html
from barstock.solids.hands import Hands

WAGON = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon"


@pytest.fixture(scope="module")
def build() -> Build:
    found = read_build(WAGON, KINDS).build
    assert found is not None
    return found


@pytest.fixture(scope="module")
def moving(build: Build) -> Moving:
    return moving_pages(build)


def pack(moving: Moving) -> Pack:
    return Pack("Wagon", *((),) * 11, moving=moving.pages)


def test_a_spring_has_its_winding_sheet_with_its_caution(moving: Moving) -> None:
    page = moving.pages[0]
    assert page.title == "axlebox spring"
    sheet = next(block for block in page.blocks if block.title == "To wind it")
    assert re.match(r"mandrel \d+\.\d\d mm diameter", sheet.lines[0])
    assert any("scrag" in line for line in sheet.lines)
    assert "eye protection" in sheet.cautions[0]
    assert dict(moving.pictures)[page.picture].startswith("<svg")


def test_the_ride_opens_with_verdicts_and_defers(moving: Moving) -> None:
    page = moving.pages[-1]
    verdicts = page.blocks[0]
    assert verdicts.title == "Verdicts"
    assert {mark for mark, _ in verdicts.rows} <= {"good", "NOT GOOD", "to know"}
    assert "insurer" in verdicts.cautions[0]


def test_paper_and_screen_say_the_same(moving: Moving) -> None:
    import pymupdf

    whole = html(pack(moving), dict(moving.pictures))
    paper = pymupdf.open(stream=pdf(pack(moving), dict(moving.pictures)))
    assert len(paper) == 1 + len(moving.pages)  # each fits its page
    printed = " ".join(" ".join(page.get_text() for page in paper).split())
    for page in moving.pages:
        for block in page.blocks:
            assert block.title in whole
            assert block.title in printed


def test_a_build_without_a_mechanism_has_no_such_pages(build: Build) -> None:
    assert moving_pages(replace(build, mechanism=None)) == Moving()


def test_a_vehicle_that_falls_over_is_said_to(build: Build) -> None:
    assert build.mechanism is not None
    assert build.mechanism.vehicle is not None
    high = tuple(replace(m, height=3000.0) for m in build.mechanism.vehicle.masses)
    vehicle = replace(build.mechanism.vehicle, masses=high)
    found = moving_pages(replace(build, mechanism=replace(build.mechanism, vehicle=vehicle)))
    assert "falls over" in found.pages[0].blocks[0].cautions[0]


def test_they_are_kept_by_the_mechanism_and_the_hollows_of_its_springs(
    build: Build, moving: Moving, tmp_path: Path
) -> None:
    def asked(of: Build) -> Path:
        return moving_asked(of, tmp_path, Hands(0)).result()

    first = asked(build)
    assert read_moving(first) == moving
    rocker = build.part("rocker")
    others = tuple(replace(p, copies=9) if p is rocker else p for p in build.parts)
    assert asked(replace(build, parts=others)) == first
    box = build.part("axlebox")
    pockets = next(f for f in box.features if f.name == "spring pockets")
    bore = replace(pockets.spec.bore, depth=pockets.spec.bore.depth + 3)
    deeper = replace(pockets, spec=replace(pockets.spec, bore=bore))
    features = tuple(deeper if f is pockets else f for f in box.features)
    parts = tuple(replace(p, features=features) if p is box else p for p in build.parts)
    changed = replace(build, parts=parts)
    assert asked(changed) != first
    assert read_moving(asked(changed)).pages[0] != moving.pages[0]
    assert read_moving(asked(changed)) == moving_pages(changed)


def test_a_change_of_the_track_or_the_vehicle_is_none_of_what_was_kept(build: Build) -> None:
    mechanism = build.mechanism
    assert mechanism is not None
    assert mechanism.track is not None
    assert mechanism.vehicle is not None
    for other in (
        replace(mechanism, track=replace(mechanism.track, speed=mechanism.track.speed + 0.1)),
        replace(mechanism, vehicle=replace(mechanism.vehicle, load=())),
    ):
        assert key_of(moves_in(replace(build, mechanism=other))) != key_of(moves_in(build))


def test_another_run_finds_what_was_kept(build: Build) -> None:
    code = (
        "import sys; from pathlib import Path; from barstock.methods import KINDS; "
        "from barstock.drawing.reading import read_build; "
        "from barstock.pack.moving_kept import key_of, moves_in; "
        "print(key_of(moves_in(read_build(Path(sys.argv[1]), KINDS).build)))"
    )
    for seed in ("1", "2"):  # sets come in another order
        run = subprocess.run(
            [sys.executable, "-c", code, str(WAGON)],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stdout.strip() == key_of(moves_in(build))
