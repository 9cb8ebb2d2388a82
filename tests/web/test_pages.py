"""What is entered on the pages, and what they then show."""

from __future__ import annotations

import json
import re
import sqlite3
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import sqrt
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from barstock.bench.entry import Entry, Kind
from barstock.bench.log import build_log
from barstock.web.bench_state import BenchSnapshot
from barstock.web.cards import cards
from barstock.web.long_work import LongWork
from barstock.web.page_words import say
from barstock.web.pairing import FRESH
from barstock.web.rendering import UNIT_COOKIE
from barstock.words.lines import Line, Reading, value
from barstock.words.operation_lines import lines

from .conftest import Bench


def card_number(bench: Bench, operation: str, sort: str) -> tuple[str, int]:
    """The setup of an operation and the number of its card of that sort."""
    name = bench.setup_with(operation)
    plan = bench.state.plan
    setup, page = plan.setup(name), plan.page(name, "as drawn")
    number = next(n for n, o in enumerate(setup.operations, 1) if o.id == operation)
    for card in cards(page, setup):
        here = card.box and card.box.number == number
        loaded = card.ticks and operation in card.ticks.ids
        if card.sort == sort and (here or loaded):
            return name, card.number
    raise AssertionError(f"{operation} has no card {sort}")


# -- ticks -----------------------------------------------------------------------------------------


def test_a_copy_is_ticked_and_taken_back(bench: Bench) -> None:
    name, number = card_number(bench, "fork/pivot/drill", "copies")
    path = f"/setup/{name}/{number}/tick"
    shown = bench.post(path, nth=2, done="yes")
    assert "Saved at" in shown
    assert bench.state.log_state.work.copies("fork/pivot/drill") == {2}
    assert len(re.findall('aria-pressed="true"', shown)) == 1
    bench.post(path, nth=2, done="yes")  # again, from a page that had not seen it
    assert len(bench.state.log_state.lines) == len(bench.state.log_state.standing)
    shown = bench.post(path, nth=2, done="no")
    assert "Taken back" in shown
    assert bench.state.log_state.work.copies("fork/pivot/drill") == frozenset()


def test_a_tick_is_of_every_operation_of_its_loading(bench: Bench) -> None:
    name = bench.setup_with("fork/pivot/drill")
    for ids in bench.state.plan.setup(name).passes:
        _, number = card_number(bench, ids[0], "copies")
        bench.post(f"/setup/{name}/{number}/tick", nth=1)
        assert all(bench.state.log_state.work.has(i, 1) for i in ids)


def test_without_script_a_tick_leads_back_to_the_card(bench: Bench) -> None:
    answer = bench.client.post("/setup/1/1/tick", data={"nth": 1})
    assert answer.status_code == 404  # the first card has no copies
    name, number = card_number(bench, "fork/saw/off", "copies")
    answer = bench.client.post(f"/setup/{name}/{number}/tick", data={"nth": 1})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/setup/{name}/{number}")
    for nth in (0, 2, -1):
        answer = bench.client.post(f"/setup/{name}/{number}/tick", data={"nth": nth})
        assert answer.status_code == 404, nth


def test_a_begun_setup_opens_where_the_work_goes_on(bench: Bench) -> None:
    name = bench.setup_with("fork/pivot/drill")
    assert bench.client.get(f"/setup/{name}").headers["location"] == f"/setup/{name}/1"
    _, first = card_number(bench, "fork/pivot/spot", "copies")
    bench.post(f"/setup/{name}/{first}/tick", nth=1)
    assert bench.client.get(f"/setup/{name}").headers["location"] == f"/setup/{name}/{first}"
    for nth in (2, 3):
        bench.post(f"/setup/{name}/{first}/tick", nth=nth)
    onto = bench.client.get(f"/setup/{name}").headers["location"]
    assert onto == f"/setup/{name}/{first + 1}"


def test_every_card_is_there_and_leads_on(bench: Bench) -> None:
    seen, path = [], "/setup/1"
    while path != "/" and len(seen) < 300:
        answer = bench.client.get(path)
        if answer.status_code == 303:
            path = answer.headers["location"]
            continue
        assert answer.status_code == 200, path
        seen.append(path)
        path = re.search(r'rel="next" class="deed" href="([^"]+)"', answer.text)[1]  # type: ignore[index]
    setups = {s.id for s in bench.state.plan.route.setups}
    assert {p.split("/")[2] for p in seen} == setups


