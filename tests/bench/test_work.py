"""What the log's lines add up to: ticks, what is left, what could be done, what was timed."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from barstock.bench.changes import changes
from barstock.bench.entry import Entry, Kind
from barstock.bench.first_off import advise, fed_axis, judge, making_of, plausible
from barstock.bench.handing_on import as_made, standing, standing_text
from barstock.bench.progress import machines, next_up, progress
from barstock.bench.timing import CUTTING, SETTING_UP, stopped
from barstock.bench.work import undone, work_of
from barstock.drawing.build import Pin
from barstock.drawing.build_reading import read_build
from barstock.measuring.closing_in import Act, Cut
from barstock.measuring.feed_effect import BORED, DEPTH, WIDTH_TWO_WALLS, Making
from barstock.methods import KINDS
from barstock.pack.compose import compose
from barstock.planning.plan import plan_build
from barstock.quantities import Unit
from barstock.reading.faults import Place
from barstock.route import Cutter as RouteCutter
from barstock.route import Does, Expect, Operation, Plunge, Process, Setup
from barstock.route.work_done import read_standing
from barstock.words.lines import Run
from barstock.words.operation_lines import lines
from barstock.words.reader import reader
from barstock.words.setup_titles import setup_title
from barstock.workshop.shop import Axis, Machine, MachineKind, ToolKind

from .conftest import SMALL, Planned

STAND = SMALL.parents[1] / "joining" / "small"
"""A build with a fabrication."""
NOON = datetime(2031, 5, 4, 12, 0, tzinfo=UTC)


def ticks(setup: Setup, *copies: int, at: datetime = NOON) -> list[Entry]:
    """All operations of a setup ticked on some copies."""
    return [
        Entry(kind=Kind.TICK, setup=setup.id, operation=o.id, work=setup.work, nth=n, at=at)
        for n in copies
        for o in setup.operations
    ]


def by_kind(fork: Planned, kind: MachineKind, stage: str) -> Setup:
    return next(s for s in fork[2].setups if s.machine_kind is kind and s.stage == stage)


def check_of(fork: Planned, name: str) -> tuple[Setup, Operation, Expect]:
    return next(
        (s, o, c) for s in fork[2].setups for o in s.operations for c in o.checks if c.name == name
    )


# -- what stands -----------------------------------------------------------------------------------


def test_a_copy_ticked_on_two_devices_is_taken_back_when_both_ticks_are() -> None:
    one, two = (Entry(kind=Kind.TICK, operation="a", work="w", nth=1, device=d) for d in "xy")
    back = Entry(kind=Kind.UNDO, undoes=one.id)
    assert work_of([one, two, back]).copies("a") == {1}
    also = Entry(kind=Kind.UNDO, undoes=two.id)
    assert work_of([one, two, back, also]).copies("a") == frozenset()
    assert undone([one, two, back, also]) == {one.id, two.id}


def test_a_spoiled_copy_is_to_be_made_again_and_its_sizes_are_gone(fork: Planned) -> None:
    setup, operation, check = check_of(fork, "pivot/bore")
    size = Entry(
        kind=Kind.SIZE, work="fork", nth=2, dimension=check.name, reading=4.005,
        operation=operation.id,
    )  # fmt: skip
    other = size.model_copy(update={"id": "other", "nth": 1, "reading": 4.001})
    spoiled = Entry(kind=Kind.SPOILED, work="fork", nth=2)
    before = [*ticks(setup, 1, 2), size, other]
    work = work_of([*before, spoiled])
    assert work.copies(operation.id) == {1}
    assert as_made(work) == {"fork": {1: {"pivot/bore": 4.001}}}
    assert work.spoiled_of("fork") == 1
    again = work_of([*before, spoiled, *ticks(setup, 2)])
    assert again.copies(operation.id) == {1, 2}
    kept = work_of([*before, spoiled, Entry(kind=Kind.UNDO, undoes=spoiled.id)])
    assert kept.copies(operation.id) == {1, 2}
    assert set(as_made(kept)["fork"]) == {1, 2}


def test_the_ticks_are_what_planning_on_reads(fork: Planned, tmp_path_factory) -> None:  # type: ignore[no-untyped-def]
    build, shop, route = fork
    bar, saw = route.setups[0], by_kind(fork, MachineKind.SAW, "bar")
    left = next(s for s in route.setups if s.stage == "piece")
    work = work_of([*ticks(bar, 1), *ticks(saw, 1), *ticks(left, 1, 3)])
    found = standing(work, route)
    assert found.done == {"fork/slot/mill": 1, "fork/saw/off": 1, "fork/left end/square": 2}
    path = tmp_path_factory.mktemp("done") / "done.json"
    path.write_text(standing_text(found))
    read, faults = read_standing(path, route)
    assert (read.done, read.spoiled, faults) == (found.done, found.spoiled, ())
    rest = plan_build(build, shop, steps=150_000, resumed=(route, read))
    kept = {o.id: s for s in rest.setups for o in s.operations}
    assert "left to do on 1 of 3" in setup_title(kept["fork/left end/square"])
    assert kept["fork/slot/mill"].minutes == 0


# -- what is left ----------------------------------------------------------------------------------


def test_nothing_done_leaves_the_route_s_minutes(fork: Planned) -> None:
    _, shop, route = fork
    lefts = progress(route, work_of([]), shop.times)
    assert sum(left.minutes for left in lefts) == pytest.approx(
        sum(s.minutes for s in route.setups)
    )
    assert lefts[0].waits_for is None
    assert all(left.waits_for is route.setups[0] for left in lefts[1:])


def test_a_finished_setup_frees_the_next_of_its_part(fork: Planned) -> None:
    _, shop, route = fork
    lefts = progress(route, work_of(ticks(route.setups[0], 1)), shop.times)
    assert lefts[0].finished
    assert lefts[0].minutes == 0
    assert lefts[1].waits_for is None
    assert lefts[2].waits_for is route.setups[1]


def test_copies_done_take_their_share_of_the_cutting_and_all_of_the_setting_up(
    fork: Planned,
) -> None:
    _, shop, route = fork
    squared = next(s for s in route.setups if s.stage == "piece")
    before = [e for s in route.setups[:2] for e in ticks(s, 1)]
    left = next(
        one
        for one in progress(route, work_of([*before, *ticks(squared, 2)]), shop.times)
        if one.setup is squared
    )
    start = shop.times.set_up + shop.times.find_zero
    assert left.minutes == pytest.approx((squared.minutes - start) * 2 / 3)
    assert (left.done, left.begun, left.finished) == (1, True, False)


def test_what_stands_in_the_machine_comes_first(fork: Planned) -> None:
    _, shop, route = fork
    squared = next(s for s in route.setups if s.stage == "piece")
    lines = [*[e for s in route.setups[:2] for e in ticks(s, 1)], *ticks(squared, 1)]
    lefts = progress(route, work_of(lines), shop.times)
    standing_on = machines(route, lines)
    assert standing_on["bench mill"] is squared
    (could,) = next_up(lefts, standing_on, shop.times, 30)
    assert (could.left.setup.id, could.copies, could.held) == (squared.id, 2, "in hand")
    each = (squared.minutes - shop.times.set_up - shop.times.find_zero) / 3
    assert could.minutes == pytest.approx(2 * each)
    (one,) = next_up(lefts, standing_on, shop.times, each * 1.5)
    assert one.copies == 1
    assert next_up(lefts, standing_on, shop.times, each * 0.9) == []


# -- sizes -----------------------------------------------------------------------------------------


def test_sizes_are_judged_by_the_limits(fork: Planned) -> None:
    check = check_of(fork, "slot/width")[2]  # 8 ±0.05
    assert judge(check, 7.95).verdict == "within"
    assert judge(check, 8.05).verdict == "within"
    assert judge(check, 8.06).verdict == "above"
    assert judge(check, 8.06).past == pytest.approx(0.01)
    assert judge(check, 7.9).past == pytest.approx(0.05)
    closer = check.model_copy(update={"hold_low": 7.97, "hold_high": 8.03})
    assert judge(closer, 8.03).verdict == "within"
    assert judge(closer, 8.04).verdict == "loose"
    assert judge(closer, 8.04).past == pytest.approx(0.01)
    assert judge(closer, 8.06).verdict == "above"
    assert plausible(check, 7.2)
    assert not plausible(check, 80.1)
    assert not plausible(check, 0.315)  # inches entered where millimetres are asked


@pytest.mark.parametrize(
    ("name", "making"),
    [("slot/width", WIDTH_TWO_WALLS), ("slot/depth", DEPTH), ("pivot/bore", None)],
)
def test_how_a_dimension_answers_to_feed(fork: Planned, name: str, making: Making | None) -> None:
    """No feed mends what is as wide as its reamer; a boring head would."""
    _, operation, check = check_of(fork, name)
    assert making_of(fork[0], "fork", operation, check, KINDS) == making
    head = operation.cutter.model_copy(update={"kind": ToolKind.BORING_HEAD})
    bored = operation.model_copy(update={"cutter": head})
    assert making_of(fork[0], "fork", bored, check, KINDS) == (making or BORED)


def test_an_axis_that_cannot_be_read_is_not_fed_by_figures(fork: Planned) -> None:
    by_kind = {m.kind: m for m in fork[1].machines}
    mill = by_kind[MachineKind.MILL]
    assert fed_axis(DEPTH, mill) == mill.z
    assert fed_axis(WIDTH_TWO_WALLS, mill) == mill.x
    assert fed_axis(DEPTH, by_kind[MachineKind.DRILL_PRESS]) is None
    assert fed_axis(DEPTH, None) is None


def test_closing_in_on_a_slot_s_width_feeds_each_wall(fork: Planned) -> None:
    """8 ±0.05 from 7.8: 0.2 is left, 0.1 on each wall; half of it is fed first."""
    setup, _, check = check_of(fork, "slot/width")
    machine = next(m for m in fork[1].machines if m.name == setup.machine)
    axis = fed_axis(WIDTH_TWO_WALLS, machine)
    assert axis is not None
    cuts = [Cut(0.0, 7.8)]
    first = advise(check, WIDTH_TWO_WALLS, setup, axis, cuts, toward=1, unit=Unit.MM)
    assert (first.act, first.feed) == (Act.FINISH, pytest.approx(0.05))
    cuts.append(Cut(first.reading, 7.9))
    then = advise(check, WIDTH_TWO_WALLS, setup, axis, cuts, toward=1, unit=Unit.MM)
    assert then.expect == pytest.approx(8.0)


# -- clocks ----------------------------------------------------------------------------------------


def test_a_clock_is_held_against_what_was_ticked_while_it_ran(fork: Planned) -> None:
    _, shop, route = fork
    squared = next(s for s in route.setups if s.stage == "piece")
    start = Entry(kind=Kind.START, at=NOON, setup=squared.id, figure=CUTTING, device="tablet")
    early = ticks(squared, 1, at=NOON - timedelta(minutes=1))
    lines = [*early, *ticks(squared, 2, 3, at=NOON + timedelta(minutes=5))]
    end = stopped(start, route, lines, shop.times, NOON + timedelta(minutes=12))
    assert end.minutes == 12
    cutting = squared.minutes - shop.times.set_up - shop.times.find_zero
    assert end.planned == pytest.approx(cutting * 2 / 3, abs=0.01)
    assert (end.kind, end.device, end.figure) == (Kind.STOP, "tablet", CUTTING)


def test_setting_up_is_held_against_the_shop_s_figures(fork: Planned) -> None:
    _, shop, route = fork
    squared = next(s for s in route.setups if s.stage == "piece")
    start = Entry(kind=Kind.START, at=NOON, setup=squared.id, figure=SETTING_UP)
    end = stopped(start, route, [], shop.times, NOON + timedelta(minutes=20))
    assert end.planned == shop.times.set_up + shop.times.find_zero


@pytest.mark.parametrize("minutes", [10, 13 * 60])
def test_a_clock_over_nothing_or_forgotten_teaches_nothing(fork: Planned, minutes: int) -> None:
    _, shop, route = fork
    squared = next(s for s in route.setups if s.stage == "piece")
    start = Entry(kind=Kind.START, at=NOON, setup=squared.id, figure=CUTTING)
    lines = ticks(squared, 1, at=NOON + timedelta(minutes=1)) if minutes > 600 else []
    end = stopped(start, route, lines, shop.times, NOON + timedelta(minutes=minutes))
    assert end.planned is None


# -- changes ---------------------------------------------------------------------------------------


def test_what_a_changed_drawing_touches(fork: Planned, tmp_path) -> None:  # type: ignore[no-untyped-def]
    build, _, route = fork
    text = (SMALL / "build.yaml").read_text()
    assert changes(build, build, route, work_of([])) == []
    moved = "# a line more\n" + text.replace("diameter: 4 H7", "diameter: 5 H7")
    (tmp_path / "build.yaml").write_text(moved.replace("copies: 3", "copies: 5"))
    now = read_build(tmp_path, KINDS).build
    assert now is not None
    done = work_of(ticks(check_of(fork, "pivot/bore")[0], 1))
    found = {c.what: c for c in changes(build, now, route, done)}
    assert set(found) == {"5 wanted instead of 3", "pivot: changed"}
    touched = {f"fork/pivot/{step}" for step in ("spot", "drill", "ream")}
    assert set(found["pivot: changed"].operations) == touched
    assert set(found["pivot: changed"].done) == touched


def test_a_fabrication_and_a_pin_written_elsewhere_are_no_change(
    fork: Planned, tmp_path: Path
) -> None:
    """The same words in another file, a line lower."""
    found = []
    for place, above in (("was", ""), ("now", "# a line more\n")):
        (tmp_path / place).mkdir()
        text = (STAND / "build.yaml").read_text("utf-8")
        (tmp_path / place / "build.yaml").write_text(above + text, encoding="utf-8")
        build = read_build(tmp_path / place, KINDS).build
        assert build is not None
        pins = (Pin("together", ("a", "b"), place=Place(place, len(found), 1)),)
        found.append(replace(build, pins=pins))
    was, now = found
    assert was.fabrications
    assert changes(was, now, fork[2], work_of([])) == []
    wider = replace(now.pins[0], names=("a", "c"))
    (change,) = changes(was, replace(now, pins=(wider,)), fork[2], work_of([]))
    assert change.what == "the pins"


# -- the other unit --------------------------------------------------------------------------------


def figures(value: tuple[Run, ...]) -> str:
    return " ".join(run.text for run in value)


def test_a_readout_reads_the_same_places_in_inches(fork: Planned) -> None:
    build, shop, route = fork
    drawn, inches = (compose(route, build, shop, {}, {}, unit=unit) for unit in (None, Unit.INCH))
    seen = 0
    for page, other in zip(drawn.setups, inches.setups, strict=True):
        for one, two in zip(page.passes, other.passes, strict=True):
            for box, turned in zip(one.operations, two.operations, strict=True):
                for line, shown in zip(box.lines, turned.lines, strict=True):
                    if "X" not in line.axes:
                        continue
                    mm, inch = (figures(x.axes["X"].values[0]) for x in (line, shown))
                    mm, inch = (text.replace("−", "-") for text in (mm, inch))
                    assert float(inch) == pytest.approx(float(mm) / 25.4, abs=0.0001)
                    seen += 1
    assert seen > 3
    assert compose(route, build, shop, {}, {}, unit=Unit.MM) == drawn


def test_a_depth_below_the_touch_keeps_its_words() -> None:
    """1 mm is 0.0394 in; it is a distance, so it has no sign."""
    mill = Machine("mill", MachineKind.MILL, z=Axis(100, readout=0.005))
    sink = Operation(
        id="sink",
        does=Process.COUNTERSINK,
        features=("hole",),
        cutter=RouteCutter(name="countersink", kind=ToolKind.COUNTERSINK, diameter=10),
        moves=(Plunge(does=Does.COUNTERSINK, x=0, y=0, z=-1.0, touch=True),),
    )
    (told,) = lines(sink, reader(mill, Unit.MM, Unit.INCH))
    assert figures(told.axes["Z"].values[0]).startswith("0.0394 in below the touch")
