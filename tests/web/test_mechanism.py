"""The mechanism at the bench: what 'barstock move' found, turned and set moving."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from barstock.api import movement

from .browsing import CHROMIUM, device, serving
from .conftest import Bench
from .test_round import SOFTLY

PLAIN = """
build: block between guides
parts:
  block: {material: brass, length: 40, width: 20 ±0.02, height: 16}
  guide: {material: brass, length: 90, width: 30, height: 10}
mechanism:
  guides:
    block in guide:
      block: {part: block, up: right, ahead: front}
      pair: {part: guide, up: right, inward: top, apart: 20.4 +0.1/0}
"""


@pytest.fixture(scope="module")
def place(planned: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("mechanism")
    shutil.copytree(planned, folder / "fork")
    (folder / "block").mkdir()
    (folder / "block" / "build.yaml").write_text(PLAIN, encoding="utf-8")
    shutil.copy(planned / "workshop.yaml", folder / "block")
    found = movement.move(folder / "block", samples=100)
    movement.write_moved(found, folder / "fork" / "moving")
    return folder / "fork"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=SOFTLY)
        yield found
        found.close()


@pytest.mark.parametrize("name", ["phone", "tablet"])
def test_the_block_is_set_moving(browser: Browser, place: Path, name: str) -> None:
    with serving(place) as (address, _), device(
        browser, address, name, reduced_motion="reduce"
    ) as bench:  # fmt: skip
        page = bench.go("/mechanism")
        expect(page.get_by_role("heading", name="Block in guide")).to_be_visible()
        page.get_by_label("Motion").select_option("twist")
        said = page.locator("output")
        expect(said).to_contain_text("0.00 °")
        stage = page.locator(".stage")
        at_rest = stage.screenshot()
        page.get_by_label("From stop to stop").fill("1")
        expect(said).to_contain_text("and touches")
        at_its_stop = stage.screenshot()
        assert at_its_stop != at_rest
        page.get_by_label("Apart").fill("0.5")
        assert stage.screenshot() != at_its_stop
        bench.look("mechanism")
        for picture in page.locator("figure img").all():
            assert picture.evaluate("e => e.decode().then(() => e.naturalWidth)") > 50


@pytest.fixture
def block(planned: Path, tmp_path: Path) -> Path:
    """A planned build whose drawing now has the block in its guide."""
    folder = tmp_path / "fork"
    shutil.copytree(planned, folder)
    text = (folder / "build.yaml").read_text("utf-8")
    parts, mechanism = PLAIN.split("parts:\n")[1].split("mechanism:")
    text = text.replace("parts:\n", f"parts:\n{parts}", 1) + f"mechanism:{mechanism}"
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return folder


def test_it_is_worked_out_from_the_page(browser: Browser, block: Path) -> None:
    with serving(block) as (address, _), device(
        browser, address, "phone", reduced_motion="reduce"
    ) as bench:  # fmt: skip
        page = bench.go("/mechanism")
        expect(page.locator(".notice")).to_contain_text("not worked out yet")
        page.get_by_role("button", name="Work it out").tap()
        expect(page.get_by_role("heading", name="Working out what moves")).to_be_visible()
        bench.look("mechanism-working")
        page.get_by_role("button", name="Stop it").tap()
        expect(page.get_by_role("button", name="Work it out")).to_be_visible(timeout=30_000)
        assert not (block / "moving").exists()
        page.get_by_role("button", name="Work it out").tap()
        found = page.get_by_role("heading", name="Block in guide")
        expect(found).to_be_visible(timeout=90_000)
        expect(page.get_by_role("button", name="Work it out")).to_have_count(0)
        file = block / "build.yaml"
        file.write_text(file.read_text("utf-8") + "# a word more\n", encoding="utf-8")
        page = bench.go("/mechanism")
        expect(page.locator(".notice")).to_contain_text("written since")
        expect(page.get_by_role("button", name="Work it out")).to_be_visible()


def test_what_cannot_be_worked_out_is_said(bench: Bench) -> None:
    """The fork has no mechanism."""
    answer = bench.client.get("/mechanism")
    assert "It is not worked out yet" in answer.text
    assert "Working out" in bench.post("/mechanism/work-out")
    bench.wait_for("move")
    text = bench.client.get("/mechanism").text
    assert "It could not be worked out" in text
    assert "mechanism" in text.split('class="notice bad"')[1].split("</div>")[0]
    assert bench.client.get("/mechanism/picture/1/build.yaml").status_code == 404
    assert bench.client.get("/long-work/dance").status_code == 404
