"""Every fault by its words and place: a file for each, its faults written in its last lines."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.reading.faults import Fault, Place, fault_line
from barstock.workshop.shop_reading import read_workshop

HERE = Path(__file__).parent
MARK = "# fault "


def expected(file: Path) -> list[str]:
    lines = file.read_text(encoding="utf-8", errors="replace").splitlines()
    return [line.removeprefix(MARK) for line in lines if line.startswith(MARK)]


def told(faults: tuple[Fault, ...]) -> list[str]:
    return [fault_line(fault).partition(".yaml:")[2] for fault in faults]


@pytest.mark.parametrize("file", sorted((HERE / "bad").glob("*.yaml")), ids=lambda f: f.stem)
def test_a_wrong_build(file: Path, tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_bytes(file.read_bytes())
    reading = read_build(tmp_path, KINDS)
    assert told(reading.faults) == expected(file)
    assert reading.build is None


@pytest.mark.parametrize(
    "file", sorted((HERE / "bad_workshops").glob("*.yaml")), ids=lambda f: f.stem
)
def test_a_wrong_workshop(file: Path) -> None:
    workshop, faults = read_workshop(file)
    assert told(faults) == expected(file)
    assert workshop is None


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    reading = read_build(tmp_path, KINDS)
    assert [f.what for f in reading.faults] == ["there is no file build.yaml here"]


def test_a_file_too_large(tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_bytes(b"# " + b"x" * 1_000_000)
    reading = read_build(tmp_path, KINDS)
    assert [f.what for f in reading.faults] == ["the file is larger than 1 MB"]


def test_a_fault_in_one_line() -> None:
    fault = Fault(
        Place("b.yaml", 3, 5), "the depth is missing", "give it", "box", "hole", "lacking"
    )
    line = "b.yaml:3:5: lacking: part 'box', feature 'hole': the depth is missing; give it"
    assert fault_line(fault) == line


SAMPLES = HERE.parents[1] / "src" / "barstock" / "samples"
TEXTS = [
    (path.name, path.read_text(encoding="utf-8").splitlines())
    for path in sorted(SAMPLES.glob("*/*.yaml"))
]
SLIPS = st.sampled_from(
    ["", "0", "-1", "nan", "1e9", "centre -50", "[1, 2]", "{}", "{left: 3, width: centre}", "12 ±",
     "No 43", "5 H7", "~", "*a", "&a 3", "!t x", "|", "1-3/8", "- x", "{row: {count: 0}}", "360"]
)  # fmt: skip


@given(st.text() | st.binary().map(lambda raw: raw.decode("latin-1")))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_at_all_is_read_or_told_why_not(tmp_path: Path, text: str) -> None:
    (tmp_path / "build.yaml").write_bytes(text.encode("utf-8", errors="surrogatepass"))
    assert read_build(tmp_path, KINDS).faults
    assert read_workshop(tmp_path / "build.yaml")[1]


@given(st.sampled_from(TEXTS), st.lists(st.tuples(st.integers(0, 10_000), SLIPS), max_size=4))
@settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60
)
def test_a_sample_with_slips_of_the_pen_is_read_or_told_why_not(
    tmp_path: Path, text: tuple[str, list[str]], slips: list[tuple[int, str]]
) -> None:
    name, lines = text[0], list(text[1])
    for where, slip in slips:
        i = where % len(lines)
        lines[i] = lines[i].partition(":")[0] + ": " + slip
    path = tmp_path / name
    path.write_text("\n".join(lines), encoding="utf-8")
    if name == "build.yaml":
        reading = read_build(tmp_path, KINDS)
        found, faults = reading.build, reading.faults
    else:
        found, faults = read_workshop(path)
    assert (found is None) == any(fault.grade == "error" for fault in faults)