def test_what_a_card_says_is_what_the_route_says(bench: Bench) -> None:
    """Every reading of the route stands on some card, with a true minus sign."""
    for setup in bench.state.plan.route.setups:
        page = bench.state.plan.page(setup.id, "as drawn")
        told = "".join(
            bench.client.get(f"/setup/{setup.id}/{card.number}").text for card in cards(page, setup)
        )
        read = bench.state.plan.reader(setup)
        for operation in setup.operations:
            for line in lines(operation, read):
                for reading in line.axes.values():
                    for figure in (run.text for shown in reading.values for run in shown):
                        assert figure in told, (setup.id, figure)


def test_what_is_set_by_a_number_has_a_card_of_its_own(bench: Bench) -> None:
    setup = bench.state.plan.route.setups[0]
    ends = Reading("ends", "", (value("156.5", "mm"),))
    told = (Line("Clamp the stop"), Line("Clamp the fence", other=(ends,)), Line("Try both"))
    page = replace(bench.state.plan.page(setup.id, "as drawn"), steps=told)
    found = cards(page, setup)
    assert [c.line.words for c in found if c.sort == "set" and c.line] == [
        "Clamp the fence",
        "Try both",
    ]
    assert [c.sort for c in found[:4]] == ["hold", "set", "set", "zero"]


def test_a_device_reads_in_the_unit_it_is_switched_to(bench: Bench) -> None:
    name, number = card_number(bench, "fork/right end/square", "dial")
    drawn = bench.client.get(f"/setup/{name}/{number}").text
    answer = bench.client.post("/unit", data={"unit": "inch", "back": f"/setup/{name}/{number}"})
    assert answer.headers["location"] == f"/setup/{name}/{number}"
    assert bench.client.cookies[UNIT_COOKIE] == "inch"
    inches = bench.client.get(f"/setup/{name}/{number}").text

    def readings(text: str) -> list[float]:
        found = re.findall(r'class="value[^"]*">\s*([+−]\d+\.\d+)', text)
        return [float(f.replace("−", "-")) for f in found]

    assert len(readings(drawn)) >= 3
    assert "Readings in millimetres" in drawn
    assert "Readings in inches" in inches
    assert readings(inches) == pytest.approx([mm / 25.4 for mm in readings(drawn)], abs=0.0001)
    elsewhere = bench.client.post("/unit", data={"unit": "mm", "back": "//evil.example"})
    assert elsewhere.headers["location"] == "/"


# -- sizes -----------------------------------------------------------------------------------------


def enter(bench: Bench, operation: str, **form: object) -> tuple[int, str]:
    name, number = card_number(bench, operation, "measure")
    form = {"index": 0, "nth": 1, "instrument": "caliper"} | form
    answer = bench.client.post(
        f"/setup/{name}/{number}/size", data=form, headers={"HX-Request": "true"}
    )
    return answer.status_code, answer.text


def test_a_size_is_entered_and_judged(bench: Bench) -> None:
    status, text = enter(bench, "fork/slot/mill", reading="8.06")
    assert status == 200
    assert "0.01 mm above the high limit" in text
    status, text = enter(bench, "fork/slot/mill", reading="0.315 in")
    assert "✓ within limits" in text
    sizes = bench.state.log_state.work.sizes
    assert [e.reading for e in sizes] == pytest.approx([8.06, 0.315 * 25.4])
    assert (sizes[0].dimension, sizes[0].instrument, sizes[0].nth) == ("slot/width", "caliper", 1)
    part = bench.client.get("/parts/1").text
    assert "slot: width" not in part  # it was measured on the bar, not on a piece
    setup = bench.state.plan.setup(bench.setup_with("fork/pivot/ream"))
    ream = next(o for o in setup.operations if o.id == "fork/pivot/ream")
    bore = next(n for n, check in enumerate(ream.checks) if check.name == "pivot/bore")
    enter(bench, "fork/pivot/ream", reading="4.005", nth=3, index=bore)
    assert "4.005 mm" in bench.client.get("/parts/1").text


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ("", "Write what was read."),
        ("eight", "&#39;eight&#39; is no length"),
        ("8,05", "has a comma"),
        ("80.5", "80.5 mm is far from 8 mm"),
        ("<b>", "&#39;&lt;b&gt;&#39; is no length"),
    ],
)
def test_a_wrong_size_is_told_beside_the_field_and_nothing_is_lost(
    bench: Bench, reading: str, says: str
) -> None:
    status, text = enter(bench, "fork/slot/mill", reading=reading)
    assert status == 422
    assert says in text
    assert 'aria-invalid="true" aria-describedby="w0"' in text
    if reading.isascii() and "<" not in reading:
        assert f'value="{reading}"' in text
    assert bench.state.log_state.lines == ()


