"""The log and what it teaches, from the command line."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from barstock.bench.entry import Entry, Kind
from barstock.bench.log import build_log
from barstock.cli.commands import app
from barstock.pack.route_file import route_text

from .conftest import SMALL, Planned


@pytest.fixture
def folder(fork: Planned, tmp_path: Path) -> Path:
    """A build's folder with a route and a log of two lines."""
    place = tmp_path / "fork"
    shutil.copytree(SMALL, place)
    (place / "out").mkdir()
    (place / "out" / "route.json").write_text(route_text(fork[2]))
    log = build_log(place)
    first = fork[2].setups[0]
    log.write(
        Entry(kind=Kind.TICK, operation="fork/slot/mill", work=first.work, nth=1, device="tablet"),
        Entry(kind=Kind.SIZE, work="fork", nth=2, dimension="pivot/bore", reading=4.003),
    )
    log.close()
    return place


def told(*words: object) -> str:
    """What a command says; it must come out well."""
    found = CliRunner().invoke(app, [str(word) for word in words])
    assert found.exit_code == 0, found.output
    return found.output


def test_the_log_is_printed(folder: Path) -> None:
    lines = told("log", folder).splitlines()
    assert len(lines) == 2
    assert lines[0].endswith("fork/slot/mill: copy 1 done  (tablet)")
    assert lines[1].endswith("fork, pivot: bore: copy 2 measures 4.003")


def test_the_log_is_handed_on(folder: Path, tmp_path: Path) -> None:
    names = ("h.csv", "h.json", "done.json", "made.json")
    csv, history, done, made = (tmp_path / name for name in names)
    told("log", folder, "--csv", csv, "--json", history, "--done", done, "--as-made", made)
    assert csv.read_text().count("\n") == 3
    assert json.loads(done.read_text())["done"] == {"fork/slot/mill": 1}
    assert json.loads(made.read_text()) == {"fork": {"2": {"pivot/bore": 4.003}}}
    assert "0 lines were new" in told("log", folder, "--bring-in", csv)
    (folder / "bench-log.db").unlink()
    assert "2 lines were new" in told("log", folder, "--bring-in", history)


def test_a_history_that_is_not_there(folder: Path) -> None:
    found = CliRunner().invoke(app, ["log", str(folder), "--bring-in", "nowhere.csv"])
    assert found.exit_code == 2
    assert "there is no file nowhere.csv" in found.output


def test_learning_shows_and_writes_only_when_asked(folder: Path) -> None:
    """Three clockings of 24 minutes where 16 were planned: 1.5 ** (3 / 6) = 1.22."""
    assert "nothing was clocked yet" in told("learn", folder)
    log = build_log(folder)
    for _ in range(3):
        log.write(Entry(kind=Kind.STOP, figure="setting up", minutes=24, planned=16))
    log.close()
    shop = folder / "workshop.yaml"
    before = shop.read_text()
    said = told("learn", folder)
    assert "setting up: 3 clocked, 72 minutes where the plan had 48; its figures times 1.22" in said
    assert "set up: 12 -> 14.7" in said
    assert "nothing is changed" in said
    assert shop.read_text() == before
    assert f"wrote {shop}" in told("learn", folder, "--write")
    assert "  set up: 14.7\n" in shop.read_text()


def test_the_log_may_be_elsewhere(folder: Path, tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'club.db'}"
    assert told("log", folder, "--log", url) == ""
    found = CliRunner().invoke(
        app, ["log", str(folder), "--log", "postgresql://nobody@127.0.0.1:1/x"]
    )
    assert found.exit_code == 2
    assert "the log cannot be opened" in found.output


def test_a_slip_in_the_build_s_file_does_not_hide_the_log(folder: Path) -> None:
    written = folder / "build.yaml"
    written.write_text(written.read_text().replace("kind: slot", "kind: sloot"))
    assert len(told("log", folder).splitlines()) == 2
