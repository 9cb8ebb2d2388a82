"""The build edited in a browser: the file, the drawing and the faults follow what is typed."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, expect

from .browsing import Device, device
from .conftest import Bench, start


@pytest.fixture(params=["phone", "tablet"])
def bench(request: pytest.FixtureRequest, browser: Browser, address: str) -> Iterator[Device]:
    with device(browser, address, request.param) as found:
        yield found


@pytest.fixture
def alone(folder: Path) -> Iterator[Bench]:
    """The pages in-process."""
    yield from start(folder)


@pytest.fixture(autouse=True)
def fresh(place: Path, planned: Path) -> None:
    shutil.copy(planned / "build.yaml", place)
    shutil.rmtree(place / ".barstock-undo", ignore_errors=True)


def form(bench: Device, title: str) -> Locator:
    """A feature's form, opened."""
    found = bench.page.locator("details.leaf", has=bench.page.locator("summary", has_text=title))
    if found.first.get_attribute("open") is None:
        found.locator("summary").first.click()
    return found.first


def write(form: Locator) -> None:
    form.get_by_role("button", name="Write it").click()


def test_a_dimension_is_changed_by_form_and_taken_back(bench: Device, place: Path) -> None:
    before = (place / "build.yaml").read_text("utf-8")
    page = bench.go("/edit")
    bench.look("edit")
    page.get_by_role("link", name=re.compile("Fork")).click()
    page.wait_for_url("**/edit/part/1")
    slot = form(bench, "Slot")
    drawing = page.locator("#sheet img")
    was = drawing.get_attribute("src")
    slot.get_by_label("Width").fill("7.5 ±0.05")
    slot.get_by_label("Width").press("Tab")
    expect(page.locator("#sheet")).to_contain_text("not written yet")
    assert drawing.get_attribute("src") != was  # redrawn before it is written
    assert "7.5" in drawn(bench)
    assert (place / "build.yaml").read_text("utf-8") == before
    write(slot)
    expect(page.get_by_role("status").first).to_contain_text("written into build.yaml")
    after = (place / "build.yaml").read_text("utf-8")
    assert after == before.replace("width: 8 ±0.05", "width: 7.5 ±0.05")
    assert "7.5" in drawn(bench)
    bench.look("edit-part")
    page.get_by_role("link", name="What of the plan it touches").click()
    expect(page.get_by_role("heading", name="The drawing or the shop is not as")).to_be_visible()
    page = bench.go("/edit/part/1")
    page.get_by_role("button", name="Take the last change back").click()
    expect(page.get_by_role("button", name="Make it again")).to_be_enabled()
    assert (place / "build.yaml").read_text("utf-8") == before
    page.get_by_role("button", name="Make it again").click()
    expect(page.get_by_role("button", name="Make it again")).to_be_disabled()
    assert (place / "build.yaml").read_text("utf-8") == after


def drawn(bench: Device) -> str:
    source = bench.page.locator("#sheet img").get_attribute("src")
    assert source
    return bench.page.context.request.get(bench.address + source).text()


def beside(field: Locator) -> Locator:
    return field.locator("xpath=..").locator(".wrong")


def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(
    bench: Device, place: Path
) -> None:
    before = (place / "build.yaml").read_text("utf-8")
    page = bench.go("/edit/part/1")
    pivot = form(bench, "Pivot")
    diameter = pivot.get_by_label("Diameter")
    diameter.fill("4 H77")
    diameter.press("Tab")
    expect(beside(diameter)).to_contain_text("no grade IT77")
    write(pivot)
    expect(page.get_by_role("alert")).to_contain_text("Nothing is written yet")
    pivot = form(bench, "Pivot")
    diameter = pivot.get_by_label("Diameter")
    expect(diameter).to_have_value("4 H77")
    expect(diameter).to_have_attribute("aria-invalid", "true")
    expect(beside(diameter)).to_contain_text("no grade IT77")
    bench.look("edit-wrong")
    assert (place / "build.yaml").read_text("utf-8") == before
    bench.complaints.clear()  # the browser notes that it was not taken


def test_a_feature_is_added_and_taken_out(bench: Device, place: Path) -> None:
    before = (place / "build.yaml").read_text("utf-8")
    page = bench.go("/edit/part/1")
    page.get_by_label("Another feature").select_option("hole")
    page.get_by_role("button", name="Describe it").click()
    new = form(bench, "A new feature")
    new.get_by_label("Name").fill("oil hole")
    new.get_by_label("Face").select_option("left")
    new.get_by_label("At", exact=True).fill("{width: centre, bottom: 2}")
    new.get_by_label("Diameter").fill("2")
    new.get_by_label("Depth", exact=True).fill("10")
    bench.look("edit-new")
    write(new)
    expect(page.get_by_role("status").first).to_contain_text("written into build.yaml")
    text = (place / "build.yaml").read_text("utf-8")
    assert text.startswith(before.rstrip("\n"))
    assert "      oil hole:\n        kind: hole\n        face: left\n" in text
    out = form(bench, "Oil hole").get_by_role("button", name="Take oil hole out")
    out.click()
    expect(out).to_have_count(0)
    assert (place / "build.yaml").read_text("utf-8") == before


