"""What was made by another program, or with other libraries, is never taken for today's."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import barstock

SOURCE = Path(barstock.__file__).parent
BUILD = """\
build: Keys
parts:
  spacer:
    material: mild steel
    length: 40
    width: 20
    height: 12
    bar: 20 x 12
    as bought: [front, back, bottom, top]
    features:
      hole: {kind: hole, face: top, at: {left: 10, front: 6}, diameter: 5, depth: through}
"""


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """A copy of the program, to be changed."""
    place = tmp_path / "program"
    shutil.copytree(SOURCE, place / "barstock", ignore=shutil.ignore_patterns("__pycache__"))
    return place


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A build in a folder, with a shop."""
    place = tmp_path / "build"
    place.mkdir()
    (place / "build.yaml").write_text(BUILD)
    shutil.copy(SOURCE / "samples" / "new" / "workshop.yaml", place)
    return place


def _said(program: Path, code: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | {"PYTHONPATH": str(program)},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout.strip()


@pytest.mark.parametrize(
    ("file", "was", "is_"),
    [
        ("handbook/materials.py", "\n", "\nCHANGED = 1\n"),
        ("quantities.py", "INCH = 25.4", "INCH = 25.4000"),
        ("pack/page.css", "}", "}\n\n"),
    ],
)
def test_a_constant_changed_anywhere_makes_another_key(
    program: Path, file: str, was: str, is_: str
) -> None:
    code = "from barstock.store.content import key; print(key('the same'))"
    before = _said(program, code)
    assert _said(program, code) == before
    changed = program / "barstock" / file
    text = changed.read_text(encoding="utf-8")
    assert was in text
    changed.write_text(text.replace(was, is_, 1), encoding="utf-8")
    assert _said(program, code) != before


def test_a_proof_does_not_outlive_a_constant_of_another_package(
    program: Path, folder: Path
) -> None:
    code = f"import barstock; barstock.plan({str(folder)!r}, pictures=False)"
    proofs = folder / ".barstock-cache" / "proofs"
    _said(program, code)
    first = {place.name for place in proofs.iterdir()}
    _said(program, code)
    assert {place.name for place in proofs.iterdir()} == first
    changed = program / "barstock" / "quantities.py"
    text = changed.read_text(encoding="utf-8")
    changed.write_text(text.replace("INCH = 25.4", "INCH = 25.4000", 1), encoding="utf-8")
    _said(program, code)
    assert {place.name for place in proofs.iterdir()} > first


def test_another_version_of_the_kernel_makes_another_key(program: Path, tmp_path: Path) -> None:
    code = "from barstock.store.content import key; print(key('the same'))"
    info = tmp_path / "newer" / "build123d-999.0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: build123d\nVersion: 999.0\n")
    newer = f"import sys; sys.path.insert(0, {str(info.parent)!r}); {code}"
    assert _said(program, newer) != _said(program, code)