def test_closing_in_says_the_next_cut(bench: Bench) -> None:
    """8 ±0.05 from 7.8: half of the 0.1 left on each wall."""
    name, number = card_number(bench, "fork/slot/mill", "measure")
    ask = {"index": 0, "reading": ["0"], "measured": ["7.8"], "spring": [""], "toward": 1}
    path = f"/setup/{name}/{number}/close"
    answer = bench.client.get(path, params=ask, headers={"HX-Request": "true"})
    assert "Each wall: feed 0.050 mm, to +0.050; expect 7.9 mm" in answer.text
    assert answer.text.count('name="measured"') == 2  # the cut entered, and room for the next
    none = bench.client.get(path, params={"index": 0}, headers={"HX-Request": "true"})
    assert "Enter at least one cut" in none.text
    wrong = ask | {"measured": ["?"]}
    answer = bench.client.get(path, params=wrong, headers={"HX-Request": "true"})
    assert "is no length" in answer.text
    assert bench.state.log_state.lines == ()


# -- the build -------------------------------------------------------------------------------------


def test_the_build_at_a_glance(bench: Bench) -> None:
    text = bench.client.get("/?minutes=240").text
    assert "Fork" in text
    for setup in bench.state.plan.route.setups:
        assert f'href="/setup/{setup.id}"' in text
    assert text.count("waits for setup 1") == len(bench.state.plan.route.setups) - 1
    for other in ("-3", "0", "99999999"):
        assert bench.client.get(f"/?minutes={other}").status_code == 200
    assert bench.client.get("/?minutes=soon").status_code == 404


def do(bench: Bench, *setups: str) -> None:
    """Tick everything of some setups."""
    for name in setups:
        setup = bench.state.plan.setup(name)
        bench.state.write(
            *(
                Entry(kind=Kind.TICK, setup=name, operation=o.id, work=setup.work, nth=n)
                for o in setup.operations
                for n in range(1, setup.copies + 1)
            )
        )


def replanned(bench: Bench) -> str:
    """Ask for it and wait; what the page says in the end."""
    assert "Planning anew" in bench.post("/replan")
    while "Planning anew" in (text := bench.client.get("/now").text):
        time.sleep(0.1)
    return text


def test_a_changed_drawing_shows_what_it_touches_and_what_is_cut_stays_cut(bench: Bench) -> None:
    begun = bench.state.plan.route.setups[:2]
    do(bench, *(s.id for s in begun))
    assert "not as it was planned" not in bench.client.get("/").text
    written = bench.state.folder / "build.yaml"
    text = written.read_text().replace("diameter: 4 H7", "diameter: 4.2")
    written.write_text(text.replace("        finish: reamed\n", ""))
    text = bench.client.get("/").text
    assert "not as it was planned" in text
    assert "pivot: changed" in text
    assert "made by 3 operations, of which copies have 0" in text
    text = replanned(bench)
    assert "not as it was planned" not in text
    after = bench.state.plan.route
    before = {o.id: (s.holding, o.moves) for s in begun for o in s.operations}
    now = {o.id: (s.holding, o.moves) for s in after.setups for o in s.operations}
    assert {name: now[name] for name in before} == before
    assert "fork/pivot/ream" not in now
    assert bench.state.log_state.lines[-1].kind is Kind.PLANNED
    assert BenchSnapshot(bench.state).lefts[0].finished


def test_a_workshop_shared_by_builds_is_watched_too(bench: Bench) -> None:
    folder = bench.state.folder
    shared = (folder / "workshop.yaml").rename(folder.parent / "shop.yaml")
    written = folder / "build.yaml"
    written.write_text(f"workshop: ../shop.yaml\n{written.read_text()}")
    assert "not as it was planned" not in bench.client.get("/").text
    shared.write_text(shared.read_text().replace("kerf: 1.2", "kerf: 1.5"))
    assert "not as it was planned" in bench.client.get("/").text


def test_a_mistake_in_long_work_is_said() -> None:
    long_work = LongWork()
    long_work.start(sqrt)  # of something that is no number
    while long_work.state.running:
        time.sleep(0.1)
    assert long_work.state.failed[0] == say("broken")
    assert long_work.state.failed[1].startswith("TypeError: ")


def test_planning_anew_is_stopped_and_nothing_changes(bench: Bench) -> None:
    route = bench.state.plan.route
    written = bench.state.folder / "build.yaml"
    written.write_text(written.read_text().replace("depth: 8", "depth: 7.5"))
    bench.post("/replan")
    assert "topping" in bench.post("/long-work/plan/stop")
    bench.wait_for("plan")
    assert bench.state.plan.route == route
    assert bench.state.log_state.lines == ()
    text = bench.client.get("/now").text
    assert "not as it was planned" in text
    assert "could not be planned" not in text
    assert {p.name for p in bench.state.folder.glob(".out-*")} == set()


