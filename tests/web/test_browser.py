"""The pages in a real browser, in the sizes of a phone and a tablet: each page's main act."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from barstock.pack.route_file import read_route, route_text
from barstock.route import Route

from .browsing import ON_ITS_SIDE, SHIFTS, WIDE, Device, device, serving
from .test_hearth import JOINED

TALL = 126.0
"""20 mm on a tablet, which shows about 160 px to the inch [px]."""


@pytest.fixture(scope="module")
def route(place: Path) -> Route:
    return read_route(place / "out" / "route.json")


@pytest.fixture(params=["phone", "tablet"])
def bench(request: pytest.FixtureRequest, browser: Browser, address: str) -> Iterator[Device]:
    with device(browser, address, request.param) as found:
        yield found


def milled(route: Route) -> str:
    """The first setup on pieces at the mill."""
    return next(s.id for s in route.setups if s.stage == "piece" and s.machine_kind == "mill")


def walk_to(bench: Device, path: str, selector: str) -> None:
    """Touch on from card to card until something is there."""
    page = bench.go(path)
    for _ in range(60):
        if page.locator(selector).count():
            return
        before = page.url
        page.locator('.walk a[rel="next"]').click()
        page.wait_for_url(lambda url, was=before: url != was)  # type: ignore[misc]
    raise AssertionError(f"no {selector} from {path} on")


# -- each page's main act --------------------------------------------------------------------------


def test_the_build_at_a_glance_leads_to_what_can_be_done(bench: Device) -> None:
    page = bench.go("/")
    bench.look("build")
    page.get_by_role("link", name="4 h", exact=True).click()
    page.wait_for_url("**/?minutes=240")
    page.locator("section", has_text="What could be done now").locator(".order a").first.click()
    page.wait_for_url("**/setup/**")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Setup")


def test_a_setup_is_walked_by_touch_and_by_arrow_keys(bench: Device, route: Route) -> None:
    page = bench.go(f"/setup/{milled(route)}/1")
    picture = page.locator(".picture img")
    expect(picture).to_be_visible()
    assert picture.evaluate("e => e.decode().then(() => e.naturalWidth)") > 100
    bench.look("setup-held")
    page.locator('.walk a[rel="next"]').tap()
    page.wait_for_url("**/2")
    expect(page.get_by_role("heading", name="Find zero")).to_be_visible()
    bench.look("setup-zero")
    page.keyboard.press("ArrowRight")
    page.wait_for_url("**/3")
    bench.look("setup-dial")
    page.keyboard.press("ArrowLeft")
    page.wait_for_url("**/2")
    for link in page.locator(".walk a").all():
        box = link.bounding_box()
        assert box
        assert box["height"] >= 70
        assert box["width"] >= 100


def test_the_whole_setup_on_one_page_prints(bench: Device, route: Route) -> None:
    page = bench.go(f"/setup/{milled(route)}/whole")
    bench.look("setup-whole")
    page.emulate_media(media="print")
    for gone in (".tabs", ".units", "button[data-print]"):
        expect(page.locator(gone)).to_be_hidden()
    expect(page.locator("table").first).to_be_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundImage") == "none"


def test_a_first_off_is_entered(bench: Device, route: Route) -> None:
    walk_to(bench, "/setup/1/1", "input[name=reading]")
    page = bench.page
    form = page.locator("section.leaf").first
    form.get_by_label("What it measures (mm)").fill("8,0")
    form.get_by_role("button", name="Enter").tap()
    expect(form.get_by_role("alert")).to_contain_text("has a comma")
    expect(form.get_by_label("What it measures (mm)")).to_have_value("8,0")
    bench.look("measure-wrong")
    form.get_by_label("What it measures (mm)").fill("8.02")
    form.get_by_role("button", name="Enter").tap()
    expect(form).to_contain_text("✓ within limits")
    bench.look("measure")
    bench.complaints.clear()  # the browser notes that the first one was not taken


def test_closing_in(bench: Device) -> None:
    walk_to(bench, "/setup/1/1", "input[name=reading]")
    form = bench.page.locator("section.leaf").first
    form.get_by_text("Close in on it").tap()
    form.get_by_label("Cut 1: Axis reads").fill("0")
    form.locator("input[name=measured]").fill("7.8")
    form.get_by_role("button", name="What next?").tap()
    expect(form.get_by_role("status")).to_contain_text("Each wall: feed 0.050 mm")
    bench.look("closing-in")


def test_copies_are_ticked_one_by_one_and_taken_back(bench: Device, route: Route) -> None:
    walk_to(bench, f"/setup/{milled(route)}/1", ".boxes")
    box = bench.page.get_by_role("button", name=re.compile("Copy 2"))
    box.tap()
    expect(box).to_have_attribute("aria-pressed", "true")
    expect(bench.page.locator("#told")).to_contain_text("Saved at")
    bench.look("copies")
    box.tap()
    expect(box).to_have_attribute("aria-pressed", "false")


def test_a_clock_to_wait_by(bench: Device) -> None:
    page = bench.go("/clocks")
    page.get_by_label("Minutes").fill("10")
    page.get_by_role("button", name="Start the clock").tap()
    expect(page.get_by_role("timer")).to_have_text(re.compile(r"^09:5\d$"))
    bench.look("clocks")
    page.get_by_role("button", name="Stop: pickle").tap()
    expect(page.get_by_text("No clock is running.")).to_be_visible()


def test_parts_with_their_drawings(bench: Device) -> None:
    page = bench.go("/parts")
    bench.look("parts")
    page.get_by_role("link", name=re.compile("Fork")).tap()
    drawing = page.get_by_alt_text("Drawing of fork")
    expect(drawing).to_be_visible()
    assert drawing.evaluate("e => e.decode().then(() => e.naturalWidth)") > 100
    bench.look("part")


def test_the_handbook(bench: Device) -> None:
    page = bench.go("/handbook")
    bench.look("handbook")
    page.get_by_label("Look up").fill("M3")
    page.get_by_role("button", name="Look").tap()
    expect(page.get_by_role("heading", name=re.compile("M3")).first).to_be_visible()
    bench.look("handbook-found")


def test_the_log_with_undo(bench: Device) -> None:
    page = bench.go("/log")
    page.get_by_label("What to remember").fill("the vise is square again")
    page.get_by_role("button", name="Enter").tap()
    line = page.get_by_role("listitem").filter(has_text="square again").first
    expect(line).to_be_visible()
    bench.look("log")
    line.get_by_role("button").tap()
    line = page.get_by_role("listitem").filter(has_text="note: the vise").first
    expect(line).to_contain_text("Taken back")


def test_a_page_that_is_not_there(bench: Device) -> None:
    bench.go("/setup/999/1")
    expect(bench.page.get_by_role("heading", name="Not here")).to_be_visible()
    bench.look("not-here")
    bench.complaints.clear()  # the browser notes the 404


# -- at one metre, with cold fingers ---------------------------------------------------------------


@pytest.mark.parametrize("side", ["upright", "on its side"])
def test_readings_stand_20_mm_high_on_a_tablet(
    browser: Browser, address: str, route: Route, side: str
) -> None:
    with device(browser, address) as bench:
        if side != "upright":
            bench.page.set_viewport_size(ON_ITS_SIDE)
            bench.name = "tablet-on-its-side"
        measured = 0
        for setup in (route.setups[0].id, milled(route)):
            walk_to(bench, f"/setup/{setup}/1", ".plate")
            for number in range(6):
                for value in bench.page.locator(".value").all():
                    tall = value.evaluate(
                        """e => { const pen = document.createElement('canvas').getContext('2d');
                        const font = getComputedStyle(e);
                        pen.font = `${font.fontWeight} ${font.fontSize} ${font.fontFamily}`;
                        return pen.measureText('0').actualBoundingBoxAscent; }"""
                    )
                    if "wordy" not in (value.get_attribute("class") or ""):
                        assert tall >= TALL, value.inner_text()
                        measured += 1
                    box, plate = value.bounding_box(), value.locator("xpath=../..").bounding_box()
                    assert box
                    assert plate
                    assert plate["x"] <= box["x"], value.inner_text()
                    assert box["x"] + box["width"] <= plate["x"] + plate["width"]
                if number == 1:
                    bench.look(f"readings-{setup}")
                before = bench.page.url
                bench.page.locator('.walk a[rel="next"]').click()
                bench.page.wait_for_url(lambda url, was=before: url != was)  # type: ignore[misc]
        assert measured > 12


@pytest.mark.parametrize("path", ["/", "/setup/1/1", "/setup/1/2", "/setup/1/3", "/parts/1"])
def test_nothing_jumps_while_a_page_comes(browser: Browser, address: str, path: str) -> None:
    with device(browser, address) as bench:
        bench.go(path)
        assert bench.page.evaluate(SHIFTS) < 0.01


@pytest.mark.parametrize("path", ["/", "/setup/1/1", "/setup/1/3", "/log", "/parts/1", "/clocks"])
def test_dark_by_the_system_and_wide(browser: Browser, address: str, path: str) -> None:
    with device(browser, address, scheme="dark") as bench:
        bench.page.set_viewport_size(WIDE)
        bench.go(path)
        bench.name = "dark-wide"
        bench.look(path.strip("/").replace("/", "-") or "build")
        ground = bench.page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert max(map(int, re.findall(r"\d+", ground)[:3])) < 60


# -- together --------------------------------------------------------------------------------------


def test_two_devices_see_each_other_s_ticks(browser: Browser, address: str, route: Route) -> None:
    path = f"/setup/{milled(route)}/1"
    with device(browser, address) as one, device(browser, address, "phone") as two:
        for bench in (one, two):
            walk_to(bench, path, ".boxes")
        copy = re.compile("Copy 3")
        one.page.get_by_role("button", name=copy).tap()
        there = two.page.get_by_role("button", name=copy)
        expect(there).to_have_attribute("aria-pressed", "true", timeout=60_000)
        there.tap()
        here = one.page.get_by_role("button", name=copy)
        expect(here).to_have_attribute("aria-pressed", "false", timeout=60_000)


def test_what_is_not_saved_is_said(browser: Browser, address: str, route: Route) -> None:
    with device(browser, address) as bench:
        walk_to(bench, f"/setup/{milled(route)}/1", ".boxes")
        bench.page.context.set_offline(True)
        box = bench.page.get_by_role("button", name=re.compile("Copy 1"))
        box.tap()
        expect(bench.page.locator("#out-of-touch")).to_contain_text("Not saved")
        expect(box).to_have_attribute("aria-pressed", "false")
        bench.page.context.set_offline(False)
        box.tap()
        expect(box).to_have_attribute("aria-pressed", "true")
        expect(bench.page.locator("#out-of-touch")).to_be_empty()
        box.tap()
        expect(box).to_have_attribute("aria-pressed", "false")
        bench.complaints.clear()  # the browser notes that it was offline


def test_the_hearth_and_a_changed_drawing_planned_anew(
    browser: Browser, planned: Path, tmp_path: Path
) -> None:
    place = tmp_path / "fork"
    shutil.copytree(planned, place)
    path = place / "out" / "route.json"
    route = read_route(path).model_copy(update={"fabrications": (JOINED,)})
    path.write_text(route_text(route))
    written = place / "build.yaml"
    with serving(place) as (address, _), device(browser, address) as bench:
        page = bench.go("/")
        page.get_by_role("link", name=re.compile("0 of 3 done")).tap()
        heat = page.locator("section", has_text="Heat 1 of 2")
        heat.get_by_role("button", name=re.compile("Copy 2")).tap()
        pressed = heat.get_by_role("button", name=re.compile("Copy 2 done"))
        expect(pressed).to_have_attribute("aria-pressed", "true")
        bench.look("hearth")
        written.write_text(written.read_text().replace("depth: 8", "depth: 7.5"))
        page = bench.go("/")
        notice = page.locator(".notice")
        expect(notice).to_contain_text("slot: changed")
        bench.look("changed")
        notice.get_by_role("button", name="Plan the rest anew").tap()
        expect(notice).to_contain_text("Planning anew")
        bench.look("planning-anew")
        expect(notice).to_have_count(0, timeout=120_000)


def test_devices_are_paired_by_mark_or_code(
    browser: Browser, planned: Path, tmp_path: Path
) -> None:
    place = tmp_path / "fork"
    shutil.copytree(planned, place)
    with serving(place, "--lan") as (address, greeting):
        code = greeting.split(" type ")[1].strip()
        with device(browser, address) as first:
            first.go("/parts")
            first.page.wait_for_url("**/pair")
            first.look("pair")
            first.page.get_by_label("Code").fill(code)
            first.page.get_by_label("What this device is called").fill("by the mill")
            first.page.get_by_role("button", name="Pair").tap()
            expect(first.page.get_by_role("heading", level=1)).to_have_text("Fork")
            first.page.get_by_role("link", name="Devices").tap()
            first.page.get_by_role("button", name="Pair another").tap()
            other = first.page.locator(".code").inner_text().replace(" ", "")
            mark = first.page.locator(".mark")
            assert mark.evaluate("e => e.decode().then(() => e.naturalWidth)") > 100
            first.look("devices")
            with device(browser, address, "phone") as second:
                second.go(f"/pair#{other}")
                expect(second.page.get_by_label("Code")).to_have_value(other)
                assert second.page.url == f"{address}/pair"
                second.page.get_by_role("button", name="Pair").tap()
                expect(second.page.get_by_role("heading", level=1)).to_have_text("Fork")
                assert not [url for url in second.asked if other in url]
                assert second.page.evaluate("document.cookie") == ""
            with device(browser, address) as third:
                third.go(f"/pair#{other}")
                third.page.get_by_role("button", name="Pair").tap()
                expect(third.page.get_by_role("alert")).to_contain_text("That code is wrong")
                third.complaints.clear()  # the browser notes the 403
