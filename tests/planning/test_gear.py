"""All that a route names is the shop's own, or stands on its list of what to buy."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barstock.machines.dial import Dial
from barstock.planning.not_listed import touch_gauge, unlisted
from barstock.planning.plan import plan_build
from barstock.route import BodyKind, Route
from barstock.words.reader import Reader
from barstock.words.shopping import item
from barstock.workshop.shop import Axis, Instrument, Machine, MachineKind, ToolKind, Workshop

from .conftest import bought, only, sample

BY_HAND = {ToolKind.FILE, ToolKind.SAW_BLADE}


def _not_to_hand(route: Route, shop: Workshop) -> list[str]:
    """The things a route names that are neither owned nor to be bought."""
    tools = {t.name for t in shop.tools} | {f"{s.kind.value}" for s in shop.tools}
    instruments = {i.name for i in shop.instruments}
    blocks = [s for i in shop.instruments if i.kind == "gauge blocks" for s in i.sizes]
    pins = [s for i in shop.instruments if i.kind == "pins" for s in i.sizes]
    owned = {"gauge block": blocks, "parallel": shop.parallels, "pin": pins}
    buy, missing = " ".join(bought(route)), []
    for setup in route.setups:
        for o in setup.operations:
            named = o.cutter.name in tools or o.cutter.name in buy
            missing += [o.cutter.name] * (not named and o.cutter.kind not in BY_HAND)
            for c in o.checks:
                missing += [c.with_] * (bool(c.with_) and c.with_ not in instruments)
                missing += [f"block {s}" for s in (*c.stack_low, *c.stack_high) if s not in blocks]
        held = setup.holding
        if held.jaw_top and not held.of(BodyKind.BLOCK):
            missing += [f"parallel {p}" for p in held.parallels if p not in shop.parallels]
        zero = setup.zero_z
        if zero.find == "rest":
            good = zero.gauge in owned[zero.gauge_of] if zero.gauge_of else "gauge to touch" in buy
            missing += [f"gauge {zero.gauge}"] * (not good)
            in_use = zero.gauge_of == "parallel" and zero.gauge in held.parallels
            missing += ["gauge in use"] * in_use
        found = {setup.zero_x.find, setup.zero_y.find} - {"none"}
        finder = any(t.kind is ToolKind.EDGE_FINDER for t in shop.tools)
        missing += ["edge finder"] * (bool(found) and not finder and "edge finder" not in buy)
    return missing


@pytest.mark.parametrize(
    ("name", "parts"),
    [("wagon", ("axlebox", "keep plate")), ("bracket", ()), ("new", ())],
)
def test_all_that_a_route_names_is_owned_or_to_be_bought(name: str, parts: tuple[str, ...]) -> None:
    build, shop = sample(name)
    route = plan_build(only(build, *parts) if parts else build, shop, steps=150_000)
    assert not _not_to_hand(route, shop)


def test_a_shop_without_a_gauge_or_a_finder_is_told_to_get_them() -> None:
    build, shop = sample("wagon")
    route = plan_build(only(build, "axlebox"), shop, steps=150_000)
    poor = replace(shop, instruments=(), tools=())
    bare = tuple(
        s.model_copy(update={"zero_z": s.zero_z.model_copy(update={"gauge_of": ""})})
        for s in route.setups
    )
    told = " ".join(item(one, Reader()) for one in unlisted(bare, poor))
    rests = [s.id for s in bare if s.zero_z.find == "rest"]
    assert ("gauge to touch cutters on, 10 mm" in told) == bool(rests)
    assert "edge finder, for setup" in told
    # and a check that has no such thing is seen as lacking by the test above
    assert _not_to_hand(route, replace(shop, instruments=()))


MILL = Machine("mill", MachineKind.MILL, z=Axis(200, per_turn=2, divisions=100))


def test_the_gauge_is_one_that_is_free_and_can_be_dialled() -> None:
    _, shop = sample("wagon")
    shop = replace(shop, parallels=(8.0, 9.123, 12.0, 24.0), instruments=())
    assert touch_gauge(shop, (), Dial(MILL)) == (8.0, "parallel")
    assert touch_gauge(shop, (8.0,), Dial(MILL)) == (12.0, "parallel")
    assert touch_gauge(replace(shop, parallels=(24.0,)), (), Dial(MILL)) == (10.0, "")
    pins = Instrument("pins", "pins", sizes=(3.0, 9.5))
    assert touch_gauge(replace(shop, instruments=(pins,)), (8.0, 12.0), Dial(MILL)) == (9.5, "pin")