FITTED = """
fits:
  pin in the pivot:
    inside: fork/pivot/bore
    outside: {size: 4 h6}
    clearance: {least: 0, most: 0.03}
"""


def test_who_rests_on_what_is_taken_out_is_told_before(bench: Device, place: Path) -> None:
    file = place / "build.yaml"
    before = file.read_text("utf-8") + FITTED
    file.write_text(before, encoding="utf-8")
    page = bench.go("/edit/part/1")
    form(bench, "Pivot").get_by_role("button", name="Take pivot out").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Take pivot out?")
    told = page.get_by_role("alert")
    line = before[: before.index("fork/pivot/bore")].count("\n") + 1
    expect(told).to_contain_text(f"A fit names 'pivot', no feature of 'fork' (line {line})")
    bench.look("edit-out")
    page.get_by_role("link", name="Leave it in").click()
    page.wait_for_url("**/edit/part/1")
    assert file.read_text("utf-8") == before
    form(bench, "Pivot").get_by_role("button", name="Take pivot out").click()
    page.get_by_role("button", name="Take it out all the same").click()
    page.wait_for_url("**/edit/part/1?saved=1")
    assert "      pivot:\n" not in file.read_text("utf-8")
    page.get_by_role("button", name="Take the last change back").click()
    expect(page.get_by_role("button", name="Make it again")).to_be_enabled()
    assert file.read_text("utf-8") == before


def test_whoever_is_second_keeps_what_was_typed_and_overwrites_nothing(
    browser: Browser, address: str, place: Path
) -> None:
    with device(browser, address) as one, device(browser, address, "phone") as two:
        for bench in (one, two):
            bench.go("/edit/part/1")
        slot = form(one, "Slot")
        slot.get_by_label("Depth", exact=True).fill("7")
        pivot = form(two, "Slot")
        pivot.get_by_label("Width").fill("6")
        write(slot)
        expect(one.page.get_by_role("status").first).to_contain_text("written into build.yaml")
        write(pivot)
        expect(two.page.get_by_role("alert")).to_contain_text("changed meanwhile")
        again = form(two, "Slot")
        expect(again.get_by_label("Width")).to_have_value("6")
        expect(again.get_by_label("Depth", exact=True)).to_have_value("7")
        write(again)
        expect(two.page.get_by_role("status").first).to_contain_text("written into build.yaml")
        text = (place / "build.yaml").read_text("utf-8")
        assert "depth: 7\n" in text
        assert "width: 6\n" in text
        two.complaints.clear()  # the browser notes that the first was not taken


def test_the_whole_file_as_text(bench: Device, place: Path) -> None:
    before = (place / "build.yaml").read_text("utf-8")
    page = bench.go("/edit/text")
    bench.look("edit-text")
    page.get_by_label("build.yaml").fill(before.replace("face: top", "face: topp"))
    page.get_by_role("button", name="Write it").click()
    expect(page.locator(".notice")).to_contain_text("did you mean 'top'?")
    assert "face: topp" in page.get_by_label("build.yaml").input_value()
    assert (place / "build.yaml").read_text("utf-8") == before
    page.get_by_label("build.yaml").fill(before + "# a note\n")
    page.get_by_role("button", name="Write it").click()
    expect(page.get_by_role("status")).to_contain_text("written into build.yaml")
    assert (place / "build.yaml").read_text("utf-8") == before + "# a note\n"
    bench.complaints.clear()  # the browser notes that the first was not taken


# -- what no page sends ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path",
    ["", "[", "{}", '"parts"', "[1]", '["parts","fork","features","x","y"]', '["../fork","a"]'],
)
@pytest.mark.parametrize("page", ["/edit/try", "/edit/save", "/edit/remove"])
def test_paths_that_name_no_table_are_refused(alone: Bench, path: str, page: str) -> None:
    before = (alone.state.folder / "build.yaml").read_bytes()
    answer = alone.client.post(page, data={"path": path, "mark": "x", "title": "y"})
    assert answer.status_code in (404, 422)
    assert (alone.state.folder / "build.yaml").read_bytes() == before


def test_a_file_that_is_no_text_is_said(alone: Bench) -> None:
    (alone.state.folder / "build.yaml").write_bytes(b"build: \xff\n")
    answer = alone.client.get("/edit")
    assert answer.status_code == 409
    assert "UTF-8" in answer.text


def test_a_file_that_is_no_yaml_is_mended_as_text(alone: Bench) -> None:
    file = alone.state.folder / "build.yaml"
    good = file.read_text("utf-8")
    file.write_text("build: {", encoding="utf-8")
    assert alone.client.get("/edit").headers["location"] == "/edit/text"
    page = alone.client.get("/edit/text").text
    mark = re.search(r'name="mark" value="(\w+)"', page)
    assert mark
    assert "error" in page
    answer = alone.client.post("/edit/text", data={"mark": mark[1], "text": good})
    assert answer.status_code == 303
    assert file.read_text("utf-8") == good