def test_what_cannot_be_planned_anew_is_said_and_nothing_changes(bench: Bench) -> None:
    do(bench, *(s.id for s in bench.state.plan.route.setups))
    route = bench.state.plan.route
    written = bench.state.folder / "build.yaml"
    text = written.read_text()
    written.write_text(text[: text.index("      pivot:")])
    said = replanned(bench)
    assert "nothing has changed" in said
    assert "is done, but the drawing as it now stands does not ask for it" in said
    assert bench.state.plan.route == route
    written.write_text(text.replace("kind: slot", "kind: sloot"))
    said = bench.client.get("/").text
    assert "The files have faults" in said
    assert "did you mean &#39;slot&#39;?" in said


def test_a_spoiled_copy_is_made_again(bench: Bench) -> None:
    names = [s.id for s in bench.state.plan.route.setups]
    do(bench, *names[:3])
    pieces = bench.state.plan.route.setups[2]
    assert pieces.stage == "piece"
    number = cards(bench.state.plan.page(pieces.id, "as drawn"), pieces)[-1].number
    path = f"/setup/{pieces.id}/{number}"
    wrong = bench.client.post(f"{path}/spoil", data={"nth": ""}, headers={"HX-Request": "true"})
    assert wrong.status_code == 422
    assert "Say which copy." in wrong.text
    shown = bench.post(f"{path}/spoil", nth="2", words="slipped")
    assert "Copy 2 is entered as spoiled" in shown
    operation = pieces.operations[0].id
    assert bench.state.log_state.work.copies(operation) == {1, 3}
    assert "Copies are spoiled since the plan was made" in bench.client.get("/now").text
    text = replanned(bench)
    assert "Copies are spoiled" not in text
    (bar,) = bench.state.plan.route.bars
    assert bar.pieces * (bar.count - 1) + (bar.last_pieces or bar.pieces) == 4
    left = {one.setup.work: one for one in BenchSnapshot(bench.state).lefts if not one.finished}
    assert bar.id in left  # another length of bar is to be cut for it


# -- clocks ----------------------------------------------------------------------------------------


def test_a_setup_s_clock(bench: Bench) -> None:
    name = bench.setup_with("fork/pivot/drill")
    assert "Stop: setting up" in bench.post(f"/setup/{name}/clock", figure="setting up")
    assert "Stop: cutting" in bench.post(f"/setup/{name}/clock", figure="cutting")
    assert "Stop:" not in bench.post(f"/setup/{name}/clock", figure="")
    timings = bench.state.log_state.work.timings
    assert [(e.figure, e.setup) for e in timings] == [("setting up", name), ("cutting", name)]
    assert timings[0].planned == 16  # 12 setting up and 4 finding zero
    assert timings[1].planned is None  # nothing was ticked


def test_a_clock_to_wait_by_runs_on_every_page(bench: Bench) -> None:
    answer = bench.client.post("/clocks", data={"figure": "pickle", "minutes": "12"})
    assert answer.status_code == 303
    text = bench.client.get("/clocks").text
    until = re.search(r'data-until="([^"]+)"', text)
    assert until
    wait = datetime.fromisoformat(until[1]) - datetime.now(UTC)
    assert timedelta(minutes=11.9) < wait <= timedelta(minutes=12)
    (start,) = bench.state.log_state.work.running.values()
    bench.client.post("/clocks/stop", data={"id": start.id})
    assert bench.state.log_state.work.running == {}
    for minutes in ("", "0", "601", "nan", "a while"):
        wrong = bench.client.post("/clocks", data={"figure": "pickle", "minutes": minutes})
        assert wrong.status_code == 422
        assert f'value="{minutes}"' in wrong.text
    assert "Acid into water" in text


# -- log, handbook ---------------------------------------------------------------------------------


