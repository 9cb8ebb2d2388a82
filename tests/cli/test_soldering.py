"""Screw lengths, filler and growth from the command line."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner, Result

from barstock.cli.commands import app
from barstock.handbook.heat import elongation


def run(*words: str) -> Result:
    """The program with these words; it never fails by a stack trace."""
    result = CliRunner().invoke(app, list(words))
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result


def test_a_screw_as_sold() -> None:
    # 12.1 + 3 + 0.5 = 15.6 at least, 11.9 + 9 - 0.5 = 20.4 at most
    told = run("screw", "M3", "12 ±0.1", "9")
    assert told.exit_code == 0
    assert "15.6 to 20.4 mm will do" in told.output
    assert "take M3 x 16 mm\n" in told.output


def test_a_screw_to_saw_off_and_one_that_holds_nothing() -> None:
    made = json.loads(run("screw", "M3", "6", "5", "--through", "--own", "16", "--json").output)
    assert (made["stock"], made["cut_to"], made["saw_off"]) == (16, 11, 5)
    told = run("screw", "M3", "6", "1.5", "--through")
    assert told.exit_code == 1
    assert "error: " in told.output


def test_filler_for_a_lap() -> None:
    # 24 x 7.4 x 0.12 = 21.3 mm3, half as much again, over 1.767 mm2: 18.1 mm, up to the next 5
    made = json.loads(run("filler", "24", "7.4", "0.05 to 0.12", "--json").output)
    assert made["gap"] == pytest.approx(21.31, abs=0.01)
    assert made["length"] == 20
    assert "20 mm of 1.5 mm Ag 155 rod" in run("filler", "24", "7.4", "0.12").output


def test_a_gap_too_wide_to_fill_is_told_with_its_filler() -> None:
    told = run("filler", "12", "6", "0.5")
    assert told.exit_code == 1
    assert "too wide to draw filler in" in told.output
    made = json.loads(run("filler", "12", "6", "0.5", "--json").output)
    assert "close it by 0.35 mm" in made["findings"][0]  # 0.5 - 0.15


def test_growth_says_what_it_counts_beside_plain_expansion() -> None:
    told = run("growth", "brass", "60").output
    assert "a fixture up to 150 K behind the work, growth of the work 5% off" in told


def test_growth_of_a_hole() -> None:
    made = json.loads(run("growth", "brass", "60", "--heat", "650", "--json").output)
    # the fixture 150 K behind, the brass 5 % quicker than the figure
    worst = 60 * (1.05 * elongation("brass", 650) - elongation("mild steel", 500))
    assert made["shift"] == pytest.approx(worst)
    assert made["needs"] == pytest.approx(3 + 2 * (worst + 0.05))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("screw", "Q3", "3", "4"), "no thread"),
        (("screw", "M3", "wide", "4"), "no length"),
        (("filler", "1", "2", "3", "--alloy", "Ag 345"), "cadmium"),
        (("filler", "1", "2", "3", "--rod", "0"), "rod"),
        (("growth", "cheese", "3"), "no material"),
        (("growth", "aluminium", "3"), "not known"),
        (("growth", "brass", "3", "--heat", "nan"), "20 °C"),
    ],
)
def test_what_cannot_be_worked_out_is_told(words: tuple[str, ...], told: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert told in result.output


def test_the_gap_of_a_brass_spigot_in_steel() -> None:
    # (20.2 - 20.0) / 2 and (20.25 - 19.98) / 2 cold
    told = run("gap", "20.2 +0.05/0", "20 +0/-0.02")
    assert told.exit_code == 0
    assert "0.100 to 0.135 mm cold" in told.output
    made = json.loads(
        run(
            "gap", "20.2 +0.05/0", "20 +0/-0.02", "--metals", "mild steel", "brass", "--json"
        ).output
    )
    closes = 19.99 / 2 * (elongation("brass", 680) - elongation("mild steel", 680))
    assert made["least_hot"] == pytest.approx(0.1 - closes)
    wide = run("gap", "20.5", "20")
    assert wide.exit_code == 1
    assert "too wide" in wide.output
