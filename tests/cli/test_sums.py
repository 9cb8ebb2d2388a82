"""Limits, fits and the sums of the bench from the command line, and as functions."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

import barstock
from barstock.cli.commands import app
from barstock.route.statements import NoteKind

SAMPLES = Path(barstock.__file__).parent / "samples"


def run(*words: str | Path) -> Result:
    """The program with these words; it never fails by a stack trace."""
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "Traceback" not in result.output
    return result


def copy_of(name: str, folder: Path, *changes: tuple[str, str]) -> Path:
    """A sample in a folder of its own, with some of its text changed."""
    for file in ("build.yaml", "workshop.yaml"):
        text = (SAMPLES / name / file).read_text(encoding="utf-8")
        for old, new in changes if file == "build.yaml" else ():
            assert old in text
            text = text.replace(old, new)
        (folder / file).write_text(text, encoding="utf-8")
    return folder


# -- gauge blocks ------------------------------------------------------------------------------


def test_stacks_as_data() -> None:
    made = json.loads(run("stack", "57.333", "8.05", "--json").output)
    assert [each["size"] for each in made] == [57.333, 8.05]
    for each in made:
        assert sum(each["blocks"]) == pytest.approx(each["size"], abs=1e-6)
        assert each["error"] == 0
    # A worked example of text books: 57.333 = 50 + 5 + 1.33 + 1.003 (from memory).
    assert sorted(made[0]["blocks"]) == [1.003, 1.33, 5.0, 50.0]


def test_an_inch_set_answers_in_its_own_inches() -> None:
    made = json.loads(run("stack", ".4375", "3/8", "--set", "81 piece inch", "--json").output)
    assert [each["size"] for each in made] == [0.4375, 0.375]
    assert all(each["unit"] == "inch" and max(each["blocks"]) <= 4 for each in made)
    assert sum(made[0]["blocks"]) == pytest.approx(0.4375)


def test_a_size_the_set_cannot_make_is_told() -> None:
    result = run("stack", "0.7")
    assert result.exit_code == 1
    assert "cannot make it; the nearest are 0.5 = 0.5 and 1 = 1" in result.output
    assert json.loads(run("stack", "0.7", "--json").output)[0]["error"] == pytest.approx(-0.2)


def test_stacks_standing_together_share_no_block() -> None:
    one, two = json.loads(run("stack", "12.5", "12.5", "--together", "--json").output)
    assert not set(one["blocks"]) & set(two["blocks"])
    assert sum(one["blocks"]) == sum(two["blocks"]) == 12.5


def test_the_blocks_a_shop_owns(tmp_path: Path) -> None:
    folder = copy_of("new", tmp_path)
    path = folder / "workshop.yaml"
    text = path.read_text(encoding="utf-8")
    blocks = "  my blocks: {kind: gauge blocks, sizes: [1.5, 2, 20]}\n"
    path.write_text(text.replace("measuring:\n", "measuring:\n" + blocks), encoding="utf-8")
    made = json.loads(run("stack", "21.5", "--shop", folder, "--json").output)
    assert made[0]["blocks"] == [20.0, 1.5]
    assert "cannot make it" in run("stack", "30", "--shop", folder).output


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("stack", "12,5"), "write decimals with a point"),
        (("stack", "10", "--set", "13 piece"), "is no gauge set known here"),
        (("sine", "95"), "a sine bar takes 0 to 90 degrees"),
        (("sine", "steep"), "is no angle"),
        (("close", "8.0 +0.05/0", "0.1"), "write READING:MEASURED"),
        (("close", "8.0", "0:7.9"), "has no limits to close in on; write them, 8.0 ±0.05"),
        (("gauge", "hole from edges", "pin=4", "--reading", "9"), "did you mean 'hole from edge'?"),
        (("gauge", "hole from edge", "pn=4", "--reading", "9"), "did you mean 'pin'?"),
        (("gauge", "hole from edge", "--reading", "9"), "wants pin"),
        (("gauge", "hole from edge", "pin=4"), "give either the dimension wanted or what was read"),
        (("gauge", "thread over wires", "thread=M99", "wire=1", "--reading", "9"), "M99"),
        (("limits", "nowhere"), "there is no folder"),
        (("fits", "nowhere"), "there is no folder"),
    ],
)
def test_wrong_use_is_told(words: tuple[str, ...], told: str) -> None:
    result = run(*words)
    assert told in result.output
    assert result.exit_code == 2


# -- sine bar, closing in, pins ----------------------------------------------------------------


def test_a_sine_bar_at_thirty_degrees() -> None:
    found = json.loads(run("sine", "30", "--json").output)  # sin 30° = ½
    assert found["blocks"] == [50.0]
    assert found["made"] == pytest.approx(30)
    assert json.loads(run("sine", "30", "--bar", "5in", "--json").output)["made"] == pytest.approx(
        30, abs=1e-3
    )


def test_what_a_wrong_stack_gives() -> None:
    # 0.01 too much under 100 at 30°: 0.01 / (100 cos 30°) rad = 23.8 seconds.
    found = json.loads(run("sine", "30", "--stack", "50.01", "--json").output)
    assert found["seconds out"] == pytest.approx(23.8, abs=0.05)


def test_closing_in_on_a_slot() -> None:
    result = run("close", "8.0 +0.05/0", "0:7.8", "0.055:7.905")
    assert result.output.strip() == "each wall: feed 0.060 mm, to +0.115; expect 8.025 mm"
    found = json.loads(run("close", "8.0 +0.05/0", "0:7.8", "0.12:8.03", "--json").output)
    assert found["act"] == "done"
    assert found["repeat"] == pytest.approx(0.12, abs=0.005)


def test_readings_below_zero_and_a_handwheel() -> None:
    words = ("close", "4 ±0.05", "-3.2:3.2", "--of", "depth", "--down")
    found = json.loads(run(*words, "--per-turn", "2", "--divisions", "100", "--json").output)
    assert found["reading"] < -3.2
    assert found["feed"] == pytest.approx(-3.2 - found["reading"])
    assert "turn" in found["words"] or "div" in found["words"]


def test_pins_both_ways() -> None:
    words = ("gauge", "leaning slots", "pin=6", "lean=1.5", "stack=10")
    there = json.loads(run(*words, "--dimension", "23 ±0.05", "--json").output)
    back = json.loads(run(*words, "--reading", f"{there['reading']:.6f}", "--json").output)
    assert back["dimension"] == pytest.approx(23, abs=1e-5)
    assert there["high"] - there["low"] == pytest.approx(0.1)
    assert "read 34.3212 mm for 23.0000" in run(*words, "--dimension", "23").output
    listed = run("gauge").output
    assert "leaning slots: pin, lean, stack" in listed
    assert "thread over wires: thread, wire" in listed


# -- limits and fits ---------------------------------------------------------------------------


def test_limits_of_a_sample(tmp_path: Path) -> None:
    folder = copy_of("bracket", tmp_path)
    listed = json.loads(run("limits", folder, "--json").output)
    by_name = {each["dimension"]: each for each in listed}
    assert not by_name["rod hole/from right"]["holds"]
    assert by_name["rod hole/from bottom"]["holds"]
    result = run("limits", folder)
    assert "LACKS 0.0012 in: rod hole: from right .437 ±.003" in result.output
    assert "dimensions are guaranteed as planned" in result.output
    assert result.exit_code == 0  # every one that lacks has its cure


def test_a_plan_notes_what_it_does_not_guarantee(tmp_path: Path) -> None:
    folder = copy_of("bracket", tmp_path)
    planned = barstock.plan(folder, pictures=False)
    told = [one for one in planned.route.summary.notes if one.kind is NoteKind.NOT_GUARANTEED]
    short = [g for g in barstock.guarantees(folder) if not g.holds]
    assert len(told) == len(short) > 0
    page = (planned.folder / "pack.html").read_text(encoding="utf-8")
    assert "Not guaranteed: bracket, rod hole: from right" in page


def test_fits_of_the_wagon_and_one_eaten_by_paint(tmp_path: Path) -> None:
    folder = copy_of("wagon", tmp_path)
    good = run("fits", folder)
    assert good.exit_code == 0
    assert "box on its guide: holds, 0.240 to 0.630 mm" in good.output
    copy_of("wagon", tmp_path, ("outside: 0.02 ±0.01", "outside: 0.06 ±0.01"))
    bad = run("fits", folder)
    assert bad.exit_code == 1
    assert "the coats eat it" in bad.output
    box = json.loads(run("fits", folder, "--json").output)[0]
    assert box["eaten by coats"]
    # two coats, each 0.04 thicker: 0.240 - 0.08, where 0.2 is wanted
    assert box["lacks"] == pytest.approx(0.04)


def test_an_unknown_dimension_of_a_fit_is_a_fault(tmp_path: Path) -> None:
    folder = copy_of("wagon", tmp_path, ("pin holes/bore", "pin holes/boar"))
    result = run("check", folder)
    assert result.exit_code == 1
    assert "a fit names 'boar', no dimension of 'rocker/pin holes'; did you mean 'bore'?" in (
        result.output
    )


@pytest.mark.parametrize(
    ("sort", "more", "first", "expect"),
    [
        # feed 1 mm of roughing, or half of what is left; what it should then measure [mm]
        ("inside", (), "7.8", 7.91),  # 0.1125 each wall is left: 0.055, twice
        ("one wall", (), "7.8", 7.91),  # 0.225 is left at one wall: 0.11
        ("depth", (), "5.0", 6.0),
        ("depth", ("--tilt", "60"), "4.0", 6.0),  # 1 mm square to a floor that leans 60 degrees: 2
        ("outside", ("--down",), "12.0", 11.0),
        ("both ends", (), "12.0", 10.0),
        ("both ends", ("--half",), "12.0", 11.0),
        ("position", (), "6.0", 7.0),
        ("diameter", (), "4.0", 6.0),
        ("turned", (), "12.0", 10.0),
        ("bevel", (), "6.0", 7.0),
        ("countersink", (), "4.0", 6.0),  # 90 degrees: twice the depth
        ("countersink", ("--angle", "60"), "4.0", 4 + 2 * 3**-0.5),
    ],
)
def test_every_sort_of_dimension_answers_to_feed_its_own_way(
    sort: str, more: tuple[str, ...], first: str, expect: float
) -> None:
    words = ("close", "8.0 +0.05/0", f"0:{first}", "--of", sort, "--readout", "0.005", *more)
    assert json.loads(run(*words, "--json").output)["expect"] == pytest.approx(expect, abs=1e-6)


def test_closing_in_inches_by_a_wheel() -> None:
    # .013 short of the middle, .0065 each wall; a 100 division wheel of .100 in: 3 div, then 3 more
    words = ("close", "1/4 +.002/0", "0:.238", "--per-turn", ".100", "--divisions", "100")
    found = json.loads(run(*words, "--json").output)
    assert found["feed"] == pytest.approx(0.003 * 25.4)
    assert "feed 3 div" in found["words"]
    assert "0.2440 in" in found["words"]


def test_closing_in_on_a_fit() -> None:
    found = json.loads(run("close", "10 H7", "0:9.9", "--of", "diameter", "--json").output)
    assert found["left"] == pytest.approx((10.0075 - 9.9) / 2)


def test_figures_are_shown_in_the_users_own_unit() -> None:
    inch = ("--dimension", ".437 ±.003 in")
    # edge to the far side of a 3/8 pin: .437 + .1875
    assert "read 0.6245 inch for 0.4370" in run("gauge", "hole from edge", "pin=3/8", *inch).output
    # sin 30° of a 5 inch bar
    assert "2.5000 inch" in run("sine", "30", "--bar", "5 in", "--set", "81 inch").output
    bracket = str(SAMPLES / "bracket")
    found = json.loads(run("stack", ".787", "--shop", bracket, "--json").output)[0]
    assert found["unit"] == "inch"
    assert sum(found["blocks"]) == pytest.approx(0.787)


def test_an_angle_is_gauged_in_degrees_and_minutes() -> None:
    words = ("gauge", "taper by rollers", "stack=50")
    # tan(5°/2) = reading / 100
    assert "read 4.3661 mm for 5.0000°" in run(*words, "--dimension", "5°0' ±0.1°").output
    assert run(*words, "--reading", "4.3661").output.startswith("read 4.3661 mm for 5.0000°")
