"""The log keeps what it has acknowledged, in either database, whoever writes at the same time."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import sqlalchemy as sa

from barstock.bench.entry import Entry, Kind
from barstock.bench.history import from_text, to_csv, to_json
from barstock.bench.log import Log, log_url
from barstock.bench.migrating import bring_up
from barstock.bench.work import work_of
from barstock.errors import WrongUseError


def tick(nth: int, operation: str = "box/bore/ream", **more: object) -> Entry:
    return Entry(kind=Kind.TICK, operation=operation, work="box", nth=nth, **more)


def test_what_is_written_is_read(url: str) -> None:
    log = Log(url, "wagon")
    wrote = log.write(
        tick(1, device="tablet"),
        Entry(
            kind=Kind.SIZE,
            work="box",
            nth=1,
            dimension="slot/width",
            reading=8.023,
            instrument="caliper",
            words="after deburring: ±½ a division",
        ),
    )
    assert log.read() == wrote
    assert [e.row for e in wrote] == sorted(e.row for e in wrote)
    assert log.read(after=wrote[0].row) == wrote[1:]
    log.close()
    assert Log(url, "wagon").read() == wrote


def test_builds_share_a_log_without_seeing_each_other(url: str) -> None:
    wagon, engine = Log(url, "wagon"), Log(url, "engine")
    entry = tick(1)
    wagon.write(entry)
    engine.write(entry)
    engine.write(tick(2))
    assert [e.nth for e in wagon.read()] == [1]
    assert [e.nth for e in engine.read()] == [1, 2]


def test_all_lines_of_a_stroke_or_none(url: str) -> None:
    log = Log(url, "wagon")
    twice = tick(1)
    with pytest.raises(sa.exc.IntegrityError):
        log.write(tick(2), twice, twice)
    assert log.read() == []


def test_writers_at_once_lose_nothing_and_readers_miss_nothing(url: str) -> None:
    """Rows appear in their order: who has read up to one has seen all below it."""
    logs = [Log(url, "wagon") for _ in range(4)]
    seen: list[int] = []

    def write(n: int) -> None:
        for nth in range(25):
            logs[n].write(tick(n * 100 + nth))

    with ThreadPoolExecutor(4) as pool:
        running = [pool.submit(write, n) for n in range(4)]
        while not all(r.done() for r in running):
            seen += [e.row for e in logs[0].read(after=seen[-1] if seen else 0)]
        for r in running:
            r.result()
    seen += [e.row for e in logs[0].read(after=seen[-1] if seen else 0)]
    assert seen == [e.row for e in logs[1].read()]
    assert len(seen) == 100


WRITER = """
import sys
from barstock.bench.entry import Entry, Kind
from barstock.bench.log import Log
log = Log(sys.argv[1], "wagon")
for nth in range(1, 1001):
    log.write(Entry(kind=Kind.TICK, operation="box/bore/ream", nth=nth))
    print(nth, flush=True)
"""


def test_a_killed_writer_loses_nothing_it_has_acknowledged(url: str) -> None:
    command = [sys.executable, "-c", WRITER, url]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout
        told = 0
        while told < 437:
            told = int(writer.stdout.readline())
        os.kill(writer.pid, signal.SIGKILL)
        rest = writer.stdout.read().split()
        told = int(rest[-1]) if rest else told
    assert writer.returncode == -signal.SIGKILL
    kept = [e.nth for e in Log(url, "wagon").read()]
    assert kept == list(range(1, len(kept) + 1))
    assert told <= len(kept) <= told + 1  # one may be on the disk and not yet acknowledged
    assert len(kept) < 1000


def test_sqlite_waits_for_the_disk_at_every_commit(tmp_path: Path) -> None:
    """What holds at a power cut, as far as the database's own settings say it."""
    log = Log(f"sqlite:///{tmp_path / 'log.db'}", "wagon")
    with log._engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2  # FULL


# -- undo ------------------------------------------------------------------------------------------


def test_undo_is_a_line_of_its_own_and_can_be_undone(url: str) -> None:
    log = Log(url, "wagon")
    (one,) = log.write(tick(1))
    log.write(tick(2))
    (undo,) = log.write(Entry(kind=Kind.UNDO, undoes=one.id))
    assert work_of(log.read()).copies("box/bore/ream") == {2}
    log.write(Entry(kind=Kind.UNDO, undoes=undo.id))
    assert work_of(log.read()).copies("box/bore/ream") == {1, 2}
    assert len(log.read()) == 4


