"""The work in the round, in a browser that has WebGL in software, and in one that has none."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request, expect, sync_playwright

from barstock.pack.route_file import read_route

from .browsing import CHROMIUM, QUIET, Device, device

SOFTLY = ["--no-sandbox", "--disable-dev-shm-usage", "--use-gl=angle", "--use-angle=swiftshader",
          "--enable-unsafe-swiftshader"]  # fmt: skip
MOST = 3_000_000
"""Bytes that a setup in the round may take, with all the page needs for it."""
SEEN = """() => {
  const canvas = document.getElementById('round'), gl = canvas.getContext('webgl2');
  const [w, h] = [gl.drawingBufferWidth, gl.drawingBufferHeight], raw = new Uint8Array(4 * w * h);
  gl.readPixels(0, 0, w, h, gl.RGBA, gl.UNSIGNED_BYTE, raw);
  let drawn = 0, sum = 0, blue = 0, sand = 0;
  for (let i = 0; i < raw.length; i += 4) {
    const [r, g, b] = [raw[i], raw[i + 1], raw[i + 2]];
    if (r + g + b < 750) drawn += 1;
    if (b > r + 25) blue += 1;
    if (r > b + 45) sand += 1;
    sum = (sum * 31 + r + 7 * g + 13 * b) % 2147483647;
  }
  return { share: drawn / (w * h), sum, fresh: blue / (w * h), section: sand / (w * h) };
}"""


@pytest.fixture(
    scope="module", params=[SOFTLY, [*QUIET, "--disable-3d-apis"]], ids=["webgl", "none"]
)
def browser(request: pytest.FixtureRequest) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=request.param)
        found.webgl = request.param is SOFTLY  # type: ignore[attr-defined]
        yield found
        found.close()


@pytest.fixture
def setup(place: Path) -> str:
    """The setup at the mill with most operations."""
    route = read_route(place / "out" / "route.json")
    milled = [s for s in route.setups if s.machine_kind == "mill"]
    return max(milled, key=lambda s: len(s.operations)).id


def seen(page: Page, step: int) -> dict[str, float]:
    # a browser that has just been started gets its WebGL in software ready first
    expect(page.locator("#round")).to_have_attribute("data-drawn", str(step), timeout=30_000)
    page.wait_for_timeout(150)
    found: dict[str, float] = page.evaluate(SEEN)
    return found


@pytest.mark.parametrize("name", ["phone", "tablet"])
def test_it_is_drawn_and_played_forward_and_back(
    browser: Browser, address: str, setup: str, name: str
) -> None:
    if not browser.webgl:  # type: ignore[attr-defined]
        return without_webgl(browser, address, setup, name)
    with device(browser, address, name) as bench:
        asked: list[Request] = []
        bench.page.on("requestfinished", lambda one: asked.append(one))
        page = bench.go(f"/setup/{setup}/round?step=0")
        loaded = seen(page, 0)
        assert loaded["share"] > 0.05
        assert loaded["fresh"] == 0  # nothing is cut yet
        came = {one.url: one.sizes()["responseBodySize"] for one in asked}
        assert any("/round/" in url and size for url, size in came.items())
        assert sum(came.values()) < MOST
        bench.look("round")

        page.locator("#on").tap()
        first = seen(page, 1)
        assert first["sum"] != loaded["sum"]
        assert first["fresh"] > loaded["fresh"]
        expect(page.locator("#steps [aria-current]")).to_have_attribute("data-step", "1")
        page.locator("#back").tap()
        assert seen(page, 0)["sum"] == loaded["sum"]
        page.keyboard.press("PageDown")
        assert seen(page, 1)["sum"] == first["sum"]
        cut_away(bench, first["sum"])
        page.reload()
        assert seen(page, 1)["sum"] == first["sum"]  # the address keeps the step
    return None


def cut_away(bench: Device, whole: float) -> None:
    page = bench.page
    page.get_by_role("button", name="Without the vise").tap()
    bare = seen(page, 1)
    assert bare["sum"] != whole
    page.get_by_role("button", name="Cut away").tap()
    half = seen(page, 1)
    assert half["section"] > bare["section"] + 0.002
    bench.look("round-cut-away")
    page.get_by_label("Cut at").fill("20")
    assert seen(page, 1)["sum"] != half["sum"]
    before = seen(page, 1)["sum"]
    page.locator("#round").focus()
    page.keyboard.press("ArrowLeft")
    assert seen(page, 1)["sum"] != before  # turned, and not gone back a step
    box = page.locator("#round").bounding_box()
    assert box
    turned, (x, y) = seen(page, 1)["sum"], (box["x"] + box["width"] / 2, box["y"] + 20)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 60, y + 10, steps=4)
    page.mouse.up()
    assert seen(page, 1)["sum"] != turned


def without_webgl(browser: Browser, address: str, setup: str, name: str) -> None:
    with device(browser, address, name) as bench:
        page = bench.go(f"/setup/{setup}/round?step=0")
        expect(page.locator("#plainly")).to_contain_text("cannot show it in the round")
        expect(page.get_by_role("img", name=f"The work in setup {setup}")).to_be_visible()
        expect(page.locator("#round")).to_be_hidden()
        bench.look("round-plain")
        page.locator("#on").tap()
        page.wait_for_url("**/round?step=1")
        bench.complaints = [c for c in bench.complaints if "WebGL" not in c]


def test_it_opens_as_the_copy_in_hand_stands(
    browser: Browser, address: str, setup: str, place: Path
) -> None:
    with device(browser, address) as bench:
        bench.go(f"/setup/{setup}/1")
        bench.page.get_by_role("link", name="In the round").tap()
        expect(bench.page.locator("#steps [aria-current]")).to_have_attribute("data-step", "0")
        if not browser.webgl:  # type: ignore[attr-defined]
            bench.complaints.clear()
