"""Half-done work: what is done stays, the rest is planned, and the proof cuts the whole of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Pin
from barstock.errors import UnplannableError
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Route
from barstock.route.work_done import ALL, Standing, read_standing
from barstock.words.setup_titles import setup_title
from barstock.workshop.shop import Workshop

from .conftest import find, only, sample

Planned = tuple[Build, Workshop, Route]


@pytest.fixture(scope="module")
def planned() -> Planned:
    """Axlebox and horn guide of the wagon, planned."""
    build, shop = sample("wagon")
    build = only(build, "axlebox", "horn guide")
    return build, shop, plan_build(build, shop)


def first(route: Route, count: int) -> list[str]:
    """The first operations of a route."""
    return [o.id for s in route.setups for o in s.operations][:count]


def again(planned: Planned, done: dict[str, int], **spoiled: int) -> Route:
    """The rest planned."""
    build, shop, route = planned
    parts = {name.replace("_", " "): n for name, n in spoiled.items()}
    return plan_build(build, shop, resumed=(route, Standing(done, parts)))


def test_nothing_done_changes_nothing(planned: Planned) -> None:
    assert again(planned, {}).setups == planned[2].setups


@pytest.mark.parametrize("count", [2, 7, 12, 20])
def test_what_is_done_stays_as_it_was_done_and_the_whole_is_proved(
    planned: Planned, count: int
) -> None:
    build, _, route = planned
    done = first(route, count)
    rest = again(planned, dict.fromkeys(done, ALL))
    assert first(rest, count) == done
    for name in done:
        before, after = find(route, name), find(rest, name)
        assert after[1] == before[1]
        assert after[0].holding == before[0].holding
        assert after[0].minutes == 0
    every = first(route, 1000)
    assert sorted(first(rest, 1000)) == sorted(every)
    proof = prove(rest, build)
    assert proof.ok, [str(v) for v in proof.violations]
    assert rest.summary.hours < route.summary.hours
    assert rest.summary.bound_hours <= rest.summary.hours


def test_all_done_leaves_nothing(planned: Planned) -> None:
    rest = again(planned, dict.fromkeys(first(planned[2], 1000), ALL))
    assert rest.summary.hours == 0
    assert prove(rest, planned[0]).ok


def test_some_copies_left_take_their_share(planned: Planned) -> None:
    route = planned[2]
    done = dict.fromkeys(first(route, 6), ALL)
    last = first(route, 6)[-1]
    whole, some = again(planned, done), again(planned, done | {last: 1})
    setup, _ = find(some, last)
    assert "left to do on 3 of 4" in setup_title(setup)
    assert setup.minutes > 0
    assert some.summary.hours > whole.summary.hours


def test_a_spoiled_piece_is_cut_again(planned: Planned) -> None:
    build, _, route = planned
    done = dict.fromkeys(first(route, 12), ALL)
    none, one = again(planned, done), again(planned, done, axlebox=1)
    old, new = (next(b for b in r.bars if b.part == "axlebox") for r in (none, one))

    def pieces(count: int, each: int, last: int) -> int:
        return each * (count - 1) + (last or each)

    assert pieces(new.count, new.pieces, new.last_pieces) == 1 + pieces(
        old.count, old.pieces, old.last_pieces
    )
    assert (new.length, new.pieces) == (old.length, old.pieces)
    for name in done:
        if name.startswith("axlebox"):
            assert find(one, name)[0].minutes > 0, name
    assert one.summary.hours > none.summary.hours
    assert prove(one, build).ok


def test_it_can_be_planned_on_more_than_once(planned: Planned) -> None:
    build, shop, route = planned
    once = again(planned, dict.fromkeys(first(route, 5), ALL))
    more = dict.fromkeys(first(once, 9), ALL)
    twice = plan_build(build, shop, resumed=(once, Standing(more)))
    assert first(twice, 9) == first(once, 9)
    assert prove(twice, build).ok


def test_a_count_is_of_good_ones_even_where_spoiled_ones_were_made_again(planned: Planned) -> None:
    build, shop, route = planned
    begun = dict.fromkeys(first(route, 12), ALL)
    one = again(planned, begun, axlebox=1)
    counted = {n: find(one, n)[0].copies for n in begun if n.startswith("axlebox")}
    made = plan_build(build, shop, resumed=(one, Standing(begun | counted, {"axlebox": 1})))
    for name in counted:
        assert find(made, name)[0].minutes == 0, name


def test_pins_hold_for_the_rest(planned: Planned) -> None:
    build, shop, route = planned
    done = dict.fromkeys([n for n in first(route, 1000) if "saw" in n or "rebate" in n], ALL)
    build = replace(build, pins=(Pin("up", ("axlebox/axle bore",), "top"),))
    rest = plan_build(build, shop, resumed=(route, Standing(done)))
    assert find(rest, "axlebox/axle bore/ream")[0].holding.up == "top"


def test_done_before_what_it_needs_is_refused(planned: Planned) -> None:
    done = {"axlebox/saw/off": ALL, "axlebox/axle bore/ream": ALL}
    with pytest.raises(UnplannableError, match="cannot be done while axlebox/"):
        again(planned, done)


def test_pieces_want_their_bar_sawn(planned: Planned) -> None:
    with pytest.raises(UnplannableError, match="add 'axlebox/saw/off: all'"):
        again(planned, {"axlebox/left end/square": ALL})


def lengthened(planned: Planned) -> Planned:
    """The same with a horn guide drawn 8 mm longer after it was planned."""
    build, shop, route = planned
    parts = tuple(
        replace(p, length=replace(p.length, nominal=p.length.nominal + 8))
        if p.name == "horn guide"
        else p
        for p in build.parts
    )
    return replace(build, parts=parts), shop, route


def test_pieces_sawn_too_short_for_the_drawing_are_told_with_both_ways_out(
    planned: Planned,
) -> None:
    longer, copies = lengthened(planned), planned[0].part("horn guide").copies
    words = (
        rf"copies 1 to {copies} of 'horn guide' are sawn .* too short. Write the length .*, or .*"
        rf"'spoiled: {{horn guide: {copies}}}'"
    )
    with pytest.raises(UnplannableError, match=words):
        again(longer, {"horn guide/saw/off": ALL})


def test_pieces_too_short_that_are_spoiled_are_sawn_anew(planned: Planned) -> None:
    longer = lengthened(planned)
    part = longer[0].part("horn guide")
    route = again(longer, {"horn guide/saw/off": ALL}, horn_guide=part.copies)
    (each,) = [s.saws.each for s in route.setups if s.saws and s.operations[0].part == part.name]
    assert each >= part.length.nominal


# -- the file --------------------------------------------------------------------------------------


def test_the_file_as_a_table_a_list_and_json(planned: Planned, tmp_path: Path) -> None:
    route = planned[2]
    path = tmp_path / "done.yaml"
    path.write_text("done:\n  axlebox/saw/off: all\n  axlebox/left end/square: 3\n")
    found, faults = read_standing(path, route)
    assert faults == ()
    assert found.done == {"axlebox/saw/off": ALL, "axlebox/left end/square": 3}
    path.write_text("done: [axlebox/saw/off]\n")
    assert read_standing(path, route)[0].done == {"axlebox/saw/off": ALL}
    path.write_text('{"done": {"axlebox/saw/off": 1}, "spoiled": {"axlebox": 2}}')
    found, faults = read_standing(path, route)
    assert faults == ()
    assert (found.done, found.spoiled) == ({"axlebox/saw/off": 1}, {"axlebox": 2})


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("done:\n  axlebox/saw/of: all\n", (2, 3), "did you mean 'axlebox/saw/off'?"),
        ("done:\n  axlebox/saw/off: most\n", (2, 3), "whole number or 'all'"),
        ("spoilt:\n  axlebox: 1\n", (1, 1), "did you mean 'spoiled'?"),
        ("spoiled:\n  axlbox: 1\n", (2, 3), "did you mean 'axlebox'?"),
        ("done: [horn guid/saw/off]\n", (1, 8), "did you mean 'horn guide/saw/off'?"),
    ],
)
def test_faults_of_the_file(
    planned: Planned, tmp_path: Path, text: str, place: tuple[int, int], words: str
) -> None:
    path = tmp_path / "done.yaml"
    path.write_text(text)
    _, (fault,) = read_standing(path, planned[2])
    assert (fault.place.line, fault.place.column) == place
    assert words in f"{fault.what}; {fault.mend}"
