"""Sizes that no reading makes: what the tool leaves, against the drawing; sums done by hand."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, degrees, radians, tan

import pytest

from barstock.route import TiltBy, TiltSetting
from barstock.tolerancing.by_tool import CONE, ByTool, by_tool
from barstock.tolerancing.limit_notes import tool_notes
from barstock.tolerancing.shop_errors import CUTTER, FINDER, TOUCH
from barstock.words import remedies as words
from barstock.words.limits_held import limit_lines, records
from barstock.words.notes import note
from barstock.words.reader import Reader

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
    (told,) = (note(one, Reader()) for one in tool_notes([g]))
    assert "axle bore: bore 10 H6" in told
    assert "boring head" in told


def test_a_drill_cuts_wide(axlebox: Shop) -> None:
    g = given(axlebox)["axlebox/oil hole/bore"]
    assert (g.low, g.high) == (pytest.approx(2.0), pytest.approx(2.1))  # IT12 up to 3 mm: 100 µm


def test_a_thread_is_the_taps_and_the_tapping_drills(axlebox: Shop) -> None:
    g = given(axlebox)["axlebox/cover screws/thread"]
    # M2, pitch 0.4, drilled 1.6: (2 - 1.6) / (1.299 x 0.4) = 77 %; at 1.7, 58 %
    assert "77 % of the thread, 58 %" in words.given(g.given, Reader())
    assert g.holds


@pytest.fixture(scope="module")
def rocker(planned: Planned) -> Shop:
    return planned("wagon", parts=("rocker",))


ANGLE = "rocker/rocking face/angle left"


def tilted(shop: Shop, by: TiltBy) -> ByTool:
    """The fall of a flat, set by something else."""
    setups = [
        s.model_copy(
            update={"holding": s.holding.model_copy(update={"tilt_set": TiltSetting(by=by)})}
        )
        for s in shop.route.setups
    ]
    other = shop.route.model_copy(update={"setups": tuple(setups)})
    found = by_tool(other, shop.build, shop.workshop)
    return next(g for g in found if f"{g.asked.part}/{g.asked.check.name}" == ANGLE)


@pytest.mark.parametrize(
    ("by", "error"),
    [
        # 5 µm of blocks under 100 mm at 3 degrees, and the vise's 0.02 mm over 60 mm of work
        (TiltBy.SINE_BAR, degrees(0.005 / (100 * cos(radians(3)))) + degrees(atan(0.02 / 60))),
        (TiltBy.TILTING_TABLE, 0.1 + degrees(atan(0.02 / 60))),
        (TiltBy.PROTRACTOR, 0.25 + degrees(atan(0.02 / 60))),
        (TiltBy.DIAL_INDICATOR, degrees(atan(0.01 / 48))),
    ],
)
def test_a_tilt_is_what_sets_it_and_how_the_work_lies(rocker: Shop, by: str, error: float) -> None:
    g = tilted(rocker, by)
    assert (g.low, g.high) == (
        pytest.approx(3 - error, abs=3e-4),
        pytest.approx(3 + error, abs=3e-4),
    )
    assert g.holds  # ±0.5°: its shorter leg is 30 mm, ISO 2768-1 table 3


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
    text = "\n".join(limit_lines(list(cap.judged().values()), tools))
    assert "rod clearance: bore 17/64" in text
    assert "no readings to chain" in text
    data = {(r["part"], r["dimension"]): r for r in records([], tools)}
    bore = data["bracket", "rod hole/bore"]
    assert bore["made"] == [pytest.approx(6.35), pytest.approx(6.365)]  # 1/4 in, IT7: 15 µm
    assert bore["by"]
