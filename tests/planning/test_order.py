"""The order of work: what must come first does, every copy is made, the proof agrees."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barstock.drawing.build import Build
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.quantities import Unit
from barstock.route import Plunge, Route, Traverse
from barstock.stocking.bar_choice import NoBarError
from barstock.words.operation_lines import lines
from barstock.words.reader import Reader
from barstock.words.reasons import whys
from barstock.workshop.shop import MachineKind, ToolKind, Workshop

from .conftest import bought, dialled, find, only, sample

Planned = tuple[Build, Workshop, Route]


def _place(route: Route) -> dict[str, int]:
    names = [o.id for s in route.setups for o in s.operations]
    return {name: n for n, name in enumerate(names)}


def test_the_wagon_is_large_enough_to_mean_something(wagon: Planned) -> None:
    build = wagon[0]
    assert len(build.parts) >= 6
    assert sum(p.copies for p in build.parts) >= 24
    assert {p.material for p in build.parts} >= {"brass", "phosphor bronze", "mild steel"}


@pytest.mark.parametrize("name", ["wagon", "bracket", "new"])
def test_every_sample_is_proved(name: str) -> None:
    build, shop = sample(name)
    proof = prove(plan_build(build, shop), build)
    assert [str(v) for v in proof.violations if v.severity == "error"] == []
    assert proof.ok


def test_holes_are_spotted_drilled_and_finished_in_that_order(wagon: Planned) -> None:
    at = _place(wagon[2])
    for chain in (
        ("axlebox/axle bore/spot", "axlebox/axle bore/drill", "axlebox/axle bore/ream"),
        ("horn guide/keep screw/spot", "horn guide/keep screw/drill", "horn guide/keep screw/tap"),
    ):
        assert [at[c] for c in chain] == sorted(at[c] for c in chain)


def test_the_datum_end_comes_before_what_is_measured_from_it(wagon: Planned) -> None:
    at = _place(wagon[2])
    for part in (part for part in wagon[0].parts if part.joined is None):
        first = at[f"{part.name}/left end/square"]
        assert at[f"{part.name}/saw/off"] < first < at[f"{part.name}/right end/square"]
        holes = [n for name, n in at.items() if name.startswith(part.name) and "spot" in name]
        assert all(first < n for n in holes)


def test_all_steps_of_a_hole_are_made_from_one_side(wagon: Planned, bracket: Planned) -> None:
    for route in (wagon[2], bracket[2]):
        ups: dict[tuple[str, str], set[str]] = {}
        for setup in route.setups:
            for o in setup.operations:
                if o.cutter.kind in (ToolKind.SPOT_DRILL, ToolKind.DRILL, ToolKind.REAMER):
                    ups.setdefault((setup.work, o.features[0]), set()).add(setup.holding.up)
        assert all(len(faces) == 1 for faces in ups.values())


def test_every_operation_says_why_it_is_where_it_is(wagon: Planned) -> None:
    _, ream = find(wagon[2], "axlebox/axle bore/ream")
    assert any("drill" in why for why in whys(ream.why, Reader(), {}))


def test_a_part_for_which_there_is_no_bar_is_named(wagon: Planned) -> None:
    build, shop = sample("wagon")
    with pytest.raises(NoBarError, match=r"no phosphor bronze bar holds 28 x 22 mm"):
        plan_build(
            only(build, "axlebox"),
            replace(shop, rack=tuple(b for b in shop.rack if b.material != "phosphor bronze")),
        )


def test_a_vise_that_does_not_open_far_enough_is_named(wagon: Planned) -> None:
    build, shop = sample("wagon")
    narrow = tuple(replace(v, opening=9.0) for v in shop.vises)
    with pytest.raises(UnplannableError, match=r"no vise opens .* mm for 'axlebox'"):
        plan_build(only(build, "axlebox"), replace(shop, vises=narrow))


def test_a_tool_the_shop_lacks_goes_on_the_list_to_buy() -> None:
    build, shop = sample("wagon")
    few = tuple(t for t in shop.tools if t.kind is not ToolKind.REAMER)
    route = plan_build(only(build, "axlebox"), replace(shop, tools=few))
    assert "reamer 10" in bought(route)


def test_the_same_build_gives_the_same_route() -> None:
    build, shop = sample("bracket")
    assert plan_build(build, shop) == plan_build(build, shop)


def test_a_plan_is_quicker_than_the_two_plain_orders(wagon: Planned) -> None:
    summary = wagon[2].summary
    assert summary.hours < summary.one_part_at_a_time_hours
    assert summary.hours < summary.one_tool_at_a_time_hours


def test_a_milled_outline_is_refused_with_what_to_do() -> None:
    build, shop = sample("wagon")
    part = next(p for p in build.parts if p.name == "brake hanger bracket")
    features = tuple(
        replace(f, spec=replace(f.spec, finish="milled")) if f.kind == "outline" else f
        for f in part.features
    )
    milled = replace(build, parts=(replace(part, features=features),))
    with pytest.raises(UnplannableError, match=r"shape: an outline is milled .* 'finish: filed'"):
        plan_build(milled, shop)


def test_what_is_printed_is_what_is_proven(wagon: Planned, bracket: Planned) -> None:
    """Every hole's printed X, Y and Z are its moves as the machine's dials show them."""
    for _, shop, route in (wagon, bracket):
        machine = shop.machine(MachineKind.MILL)
        assert machine is not None
        reader = Reader(Unit.MM, machine)

        def shown(axis: str, value: float, by: Reader = reader) -> str:
            return " ".join(run.text for run in by.place(axis, value))

        seen = 0
        for setup in route.setups:
            for operation in setup.operations:
                plunges = [m for m in operation.moves if isinstance(m, Plunge)]
                printed = [dialled(line) for line in lines(operation, reader)]
                for move, at in zip(plunges, printed, strict=False):
                    assert at["X"] == shown("X", move.x)
                    assert at["Y"] == shown("Y", move.y)
                    if not move.touch:
                        assert at["Z"].startswith(shown("Z", move.z))
                    seen += 1
                for line in operation.moves:
                    if isinstance(line, Traverse):
                        assert shown("Z", line.z) in " ".join(at.get("Z", "") for at in printed)
                        seen += 1
        assert seen > 20
