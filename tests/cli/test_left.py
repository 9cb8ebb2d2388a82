"""What is left to the person, on the command line: what is said, and how a run ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from barstock.cli.commands import app
from tests.leaving.small_build import BROKEN, CUP, STRAP, WINDOW, written


def run(*words: str | Path) -> Result:
    """The program with these words; it never fails by a stack trace."""
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result


def test_what_the_file_leaves_is_said_and_is_no_failure(tmp_path: Path) -> None:
    folder = written(tmp_path, STRAP + WINDOW + CUP)
    made = run("plan", folder, "--no-pictures", "--strict")
    assert made.exit_code == 0, made.output
    said = "1 of 2 features are planned and proven; 1 is left to you: window of the strap"
    assert f"{said} (made by hand)" in made.output
    assert "Not made here: 2 x oil cup (bought)" in made.output
    assert "to buy: 2 x oil cup, brass" in made.output
    assert "strap: as drawn, but for what is left" in made.output
    assert "oil cup: as drawn" not in made.output
    route = json.loads((folder / "out" / "route.json").read_text(encoding="utf-8"))
    assert {setup["work"] for setup in route["setups"]} == {"bar for strap", "strap"}


def test_a_faulty_part_stops_no_other(tmp_path: Path) -> None:
    folder = written(tmp_path, STRAP + BROKEN)
    made = run("plan", folder, "--no-pictures")
    assert made.exit_code == 0, made.output
    assert "part 'plate': '30 ±' has limits that cannot be read" in made.output
    assert "1 of 1 feature" in made.output
    assert "left to you: all of the plate" in made.output
    assert "strap: as drawn" in made.output
    page = (folder / "out" / "pack.html").read_text(encoding="utf-8")
    assert "all of the plate" in page
    assert run("plan", folder, "--no-pictures", "--strict").exit_code == 1
    proved = run("prove", folder)
    assert (proved.exit_code, "strap: as drawn" in proved.output) == (0, True), proved.output
    why = run("why", folder, "strap/hole/drill")
    assert (why.exit_code, "It must come" in why.output) == (0, True), why.output
    limits = run("limits", folder)
    assert "hole: bore 5" in limits.output


def test_where_nothing_can_be_read_nothing_is_planned(tmp_path: Path) -> None:
    folder = written(tmp_path, BROKEN.replace("30 ±", "[").replace("  plate", "\n  plate"))
    made = run("plan", folder)
    assert made.exit_code == 1
    assert not (folder / "out").exists()


@pytest.mark.parametrize("command", ["draw", "fits"])
def test_commands_do_what_can_be_read_and_say_what_they_left_out(
    tmp_path: Path, command: str
) -> None:
    fits = "fits: {pin: {inside: strap/hole/bore, outside: {size: 4.9 h6}, clearance: {least: 0}}}"
    folder = written(tmp_path, STRAP + BROKEN + fits)
    done = run(command, folder)
    assert done.exit_code == 0, done.output
    assert "left out for this: " in done.output
    assert "part 'plate'" in done.output
    assert ("strap.pdf" if command == "draw" else "pin") in done.output
    assert "plate.pdf" not in done.output
