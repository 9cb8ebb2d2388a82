"""The commands: verdicts, plain data, the page; and what cannot be worked out, in words."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.dom.minidom import parseString

import pytest
from typer.testing import CliRunner, Result

from barstock.cli.commands import app

from .conftest import HORNS
from .test_made import MADE

WAGON = Path(__file__).parents[2] / "src" / "barstock" / "samples" / "wagon"


def run(*words: str | Path) -> Result:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "build.yaml").write_text(HORNS, encoding="utf-8")
    shop = (WAGON / "workshop.yaml").read_text(encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(shop, encoding="utf-8")
    return tmp_path


def test_verdicts_and_the_page(folder: Path) -> None:
    found = run("move", folder, "--samples", "500")
    assert found.exit_code == 0, found.output
    assert re.search(r"the box pitches [\d.]+° before it touches; the drawing asks 1\.50°",
                     found.output)  # fmt: skip
    assert "do not replace a test" in found.output
    page = (folder / "moving" / "move.html").read_text(encoding="utf-8")
    assert "the box pitches" in page
    assert not re.search(r"(src|href)=\"https?:", page)
    scene = json.loads(page.split('<script type="application/json">')[1].split("</script>")[0])
    assert [body["moves"] for body in scene["bodies"]] == [True, False, False]
    pitch = next(m for m in scene["motions"] if m["name"] == "pitch")
    assert pitch["stops"][0]["amount"] == pytest.approx(-pitch["stops"][1]["amount"])
    drawn = sorted(path.name for path in (folder / "moving").glob("*.svg"))
    assert drawn == [
        "guide-1-apart.svg", "guide-1-cut-across.svg", "guide-1-cut-along.svg",
        "guide-1-tilt-and-pitch.svg", "guide-1-together.svg",
    ]  # fmt: skip
    for path in (folder / "moving").glob("*.svg"):
        parseString(path.read_text(encoding="utf-8"))


def test_what_is_asked_and_not_done_is_said_and_told_by_the_exit_code(folder: Path) -> None:
    text = HORNS.replace("asked: {tilt: 0.2, pitch: 1.5}", "asked: {tilt: 0.75, pitch: 0.4}")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    found = run("move", folder, "--samples", "500", "--json")
    assert found.exit_code == 1
    data = json.loads(found.output)
    tilt = data["guides"][0]["motions"]["tilt"]
    assert tilt["enough"] is False
    assert tilt["by chance"]["fails"] == 1.0
    assert data["guides"][0]["motions"]["rise"]["amount"] is None
    assert not (folder / "moving").exists()
    said = run("move", folder)
    assert said.exit_code == 1
    assert shown_in_the_docs("box in horns:") <= set(said.output.splitlines())


def test_the_sample_wagon_moves_as_the_docs_show(tmp_path: Path) -> None:
    found = run("move", WAGON, "--out", tmp_path)
    assert found.exit_code == 0, found.output
    assert "NOT" not in found.output
    assert "not enough" not in found.output  # in the worst of the limits too
    assert shown_in_the_docs("axlebox in its horns:") <= set(found.output.splitlines())


def shown_in_the_docs(first: str) -> set[str]:
    """The lines of the example on the page that begins with a line, but for those left out."""
    page = (Path(__file__).parents[2] / "docs" / "moving.md").read_text(encoding="utf-8")
    lines = page.split(f"```text\n{first}\n")[1].split("```")[0].splitlines()
    return {line for line in lines if not line.endswith("...")}


def test_a_set_as_made(folder: Path) -> None:
    (folder / "made.yaml").write_text(MADE, encoding="utf-8")
    found = run("move", folder, "--samples", "200", "--as-made", folder / "made.yaml", "--json")
    assert found.exit_code == 0, found.output
    made = json.loads(found.output)["as made"]["box in horns"]
    assert {(p["block"], p["guide"]) for p in made["pairs"]} == {("one", "near"), ("two", "far")}


def test_a_study_from_the_command_line(folder: Path) -> None:
    found = run(
        "study", folder, "horn/apart=23.2..23.4", "--points", "2", "--samples", "200",
        "--chart", folder / "charts", "--json",
    )  # fmt: skip
    assert found.exit_code == 0, found.output
    data = json.loads(found.stdout)
    low, high = (point["motions"]["pitch"]["nominal"] for point in data["points"])
    assert low < high
    assert data["best"] == {"horn/apart": 23.4}
    parseString((folder / "charts" / "study-pitch.svg").read_text(encoding="utf-8"))


def test_a_study_asks_what_the_track_asks() -> None:
    found = run(
        "study", WAGON, "horn guide/front rebate/width=6.0..6.2", "--points", "2",
        "--samples", "200", "--json",
    )  # fmt: skip
    assert found.exit_code == 0, found.output
    tight, roomy = (point["motions"]["tilt"] for point in json.loads(found.stdout)["points"])
    # a wheel 2 low, 139.7 across: 0.82 degrees, of which the frame takes half
    assert tight["asked"] == roomy["asked"] == pytest.approx(0.41, abs=0.01)
    assert tight["fails"] > roomy["fails"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("study", "horn/apart=wide"), "is no sweep; write NAME=FROM..TO"),
        (("study", "horn/apart=1..2", "--guide", "bolster"), "there is no guide 'bolster'"),
        (("study", "horn/apard=1..2"), "goes by 'horn/apard'; did you mean"),
        (("move", "--as-made", "nowhere.yaml"), "there is no file nowhere.yaml of sizes as made"),
    ],
)
def test_what_cannot_be_asked(folder: Path, words: tuple[str, ...], said: str) -> None:
    found = run(words[0], folder, *words[1:])
    assert found.exit_code != 0
    assert said in found.output


def test_a_build_of_which_nothing_moves(folder: Path) -> None:
    text = HORNS[: HORNS.index("mechanism:")]
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    found = run("move", folder)
    assert found.exit_code == 2
    assert "neither guides nor a vehicle" in found.output


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("{part: box,", "{part: bocks,", "there is no part 'bocks'; give one of box, horn"),
        ("up: right, ahead: front", "up: right, ahead: left", "name two faces that meet"),
        ("apart: 23.3 +0.1/0", "apart: wide", "'wide' is no length"),
        ("asked: {tilt: 0.2", "asked: {tilr: 0.2", "did you mean 'tilt'"),
    ],
)
def test_slips_in_the_guides_section(folder: Path, old: str, new: str, said: str) -> None:
    (folder / "build.yaml").write_text(HORNS.replace(old, new), encoding="utf-8")
    found = run("check", folder)
    assert found.exit_code == 1
    assert said in found.output
    assert "build.yaml:" in found.output
