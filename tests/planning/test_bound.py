"""The least time: no order that is found beats it, and plain orders are real and slower."""

from __future__ import annotations

import shutil
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from barstock import api
from barstock.drawing.build import Build, Pin
from barstock.planning.order.plain_orders import one_part
from barstock.planning.plan import Planner
from barstock.route import Route
from barstock.workshop.shop import Workshop

from .conftest import SAMPLES, only, sample
from .small_part import planned, written

Planned = tuple[Build, Workshop, Route]


@pytest.mark.parametrize("name", ["wagon", "bracket", "new"])
def test_no_plan_beats_the_bound(name: str) -> None:
    """Of whole builds, and of every part by itself."""
    build, shop = sample(name)
    for some in (build, *(only(build, part.name) for part in build.parts)):
        whole = Planner(some, shop).whole(())
        assert 0 < whole.bound <= whole.minutes + 1e-6


def test_forcing_an_order_never_beats_the_bound_of_the_free_one() -> None:
    """Every pair of neighbours of a plan exchanged, where that can be."""
    build, shop = sample("bracket")
    planner = Planner(build, shop)
    free = planner.whole(())
    tried = 0
    for plan in free.plans:
        ids = [p.task.id for p in plan.order.placed]
        for first, then in pairwise(ids):
            try:
                other = planner.whole([Pin("before", (then, first))])
            except ValueError:
                continue
            tried += 1
            assert other.minutes >= free.bound - 1e-6
    assert tried > 5


def test_the_price_of_an_order_is_never_more_than_its_setups_take() -> None:
    """The core's price of passes is the cheapest way; the setups' is the real one."""
    for name in ("wagon", "bracket"):
        build, shop = sample(name)
        planner = Planner(build, shop)
        for part in build.parts:
            alone = planner.part(part, ())[0]
            taken = sum(s.minutes for s in alone.setups if s.machine_kind != "saw")
            assert alone.order.minutes <= taken + 0.05 * len(alone.setups)


def test_the_gap_of_the_wagon_is_small(wagon: Planned) -> None:
    summary = wagon[2].summary
    assert (summary.hours - summary.bound_hours) / summary.hours < 0.05


def test_plain_orders_take_longer(wagon: Planned, bracket: Planned) -> None:
    for _, _, route in (wagon, bracket):
        summary = route.summary
        assert summary.one_part_at_a_time_hours > summary.hours
        assert summary.one_tool_at_a_time_hours > summary.hours


@pytest.mark.parametrize("copies", [1, 2])
def test_no_plain_order_beats_the_plan(copies: int, tmp_path: Path) -> None:
    """A plate, larger as sawn on all sides: three of its setups are held alike."""
    text = (
        f"build: Plate\nparts:\n  plate:\n    copies: {copies}\n    material: brass\n"
        "    length: 40\n    width: 18\n    height: 4\n    bar: 20 x 5\n    features:\n"
        "      hole: {kind: hole, face: top, at: {length: centre, width: centre}, diameter: 4, "
        "depth: through}\n"
    )
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    shutil.copy(SAMPLES / "wagon" / "workshop.yaml", tmp_path)
    route = api.plan(tmp_path, pictures=False).route
    assert not route.left
    assert route.summary.hours <= route.summary.one_part_at_a_time_hours + 0.01
    assert route.summary.hours <= route.summary.one_tool_at_a_time_hours + 0.01


@pytest.mark.parametrize("name", ["wagon", "bracket", "new"])
def test_no_plain_order_of_a_part_alone_beats_its_plan(name: str) -> None:
    build, shop = sample(name)
    for part in build.parts:
        planner = Planner(only(build, part.name), shop)
        summary = planner.route(planner.whole(()), {}).summary
        assert summary.hours <= summary.one_part_at_a_time_hours + 0.01, part.name
        assert summary.hours <= summary.one_tool_at_a_time_hours + 0.01, part.name


def test_piece_by_piece_added_up_by_hand(bracket: Planned) -> None:
    """One part of two copies: all its setups twice over, each loaded and tooled for one piece."""
    build, shop, _ = bracket
    chain = Planner(only(build, "gland cap"), shop).part(build.part("gland cap"), ())[0].setups
    times = shop.times
    sawing, *rest = chain
    each = 0.0
    for setup in rest:
        each += times.set_up + times.find_zero + times.load
        last = ""
        for operation in setup.operations:
            each += operation.minutes
            if operation.cutter.name != last:
                change = {"collet": times.change_collet, "arbor": times.change_arbor}
                each += change.get(operation.cutter.holder, times.change_chuck) + times.touch_off
            last = operation.cutter.name
    # No setup of this part is held like the one before it but the first of the second copy, if its
    # last is: none is here.
    packings = [s.holding.packing for s in rest]
    assert all(a != b for a, b in zip(packings, [*packings[1:], packings[0]], strict=True))
    plain = one_part([chain], {}, times)
    assert plain.minutes == pytest.approx(sawing.minutes + 2 * each, abs=0.05)


def test_no_plain_order_beats_one_whose_zeros_are_found_for_every_copy(tmp_path: Path) -> None:
    """Standing in the V-block, each piece has its axis found anew, in whatever order."""
    hole = "kind: hole, face: top, at: {length: centre, width: centre}, diameter: 5, depth: through"
    text = written("round 20 x 30", f"{hole}", "kind: slot, face: right, along: width, "
                   "position: {height: centre}, width: 4, depth: 6", copies=8)  # fmt: skip
    summary = planned(text, tmp_path)[1].summary
    assert summary.hours <= summary.one_part_at_a_time_hours + 0.01
    assert summary.hours <= summary.one_tool_at_a_time_hours + 0.01


def test_no_plain_order_beats_one_that_pins_hold_up() -> None:
    build, shop = sample("wagon")
    pins = [Pin("before", (build.parts[n].name, build.parts[0].name)) for n in (1, 2)]
    pinned = replace(build, pins=(*build.pins, *pins))
    planner = Planner(pinned, shop)
    summary = planner.route(planner.whole(pinned.pins), {}).summary
    assert summary.hours <= summary.one_part_at_a_time_hours + 0.01
    assert summary.hours <= summary.one_tool_at_a_time_hours + 0.01