def test_the_log_is_read_taken_back_out_and_in(bench: Bench, tmp_path: Path) -> None:
    name, number = card_number(bench, "fork/saw/off", "copies")
    bench.post(f"/setup/{name}/{number}/tick", nth=1)
    assert "fork/saw/off: copy 1 done" in bench.client.get("/log").text
    (line,) = bench.state.log_state.lines
    shown = bench.post("/log/undo", id=line.id)
    assert "<s>fork/saw/off: copy 1 done</s>" in shown
    assert not bench.state.log_state.work.copies("fork/saw/off")
    assert bench.client.post("/log/undo", data={"id": "none"}).status_code == 404
    history = bench.client.get("/log.json")
    assert json.loads(history.text)["build"] == "Fork"
    other = build_log(tmp_path)
    other.write(Entry(kind=Kind.NOTE, words="from elsewhere"))
    told = bench.client.get("/log.csv").text
    for text, says in ((told, "0 lines were new"), (history.text, "0 lines were new")):
        answer = bench.client.post("/log/bring-in", files={"file": ("h", text.encode())})
        assert says in answer.text
    for content in (b"nonsense", b"\xff\xfe", b"{}"):
        answer = bench.client.post("/log/bring-in", files={"file": ("h", content)})
        assert answer.status_code == 422
        assert 'role="alert"' in answer.text
    assert len(bench.state.log_state.lines) == 2


def test_notes(bench: Bench) -> None:
    assert bench.client.post("/log/note", data={"words": "  "}).status_code == 422
    bench.client.post("/log/note", data={"words": "<script>alert(1)</script>"})
    text = bench.client.get("/log").text
    assert "&lt;script&gt;alert(1)" in text
    assert "<script>alert" not in text


def test_the_log_page_by_page(bench: Bench) -> None:
    bench.state.write(*(Entry(kind=Kind.NOTE, words=f"note {n:03}") for n in range(120)))
    first, last = (bench.client.get(f"/log?page={n}").text for n in (1, 3))
    assert "note 119" in first
    assert "note 069" not in first
    assert "note 000" in last
    assert "Older" in first
    assert "Older" not in last


def test_the_handbook(bench: Bench) -> None:
    """M3 is 0.5 mm in pitch (ISO 261)."""
    text = bench.client.get("/handbook?word=M3").text
    assert "0.5 mm" in text
    assert "Source" in text
    unknown = bench.client.get("/handbook?word=gizmo")
    assert unknown.status_code == 422
    assert 'value="gizmo"' in unknown.text


def put_log(bench: Bench, what: str) -> None:
    """Put the tables of the log out of reach, or back."""
    names = {"away": ("{0}", "{0}_away"), "back": ("{0}_away", "{0}")}[what]
    with sqlite3.connect(bench.state.folder / "bench-log.db") as database:
        for table in ("lines", "devices"):
            now, then = (name.format(table) for name in names)
            database.execute(f"ALTER TABLE {now} RENAME TO {then}")


def test_a_log_out_of_reach_is_said_with_what_to_do(bench: Bench) -> None:
    put_log(bench, "away")
    answer = bench.client.post("/log/note", data={"words": "lost?"})
    assert (answer.status_code, answer.text) == (503, say("log away"))
    page = bench.client.get("/")
    assert page.status_code == 503
    assert "see whether the database" in page.text
    piece = bench.client.get("/now", headers={"HX-Request": "true"})
    assert (piece.status_code, piece.text) == (503, say("log away"))
    put_log(bench, "back")
    assert bench.client.get("/").status_code == 200


def test_paired_devices_are_told_too_when_the_log_is_out_of_reach(lan: Bench) -> None:
    assert lan.pairing
    lan.client.post("/pair", data={"code": lan.pairing.code()})
    assert lan.client.get("/").status_code == 200
    put_log(lan, "away")
    time.sleep(FRESH)
    page = lan.client.get("/parts")
    assert page.status_code == 503
    assert "see whether the database" in page.text
    assert lan.client.get("/pair").status_code == 200  # needs nothing of the log
    put_log(lan, "back")
    assert lan.client.get("/parts").status_code == 200


@pytest.mark.parametrize("path", ["/", "/setup/1/1", "/parts", "/parts/1", "/log", "/clocks"])
def test_a_page_reads_the_log_once(bench: Bench, path: str) -> None:
    asked: list[str] = []

    def note(_connection, _cursor, statement, *_rest) -> None:  # type: ignore[no-untyped-def]
        asked.append(statement)

    bench.client.get(path)
    event.listen(Engine, "before_cursor_execute", note)
    try:
        bench.client.get(path)
    finally:
        event.remove(Engine, "before_cursor_execute", note)
    assert len([s for s in asked if "FROM lines" in s]) == 1


def test_what_another_device_enters_is_seen(bench: Bench) -> None:
    elsewhere = build_log(bench.state.folder)
    elsewhere.write(Entry(kind=Kind.NOTE, device="phone", words="from the lathe"))
    assert "from the lathe" in bench.client.get("/log/lines").text
    elsewhere.close()
