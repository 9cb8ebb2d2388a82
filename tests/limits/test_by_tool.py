"""Sizes that no reading makes: what the tool leaves, against the drawing; sums done by hand."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, radians, tan

import pytest

from barstock.limits.by_tool import CONE, ByTool, by_tool
from barstock.limits.said import records, said, tool_notes
from barstock.limits.shop import BLOCKS, CUTTER, FINDER, TOUCH

from .conftest import Planned, Shop


def given(shop: Shop, **changed: float) -> dict[str, ByTool]:
    workshop = replace(shop.workshop, **changed)  # type: ignore[arg-type]
    found = by_tool(shop.route, shop.build, workshop)
    return {f"{g.asked.part}/{g.asked.check.name}": g for g in found}


@pytest.fixture(scope="module")
def axlebox(planned: Planned) -> Shop:
    return planned("wagon", parts=("axlebox",))


@pytest.fixture(scope="module")
def cap(planned: Planned) -> Shop:
    return planned("bracket", parts=("gland cap", "bracket"))


def test_every_check_is_either_chained_or_told(axlebox: Shop) -> None:
    checks = [c.name for s in axlebox.route.setups for o in s.operations for c in o.checks]
    chained = {g.asked.check.name for g in axlebox.judged().values()}
    told = {g.asked.check.name for g in given(axlebox).values()}
    assert not chained & told
    assert chained | told == set(checks)


def test_a_reamer_leaves_h7(axlebox: Shop) -> None:
    g = given(axlebox)["axlebox/axle bore/bore"]  # 10 H7: +15 µm, ISO 286-2 table 6
    assert (g.low, g.high) == (pytest.approx(10), pytest.approx(10.015))
    assert g.holds


def test_a_reamer_cannot_hold_what_is_closer(planned: Planned) -> None:
    shop = planned("wagon", ("10 H7", "10 H6"), parts=("axlebox",))
    g = given(shop)["axlebox/axle bore/bore"]  # 10 H6: +9 µm
    assert g.missing == pytest.approx(0.006)
    assert any(
        "axle bore: bore 10 H6" in note and "boring head" in note for note in tool_notes([g])
    )


def test_a_drill_cuts_wide(axlebox: Shop) -> None:
    g = given(axlebox)["axlebox/oil hole/bore"]
    assert (g.low, g.high) == (pytest.approx(2.0), pytest.approx(2.1))  # IT12 up to 3 mm: 100 µm


def test_a_thread_is_the_taps_and_the_tapping_drills(axlebox: Shop) -> None:
    g = given(axlebox)["axlebox/cover screws/thread"]
    # M2, pitch 0.4, drilled 1.6: (2 - 1.6) / (1.299 x 0.4) = 77 %; at 1.7, 58 %
    assert "77 % of the thread, 58 %" in g.words
    assert g.holds


def test_a_tilt_is_blocks_and_seat(axlebox: Shop) -> None:
    for repeat in (0.0, 0.05):
        g = given(axlebox, vise_repeat=repeat)["axlebox/guide slots/lean front"]
        blocks = degrees(BLOCKS / (100 * 0.99966))  # cos 1.5° of a 100 mm bar
        out = blocks + degrees(atan(repeat / 32))  # 32 mm long
        assert (g.low, g.high) == (
            pytest.approx(1.5 - out, abs=2e-4), pytest.approx(1.5 + out, abs=2e-4)
        )  # fmt: skip


def test_no_sine_bar_no_fine_tilt(axlebox: Shop) -> None:
    lean = "axlebox/guide slots/lean front"
    by_table = given(axlebox, sine_bar=0.0, tilting_table=45.0)[lean]
    by_protractor = given(axlebox, sine_bar=0.0)[lean]
    assert by_table.high is not None
    assert by_protractor.high is not None
    assert by_protractor.high > by_table.high > (given(axlebox)[lean].high or 0)


def test_a_countersink_is_sunk_by_readings_from_the_holes_edge(axlebox: Shop) -> None:
    g = axlebox.judged()["axlebox/oil hole/countersink"]
    wide = 2 * tan(radians(45))
    half = wide * (TOUCH + 0.005)
    assert (g.low, g.high) == (pytest.approx(4 - half), pytest.approx(4 + half + 0.1))
    angle = given(axlebox)["axlebox/oil hole/countersink angle"]
    assert (angle.low, angle.high) == (90 - CONE, 90 + CONE)


def test_a_bevel_is_height_and_place_of_the_cone(cap: Shop) -> None:
    g = cap.judged()["bracket/eased corner/bevel"]
    # the top is touched on each copy and the edge cut from the same zero: the cone's height, the
    # reading of both axes, and the end mill that squared the right end
    step = 0.0005 * 25.4
    half = TOUCH + 3 * step + CUTTER / 2
    assert g.high - g.low == pytest.approx(2 * half)
    assert FINDER not in [k.plus for k, _ in g.chain.links if getattr(k, "kind", "") == "edge"]


def test_told_and_as_data(cap: Shop) -> None:
    tools = list(given(cap).values())
    text = "\n".join(said(list(cap.judged().values()), tools))
    assert "rod clearance: bore 17/64" in text
    assert "no readings to chain" in text
    data = {(r["part"], r["dimension"]): r for r in records([], tools)}
    bore = data["bracket", "rod hole/bore"]
    assert bore["made"] == [pytest.approx(6.35), pytest.approx(6.365)]  # 1/4 in, IT7: 15 µm
    assert bore["by"]