# -- history ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["json", "csv"])
def test_a_history_brought_in_elsewhere_is_the_same_and_twice_changes_nothing(
    url: str, form: str, tmp_path: Path
) -> None:
    log = Log(url, "wagon")
    (first,) = log.write(tick(1, device='=tablet,\n"by the mill"'))
    log.write(
        tick(2, words="'quoted"),
        Entry(kind=Kind.SIZE, work="box", nth=2, dimension="slot/width", reading=0.1 + 0.2),
        Entry(kind=Kind.UNDO, undoes=first.id),
    )
    text = to_json("wagon", log.read()) if form == "json" else to_csv(log.read())
    other = Log(f"sqlite:///{tmp_path / 'other.db'}", "wagon")
    assert other.bring_in(from_text(text)) == 4
    assert other.bring_in(from_text(text)) == 0
    assert other.read() == log.read()
    assert log.bring_in(from_text(text)) == 0


def test_a_cell_is_never_a_spreadsheet_s_formula() -> None:
    told = to_csv([tick(1, device="=1+1", words="@x")])
    assert ",'=1+1," in told
    assert ",'@x," in told


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "this is no history"),
        ('{"version": 9, "lines": []}', "no history of version 1"),
        ("a,b\n1,2\n", "the header lacks at, id, kind"),
        ("kind,id,at\ntick,x,2031-05-04T10:20:30\n", "line 1 of the history: at"),
        ("kind,id,at\ntack,x,2031-05-04T10:20:30Z\n", "line 1 of the history: kind"),
        ("kind,id,at,reading\nsize,x,2031-05-04T10:20:30Z,nan\n", "line 1 of the history: reading"),
    ],
)
def test_a_wrong_history_says_where(text: str, says: str) -> None:
    with pytest.raises(WrongUseError, match=says):
        from_text(text)


# -- opening ---------------------------------------------------------------------------------------


def test_an_older_log_is_brought_up_with_its_lines(url: str) -> None:
    engine = sa.create_engine(url)
    with engine.begin() as connection:
        bring_up(connection, "0001")
        names = ("device", "setup", "operation", "work", "dimension", "instrument", "figure")
        values = dict.fromkeys((*names, "words", "undoes"), "") | {
            "build": "wagon",
            "id": "old",
            "kind": "tick",
            "nth": 3,
        }
        columns = ", ".join(values)
        marks = ", ".join(f":{name}" for name in values)
        connection.execute(
            sa.text(f"INSERT INTO lines ({columns}, at) VALUES ({marks}, CURRENT_TIMESTAMP)"),
            values,
        )
        assert not sa.inspect(connection).has_table("devices")
    engine.dispose()
    log = Log(url, "wagon")
    assert [e.nth for e in log.read()] == [3]
    log.pair("a mark", "tablet")
    assert log.devices() == {"a mark": "tablet"}
    log.part_with("a mark")
    assert log.devices() == {}


def test_the_tables_are_those_that_the_steps_make(url: str) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.runtime.migration import MigrationContext

    from barstock.bench.tables import Base

    Log(url, "wagon").close()
    with sa.create_engine(url).connect() as connection:
        found = compare_metadata(MigrationContext.configure(connection), Base.metadata)
    assert found == []


def test_a_log_of_a_later_program_is_left_alone(url: str) -> None:
    Log(url, "wagon").close()
    engine = sa.create_engine(url)
    with engine.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(WrongUseError, match="a later barstock"):
        Log(url, "wagon")


def test_where_the_log_is(tmp_path: Path) -> None:
    assert log_url(tmp_path) == f"sqlite:///{tmp_path}/bench-log.db"
    assert log_url(tmp_path, "postgresql://club/logs") == "postgresql+psycopg://club/logs"
    with pytest.raises(WrongUseError, match="postgresql://"):
        log_url(tmp_path, "mysql://club/logs")


def test_a_log_that_cannot_be_reached_says_so(tmp_path: Path) -> None:
    with pytest.raises(WrongUseError, match="the log cannot be opened"):
        Log(f"sqlite:///{tmp_path / 'no' / 'such' / 'log.db'}", "wagon")
