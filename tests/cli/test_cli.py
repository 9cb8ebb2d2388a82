"""The program as a person runs it: what it prints, its exit codes, and what it writes."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner, Result

import barstock
from barstock.cli.answering import answering
from barstock.cli.commands import app

SAMPLES = Path(barstock.__file__).parent / "samples"

BLOCK = """\
build: Block
unit: mm
parts:
  block:
    copies: 2
    material: brass
    length: 20
    width: 12
    height: 10
    bar: 12 x 10
    as bought: [front, back, top, bottom]
    features:
      hole: {kind: hole, face: top, at: {left: 5, width: centre}, diameter: 3, depth: through}
"""


def run(*words: str | Path) -> Result:
    """The program with these words; it never fails by a stack trace."""
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def block(tmp_path: Path) -> Path:
    """A build of one simple part."""
    folder = tmp_path / "block"
    folder.mkdir()
    (folder / "build.yaml").write_text(BLOCK, encoding="utf-8")
    shop = (SAMPLES / "new" / "workshop.yaml").read_text(encoding="utf-8")
    shop = shop.replace("\n  brass:\n", "\n  brass:\n    - 12 x 10 x 300\n")
    assert "12 x 10 x 300" in shop
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    return folder


def test_a_new_build_checks_clean_and_is_not_overwritten(tmp_path: Path) -> None:
    folder = tmp_path / "first"
    assert run("new", folder).exit_code == 0
    assert run("check", folder).exit_code == 0
    (folder / "build.yaml").write_text("mine", encoding="utf-8")
    again = run("new", folder)
    assert again.exit_code == 2
    assert "is there already" in again.output
    assert (folder / "build.yaml").read_text(encoding="utf-8") == "mine"


def test_plan_writes_a_pack_and_prove_finds_it_good(block: Path) -> None:
    made = run("plan", block)
    assert made.exit_code == 0, made.output
    assert "block: as drawn" in made.output
    out = block / "out"
    assert (out / "pack.pdf").read_bytes().startswith(b"%PDF")
    assert "<!doctype html>" in (out / "pack.html").read_text(encoding="utf-8")
    assert (out / "parts" / "block.step").read_text().startswith("ISO-10303-21")
    assert list((out / "pictures").glob("setup-*.svg"))
    assert {p.name for p in block.iterdir()} == {
        "build.yaml", "workshop.yaml", "out", ".barstock-cache",
    }  # fmt: skip
    assert run("prove", block).exit_code == 0


def test_prove_names_the_operation_and_the_place_that_are_wrong(block: Path) -> None:
    assert run("plan", block, "--no-pictures").exit_code == 0
    route = json.loads((block / "out" / "route.json").read_text(encoding="utf-8"))
    drilled = [
        (operation["id"], move)
        for setup in route["setups"]
        for operation in setup["operations"]
        for move in operation["moves"]
        if move["kind"] == "plunge"
    ]
    for _, move in drilled:
        move["x"] += 0.5
    wrong = block / "wrong.json"
    wrong.write_text(json.dumps(route), encoding="utf-8")
    refused = run("prove", block, "--route", wrong)
    assert refused.exit_code == 1
    assert "NOT as drawn" in refused.output
    assert "hole" in refused.output
    assert " at (" in refused.output


def test_a_build_that_cannot_be_read_leaves_the_old_output(block: Path) -> None:
    assert run("plan", block, "--no-pictures").exit_code == 0
    before = {p: p.stat().st_mtime_ns for p in (block / "out").rglob("*")}
    text = BLOCK.replace("length: 20", "length: 20 miles")
    (block / "build.yaml").write_text(text, encoding="utf-8")
    refused = run("plan", block)
    assert refused.exit_code == 1
    assert f"{block / 'build.yaml'}:7:" in refused.output
    assert {p: p.stat().st_mtime_ns for p in (block / "out").rglob("*")} == before


def test_a_feature_that_cannot_be_read_is_left_and_the_rest_planned(block: Path) -> None:
    text = BLOCK.replace("left: 5", "left: 500")
    (block / "build.yaml").write_text(text, encoding="utf-8")
    assert run("plan", block, "--no-pictures").exit_code == 0
    route = json.loads((block / "out" / "route.json").read_text(encoding="utf-8"))
    (left,) = route["left"]
    assert (left["part"], left["features"], left["how"]) == ("block", ["hole"], "left")
    assert left["tried"][0]["refusal"].startswith("build.yaml, line 13: ")
    assert route["setups"]


def test_check_lists_every_fault_for_editors(block: Path) -> None:
    text = BLOCK.replace("face: top", "face: topp").replace("length: 20", "length: 20 miles")
    (block / "build.yaml").write_text(text, encoding="utf-8")
    result = run("check", block, "--json")
    assert result.exit_code == 1
    listed = json.loads(result.output)
    faults = listed["faults"]
    assert listed["errors"] == len([f for f in faults if f["grade"] == "error"]) >= 2
    assert {f["line"] for f in faults} >= {7, 13}
    assert all(f["file"].endswith(".yaml") and f["column"] >= 1 and f["what"] for f in faults)
    spelt = next(f for f in faults if "topp" in f["what"])
    assert spelt["feature"] == "hole"
    assert "top" in spelt["mend"]


BAD = {
    "empty": b"",
    "binary": bytes(range(256)),
    "tabs": b"build: a\n\tparts: b\n",
    "deep": b"build: " + b"[" * 5000,
    "a bomb of anchors": b"a: &a [x, x]\nb: &b [*a, *a]\nbuild: [*b, *b]\n",
    "tags": b"build: !!python/object/apply:os.system [ls]\n",
    "a list": b"- a\n- b\n",
    "huge": b"build: " + b"x" * 2_000_000,
    "no parts": b"build: a\n",
    "numbers for words": b"build: 3\nparts: {1: 2}\n",
}


@pytest.mark.parametrize("command", ["check", "plan", "draw"])
@pytest.mark.parametrize("name", list(BAD))
def test_bad_files_are_faults_with_a_place(block: Path, name: str, command: str) -> None:
    (block / "build.yaml").write_bytes(BAD[name])
    result = run(command, block)
    assert result.exit_code == 1
    assert f"{block / 'build.yaml'}:" in result.output
    assert "mistake in barstock" not in result.output
    assert not (block / "out").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["check", "/no/such/folder"], "there is no folder"),
        (["plan", "."], "holds no build.yaml"),
        (["look", "splinge"], "'splinge'"),
        (["schema", "shop"], "shop"),
        (["plan", ".", "--paper", "a3"], "Invalid value for '--paper': 'a3' is not one of 'a4'"),
        (["close", "8", "0:7.8", "--tilt", "fine"], "'--tilt': it should be a number"),
        (["close", "8", "0:7.8", "--divisions", "1.5"], "it should be a whole number"),
        (["mill"], "mill"),
    ],
)
def test_wrong_use_is_exit_code_2(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(*words)
    assert result.exit_code == 2
    assert said in result.output


def test_an_unknown_part_or_route_is_wrong_use(block: Path) -> None:
    part = run("draw", block, "blok")
    assert (part.exit_code, "did you mean 'block'?" in part.output) == (2, True)
    route = run("prove", block)
    assert (route.exit_code, "barstock plan" in route.output) == (2, True)
    (block / "bad.json").write_text("{", encoding="utf-8")
    broken = run("prove", block, "--route", block / "bad.json")
    assert (broken.exit_code, "is no JSON" in broken.output) == (2, True)


def test_an_out_folder_of_the_users_own_is_refused(block: Path) -> None:
    (block / "out").mkdir()
    (block / "out" / "notes.txt").write_text("mine", encoding="utf-8")
    result = run("plan", block, "--no-pictures")
    assert result.exit_code == 1
    assert "move them" in result.output
    assert [p.name for p in (block / "out").iterdir()] == ["notes.txt"]


def test_draw_writes_one_part(block: Path) -> None:
    result = run("draw", block, "block")
    assert result.exit_code == 0
    names = {p.name for p in (block / "drawings").iterdir()}
    assert names == {"block.svg", "block.dxf", "block.pdf", "block.step"}


@pytest.mark.parametrize("of", ["build", "workshop"])
def test_schema_is_json_schema(of: str) -> None:
    schema = json.loads(run("schema", of).output)
    assert schema["$schema"].startswith("https://json-schema.org/")
    assert schema["properties"]


def test_look_gives_the_source() -> None:
    # ISO 724: M3 has a pitch of 0.5 mm (from memory).
    found = run("look", "M3")
    assert found.exit_code == 0
    assert "0.5" in found.output
    assert "source:" in found.output


HEAVY = ("OCP", "build123d", "ortools", "typst", "scipy", "numpy", "rich", "pydantic", "ezdxf")


def test_help_is_light() -> None:
    code = (
        "import sys, barstock.cli.commands as c\n"
        "try: c.app(['--help'])\n"
        "except SystemExit: pass\n"
        f"print('heavy:', [m for m in {HEAVY} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "heavy: []" in done.stdout
    for command in ("new", "check", "schema", "draw", "plan", "prove", "look"):
        assert f"  {command} " in done.stdout


def test_stopping_from_the_keyboard_leaves_nothing_half_written(tmp_path: Path) -> None:
    folder = tmp_path / "wagon"
    folder.mkdir()
    for file in (SAMPLES / "wagon").glob("*.yaml"):
        (folder / file.name).write_bytes(file.read_bytes())
    program = [sys.executable, "-m", "barstock.cli", "plan", str(folder)]
    # Where the tests run in the background, their children would start deaf to the keyboard.
    hearing = partial(signal.signal, signal.SIGINT, signal.SIG_DFL)
    pipe = subprocess.PIPE
    with subprocess.Popen(program, stderr=pipe, text=True, preexec_fn=hearing) as running:
        while not (folder / ".barstock-cache").exists() and running.poll() is None:
            time.sleep(0.05)
        running.send_signal(signal.SIGINT)
        _, said = running.communicate(timeout=120)
    assert running.returncode == 130
    assert said.strip() == "stopped; no output was changed"
    assert not (folder / "out").exists()
    assert not [p for p in folder.iterdir() if p.name.startswith(".out")]


def test_a_route_of_another_build_is_named_as_such(block: Path) -> None:
    assert run("plan", block, "--no-pictures").exit_code == 0
    written = block / "build.yaml"
    written.write_text(written.read_text(encoding="utf-8").replace("  block:", "  plinth:"))
    refused = run("prove", block)
    assert refused.exit_code == 2
    assert "shares no part" in refused.stderr


def test_ctrl_c_while_a_library_is_being_loaded(capsys: pytest.CaptureFixture[str]) -> None:
    @answering
    def loading() -> None:
        try:
            raise KeyboardInterrupt
        except KeyboardInterrupt as stopped:
            raise ImportError("initialization failed") from stopped

    with pytest.raises(typer.Exit) as left:
        loading()
    assert left.value.exit_code == 130
    assert capsys.readouterr().err.strip() == "stopped; no output was changed"
