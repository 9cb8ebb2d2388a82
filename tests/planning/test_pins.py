"""Pins: what they ask for happens, their cost is told, a clash is named by the fewest rules."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.bars_wanted import check_against
from barstock.drawing.build import Build, Pin
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.order.user_pins import ClashError, PinError
from barstock.planning.plan import Planner, plan_build
from barstock.proving.prove import prove
from barstock.route import Route
from barstock.workshop.shop import Workshop

from .conftest import SAMPLES, find, only, sample

Planned = tuple[Build, Workshop, Route]


def pinned(build: Build, *pins: Pin) -> Build:
    """The build with those pins, of the parts they concern."""
    parts = {name.split("/")[0] for pin in pins for name in pin.names}
    return replace(only(build, *parts) if parts else build, pins=pins)


@pytest.fixture(scope="module")
def shop() -> tuple[Build, Workshop]:
    """The wagon and its workshop."""
    return sample("wagon")


def test_never_in_the_bar(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    route = plan_build(pinned(build, Pin("never in the bar", ("horn guide",))), workshop)
    milled = [s for s in route.setups if s.machine_kind == "mill"]
    assert {s.stage for s in milled} == {"piece"}
    # The shop cuts the rebates in the bar when it is free to: not doing so takes longer.
    (pin,) = route.summary.pins
    assert (pin.rule, pin.names) == ("never in the bar", ("horn guide",))
    assert pin.minutes == pytest.approx(22, abs=15)


def test_first(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    pin = Pin("first", ("axlebox/axle bore",))
    route = plan_build(pinned(build, pin), workshop)
    order = [o.id for s in route.setups for o in s.operations]
    at = order.index("axlebox/axle bore/ream")
    # Only sawing, and squaring the end that the bore is measured from, may come before it.
    assert set(order[:at]) <= {
        "axlebox/saw/off",
        "axlebox/left end/square",
        "axlebox/axle bore/spot",
        "axlebox/axle bore/drill",
    }
    assert prove(route, only(build, "axlebox")).ok


def test_together(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    free = plan_build(only(build, "horn guide"), workshop)
    one, other = "horn guide/right end/square", "horn guide/frame holes/spot"
    pin = Pin("together", (one, other))
    route = plan_build(pinned(build, pin), workshop)
    assert find(route, one)[0].id == find(route, other)[0].id
    assert route.summary.hours >= free.summary.hours - 0.01


def test_one_before_another_of_a_different_part(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    for first, then in (("rocker", "keep plate"), ("keep plate", "rocker")):
        pin = Pin("before", (f"{first}/right end", f"{then}/left end"))
        route = plan_build(pinned(build, pin), workshop)
        order = [o.id for s in route.setups for o in s.operations]
        assert order.index(f"{first}/right end/square") < order.index(f"{then}/left end/square")


def test_broken_tool_is_not_used(wagon: Planned) -> None:
    build, workshop, route = wagon
    used = {o.cutter.name for s in route.setups for o in s.operations}
    assert "end mill 12" in used
    build = replace(build, pins=(Pin("broken", (), "end mill 12"),))
    other = plan_build(build, workshop)
    assert "end mill 12" not in {o.cutter.name for s in other.setups for o in s.operations}
    (pin,) = other.summary.pins
    assert (pin.rule, pin.value) == ("broken", "end mill 12")
    assert pin.minutes >= 0


def test_vise(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    big = workshop.vises[0]
    two = replace(workshop, vises=(big, replace(big, name="other vise")))
    free = plan_build(only(build, "rocker"), two)
    assert {s.holding.device for s in free.setups if s.machine_kind == "mill"} == {big.name}
    route = plan_build(pinned(build, Pin("vise", ("rocker/pin holes",), "other vise")), two)
    assert find(route, "rocker/pin holes/ream")[0].holding.device == "other vise"


def test_face_up_and_tool(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    pins = (
        Pin("up", ("axlebox/axle bore",), "top"),
        Pin("tool", ("axlebox/left end",), "end mill 16"),
    )
    route = plan_build(pinned(build, *pins), workshop)
    assert find(route, "axlebox/axle bore/ream")[0].holding.up == "top"
    assert find(route, "axlebox/left end/square")[1].cutter.name == "end mill 16"


@pytest.mark.parametrize(
    "pin",
    [
        Pin("first", ("horn guide/keep screw",)),
        Pin("never in the bar", ("horn guide",)),
        Pin("up", ("axlebox/axle bore",), "bottom"),
        Pin("tool", ("rocker/left end",), "end mill 16"),
        Pin("before", ("axlebox/oil hole", "axlebox/axle bore")),
    ],
    ids=str,
)
def test_no_pin_saves_time(shop: tuple[Build, Workshop], pin: Pin) -> None:
    """A plan with a pin is a plan without it too, so the free plan is at least as quick."""
    build, workshop = shop
    planner = Planner(pinned(build, pin), workshop)
    held, free = planner.whole([pin]), planner.whole([])
    assert free.minutes <= held.minutes + 0.05
    assert planner.costs([pin], held)[pin] == pytest.approx(held.minutes - free.minutes, abs=0.06)
    assert free.bound <= held.minutes


def test_a_pin_that_asks_for_what_is_done_anyway_costs_nothing(wagon: Planned) -> None:
    build, workshop, free = wagon
    assert find(free, "horn guide/front rebate/mill")[0].stage == "bar"
    build = replace(build, pins=(Pin("only in the bar", ("horn guide/front rebate",)),))
    route = plan_build(build, workshop)
    assert route.summary.hours == free.summary.hours
    assert {pin.minutes for pin in route.summary.pins} == {0.0}


# -- pins that cannot all hold ---------------------------------------------------------------------

HARMLESS = (
    Pin("up", ("horn guide/frame holes",), "top"),
    Pin("tool", ("horn guide/left end",), "end mill 16"),
)


def clash(shop: tuple[Build, Workshop], *pins: Pin) -> ClashError:
    """What planning with those pins, and harmless ones, complains of."""
    build, workshop = shop
    with pytest.raises(ClashError) as told:
        plan_build(pinned(build, *HARMLESS, *pins), workshop)
    return told.value


def test_two_pins_that_contradict_are_both_named_and_nothing_else(
    shop: tuple[Build, Workshop],
) -> None:
    bar = Pin("only in the bar", ("horn guide/front rebate",))
    never = Pin("never in the bar", ("horn guide",))
    found = clash(shop, bar, never).clash
    assert set(found.pins) == {bar, never}
    assert found.rules == ()


def test_a_pin_against_a_rule_names_the_rule_in_words(shop: tuple[Build, Workshop]) -> None:
    backwards = Pin("before", ("horn guide/keep screw/tap", "horn guide/keep screw/drill"))
    wrong = clash(shop, backwards)
    assert wrong.clash.pins == (backwards,)
    assert [(e.first, e.then) for e in wrong.clash.rules] == [
        ("horn guide/keep screw/drill", "horn guide/keep screw/tap")
    ]
    assert "horn guide/keep screw/tap comes after horn guide/keep screw/drill" in str(wrong)


def test_a_circle_of_three_pins_is_named_whole(shop: tuple[Build, Workshop]) -> None:
    a, b, c = "horn guide/front rebate", "horn guide/back rebate", "horn guide/left end"
    circle = {Pin("before", pair) for pair in ((a, b), (b, c), (c, a))}
    assert set(clash(shop, *circle).clash.pins) == circle


def test_a_clash_is_the_fewest_rules(shop: tuple[Build, Workshop]) -> None:
    """Take any one pin of a clash out and there is an order."""
    build, workshop = shop
    a, b = "horn guide/front rebate", "horn guide/keep screw"
    pins = [*HARMLESS, Pin("only in the bar", (a,)), Pin("before", (b, a))]
    named = clash(shop, *pins).clash.pins
    assert set(named) == set(pins[2:])
    for pin in named:
        rest = [other for other in pins if other is not pin]
        assert plan_build(pinned(build, *rest), workshop).setups


def test_a_vise_that_does_not_open_far_enough_is_blamed_on_its_pin(
    shop: tuple[Build, Workshop],
) -> None:
    build, workshop = shop
    tiny = replace(workshop.vises[0], name="tiny vise", opening=2.0)
    workshop = replace(workshop, vises=(*workshop.vises, tiny))
    pin = Pin("vise", ("horn guide",), "tiny vise")
    with pytest.raises(ClashError, match="opens 2 mm") as told:
        plan_build(pinned(build, *HARMLESS, pin), workshop)
    assert told.value.clash.pins == (pin,)


def test_pins_across_parts_that_wait_for_each_other(shop: tuple[Build, Workshop]) -> None:
    build, workshop = shop
    there = Pin("before", ("rocker/right end", "keep plate/left end"))
    back = Pin("before", ("keep plate/right end", "rocker/left end"))
    harmless = Pin("before", ("rocker/left end", "axlebox/left end"))
    with pytest.raises(ClashError) as told:
        plan_build(pinned(build, harmless, there, back), workshop)
    assert set(told.value.clash.pins) == {there, back}


# -- as written ------------------------------------------------------------------------------------


def written(folder: Path, pins: str) -> list[tuple[int, int, str, str]]:
    """Line, column, fault and mend of every fault of the wagon with those pins before it."""
    for name in ("build.yaml", "workshop.yaml"):
        shutil.copy(SAMPLES / "wagon" / name, folder)
    path = folder / "build.yaml"
    path.write_text(pins + path.read_text())
    reading = read_build(folder, KINDS)
    faults = list(reading.faults)
    if reading.build is not None:
        faults += check_against(reading.build, sample("wagon")[1])
    return [(f.place.line, f.place.column, f.what, f.mend) for f in faults if f.grade == "error"]


@pytest.mark.parametrize(
    ("pins", "place", "what", "mend"),
    [
        ("  frist: [axlebox]", (2, 3), "'frist'", "did you mean 'first'?"),
        ("  first: [axlbox]", (2, 11), "'axlbox'", "did you mean 'axlebox'?"),
        ("  first: [axlebox/oil hol]", (2, 11), "'oil hol'", "did you mean 'oil hole'?"),
        ("  broken: [end mil 8]", (2, 12), "'end mil 8'", "did you mean 'end mill 8'?"),
        ("  up: {axlebox/oil hole: rigt}", (2, 26), "rigt", "did you mean 'right'?"),
        (
            "  vise: {axlebox: machine vice}",
            (2, 10),
            "machine vice",
            "did you mean 'machine vise'?",
        ),
        ("  together: [[axlebox/oil hole]]", (2, 14), "two or more", ""),
        ("  before: [[axlebox/oil hole]]", (2, 13), "too short", ""),
    ],
)
def test_a_pin_written_wrong(
    tmp_path: Path, pins: str, place: tuple[int, int], what: str, mend: str
) -> None:
    found = written(tmp_path, f"pins:\n{pins}\n")
    assert any(
        line == place[0] and abs(column - place[1]) <= 1 and what in said and mend in how
        for line, column, said, how in found
    ), found


def test_pins_written_right_are_read_with_their_places(tmp_path: Path) -> None:
    text = "pins:\n  first: [axlebox/oil hole]\n  before: [[rocker, keep plate]]\n"
    assert written(tmp_path, text) == []
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    assert [(p.rule, p.names, p.place.line if p.place else 0) for p in build.pins] == [
        ("first", ("axlebox/oil hole",), 2),
        ("before", ("rocker", "keep plate"), 3),
    ]


def test_a_step_there_is_not_is_told_with_its_place(tmp_path: Path) -> None:
    assert written(tmp_path, "pins:\n  first: [axlebox/oil hole/dril]\n") == []
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    with pytest.raises(PinError, match=r"build.yaml:2:11: .*did you mean 'axlebox/oil hole/drill'"):
        plan_build(build, sample("wagon")[1])
