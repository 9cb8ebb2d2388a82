"""Closing in on a countersink, by its own angle and not by 90 degrees."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from math import radians, tan
from pathlib import Path

import pytest

from barstock import api
from barstock.bench.first_off import to_hold

from .conftest import SMALL, Bench, start
from .test_pages import card_number

SUNK = """
build: Sunk
unit: mm
parts:
  plate:
    material: mild steel
    length: 40
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, bottom, top]
    features:
      flat: {kind: hole, face: top, at: {left: 8, width: centre}, diameter: 3, depth: through,
        countersink: {diameter: 6 ±0.1, angle: 82}}
      steep: {kind: hole, face: top, at: {left: 20, width: centre}, diameter: 3, depth: through,
        countersink: {diameter: 6 ±0.1, angle: 60}}
      deep: {kind: hole, face: top, at: {left: 32, width: centre}, diameter: 3, depth: through,
        countersink: {depth: 1.5 ±0.1, angle: 60}}
"""
SINKS = "countersinks: [{size: 10, angle: 60}, {size: 12, angle: 82}]"


@pytest.fixture(scope="module")
def sunk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A part with three countersinks, planned; only if you do not change it."""
    place = tmp_path_factory.mktemp("sunk")
    (place / "build.yaml").write_text(SUNK, encoding="utf-8")
    shop = (SMALL / "workshop.yaml").read_text("utf-8")
    shop = shop.replace("countersinks: [{size: 10, angle: 90}]", SINKS)
    (place / "workshop.yaml").write_text(shop, encoding="utf-8")
    api.plan(place, pictures=False)
    return place


@pytest.fixture
def bench(sunk: Path, tmp_path: Path) -> Iterator[Bench]:
    shutil.copytree(sunk, tmp_path / "sunk")
    yield from start(tmp_path / "sunk")


@pytest.mark.parametrize(
    ("feature", "measured", "gain"),
    [
        # a cone widens by 2 tan(angle / 2) for each mm it goes down: plane geometry
        ("flat", 5.8, 2 * tan(radians(41))),
        ("steep", 5.8, 2 * tan(radians(30))),
        ("deep", 1.3, 1.0),
    ],
)
def test_a_countersink_is_fed_by_its_own_angle(
    bench: Bench, feature: str, measured: float, gain: float
) -> None:
    name, number = card_number(bench, f"plate/{feature}/countersink", "measure")
    setup = bench.state.plan.setup(name)
    operation = next(o for o in setup.operations if o.id == f"plate/{feature}/countersink")
    sized = [n for n, check in enumerate(operation.checks) if check.low < check.high]
    shown = bench.client.get(f"/setup/{name}/{number}").text
    assert '<option value="-1" selected>' in shown  # fed downwards
    ask = {"index": sized[0], "reading": "-1", "measured": measured, "spring": "", "toward": -1}
    path = f"/setup/{name}/{number}/close"
    text = bench.client.get(path, params=ask, headers={"HX-Request": "true"}).text
    told = re.search(r"[Ff]eed (\d\.\d+) mm, to −?-?(\d\.\d+); expect (\d\.\d+) mm", text)
    assert told, text
    feed, reading, expect = map(float, told.groups())
    # half of what is left to the middle goes first, in whole steps of the readout (0.005 mm)
    left = sum(to_hold(operation.checks[sized[0]])) / 2 - measured
    assert feed == pytest.approx(left / gain / 2, abs=0.005)
    assert reading == pytest.approx(1 + feed)
    assert expect == pytest.approx(measured + gain * feed, abs=0.001)


@pytest.mark.parametrize(("step", "dimension"), [("countersink", "angle"), ("drill", "bore")])
def test_what_no_feed_mends_is_not_closed_in_on(bench: Bench, step: str, dimension: str) -> None:
    """A hole is as wide as its drill, the cone's angle is the cutter's."""
    name, number = card_number(bench, f"plate/flat/{step}", "measure")
    setup = bench.state.plan.setup(name)
    operation = next(o for o in setup.operations if o.id == f"plate/flat/{step}")
    (index,) = [n for n, check in enumerate(operation.checks) if dimension in check.name]
    path = f"/setup/{name}/{number}/close"
    assert bench.client.get(path, params={"index": index}).status_code == 404
