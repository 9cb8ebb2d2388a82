"""The pack's pages of what moves: the sample wagon's spring and its ride."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Build, Feature
from barstock.pack.moving_kept import key_of, moves_in, moving_asked, read_moving
from barstock.pack.moving_pages import Moving, moving_pages
from barstock.pack.pack_pages import Pack
from barstock.pack.pdf_printing import pdf
from barstock.pack.webpage import html
from barstock.solids.workers import Workers
from barstock.workshop.shop import Workshop

WAGON = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon"


@pytest.fixture(scope="module")
def read() -> tuple[Build, Workshop]:
    return api.read(WAGON)


@pytest.fixture(scope="module")
def build(read: tuple[Build, Workshop]) -> Build:
    return read[0]


@pytest.fixture(scope="module")
def shop(read: tuple[Build, Workshop]) -> Workshop:
    return read[1]


@pytest.fixture(scope="module")
def moving(build: Build, shop: Workshop) -> Moving:
    return moving_pages(moves_in(build, shop))


def unguided(build: Build) -> Build:
    """The build without its guides: their page takes long."""
    assert build.mechanism is not None
    return replace(build, mechanism=replace(build.mechanism, guides=()))


def pack(moving: Moving) -> Pack:
    return Pack("Wagon", *((),) * 10, moving=moving.pages)


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


def test_a_guide_has_its_verdicts_its_use_and_where_it_touches(moving: Moving) -> None:
    page = next(page for page in moving.pages if page.title == "axlebox in its horns")
    blocks = {block.title: block for block in page.blocks}
    mark, words = blocks["Verdicts"].rows[0]
    assert mark == "good"
    told = re.match(r"the axlebox tilts (.+)° before it touches; the track asks (.+?)°", words)
    assert told is not None
    motion, goes, asked, used, *_ = blocks["How far it goes"].rows[0]
    assert (motion, goes, asked) == ("tilt", f"{told[1]}°", f"{told[2]}°")
    assert float(used.rstrip("%")) == pytest.approx(100 * float(told[2]) / float(told[1]), abs=2)
    assert len(blocks["How far it goes"].rows) == 6
    where = [words for motion, words in blocks["Where it touches first"].rows if motion == "tilt"]
    assert where
    assert all("guide slots" in words and "horn guide" in words for words in where)
    assert "horn guide" in blocks["What matters most"].rows[0][1]
    assert "insurer" in blocks["Verdicts"].cautions[0]
    assert dict(moving.pictures)[page.picture].startswith("<svg")
    # the ride knows what the guide allows
    rows = moving.pages[-1].blocks[0].rows
    assert any(f"tilts {told[1]}° before it touches" in words for _, words in rows)


def test_a_build_without_a_mechanism_has_no_such_pages(build: Build, shop: Workshop) -> None:
    assert moving_pages(moves_in(replace(build, mechanism=None), shop)) == Moving()


def test_a_vehicle_that_falls_over_is_said_to(build: Build, shop: Workshop) -> None:
    assert build.mechanism is not None
    assert build.mechanism.vehicle is not None
    high = tuple(replace(m, height=3000.0) for m in build.mechanism.vehicle.masses)
    vehicle = replace(build.mechanism.vehicle, masses=high)
    other = replace(build, mechanism=replace(build.mechanism, vehicle=vehicle))
    found = moving_pages(moves_in(other, shop))
    assert "falls over" in found.pages[0].blocks[0].cautions[0]


def test_they_are_kept_by_the_mechanism_and_the_hollows_of_its_springs(
    build: Build, shop: Workshop, tmp_path: Path
) -> None:
    def asked(of: Build) -> Path:
        return moving_asked(unguided(of), shop, tmp_path, Workers(0)).result()

    first = asked(build)
    moving = read_moving(first)
    assert moving == moving_pages(moves_in(unguided(build), shop))
    rocker = build.part("rocker")
    others = tuple(replace(p, copies=9) if p is rocker else p for p in build.parts)
    assert asked(replace(build, parts=others)) == first
    changed = deeper(build, "axlebox", "spring pockets")
    assert asked(changed) != first
    assert read_moving(asked(changed)).pages[0] != moving.pages[0]
    assert read_moving(asked(changed)) == moving_pages(moves_in(unguided(changed), shop))


def deeper(build: Build, part: str, name: str) -> Build:
    """The build with a hole of a part 3 mm deeper."""

    def drilled(of: Feature) -> Feature:
        bore = of.spec.bore
        return replace(of, spec=replace(of.spec, bore=replace(bore, depth=bore.depth + 3)))

    found = build.part(part)
    features = tuple(drilled(f) if f.name == name else f for f in found.features)
    parts = tuple(replace(p, features=features) if p is found else p for p in build.parts)
    return replace(build, parts=parts)


def test_guides_are_kept_by_their_parts_and_the_bars_of_those(build: Build, shop: Workshop) -> None:
    first = key_of(moves_in(build, shop))
    assert key_of(moves_in(deeper(build, "horn guide", "keep screw"), shop)) != first
    assert key_of(moves_in(deeper(build, "spring seat", "frame screws"), shop)) == first

    def closer(material: str) -> Workshop:
        rack = tuple(
            replace(b, tolerance=(-0.01, 0.0)) if b.material == material else b for b in shop.rack
        )
        return replace(shop, rack=rack)

    assert key_of(moves_in(build, closer("phosphor bronze"))) != first
    assert key_of(moves_in(build, closer("cast iron"))) == first
    assert key_of(moves_in(build, replace(shop, vises=()))) == first


def test_a_change_of_the_track_or_the_vehicle_is_none_of_what_was_kept(
    build: Build, shop: Workshop
) -> None:
    mechanism = build.mechanism
    assert mechanism is not None
    assert mechanism.track is not None
    assert mechanism.vehicle is not None
    for other in (
        replace(mechanism, track=replace(mechanism.track, speed=mechanism.track.speed + 0.1)),
        replace(mechanism, vehicle=replace(mechanism.vehicle, load=())),
    ):
        changed = replace(build, mechanism=other)
        assert key_of(moves_in(changed, shop)) != key_of(moves_in(build, shop))


def test_another_run_finds_what_was_kept(build: Build, shop: Workshop) -> None:
    code = (
        "import sys; from barstock import api; "
        "from barstock.pack.moving_kept import key_of, moves_in; "
        "print(key_of(moves_in(*api.read(sys.argv[1]))))"
    )
    for seed in ("1", "2"):  # sets come in another order
        run = subprocess.run(
            [sys.executable, "-c", code, str(WAGON)],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stdout.strip() == key_of(moves_in(build, shop))
