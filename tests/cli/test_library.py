"""`import barstock`: light, with everything in it that the command line uses."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from pkgutil import iter_modules

import pytest

import barstock


def test_importing_barstock_brings_in_nothing() -> None:
    code = "import sys, barstock; print(sorted(m for m in sys.modules if m.startswith('barstock')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['barstock']"


@pytest.mark.parametrize("name", barstock.__all__)
def test_every_name_is_there_and_documented(name: str) -> None:
    assert getattr(barstock, name).__doc__


def test_no_name_gives_way_to_a_package_once_that_is_imported() -> None:
    inside = {found.name for found in iter_modules(barstock.__path__)}
    assert not inside & set(barstock.__all__)
    code = (
        "import barstock, pkgutil, importlib\n"
        "before = barstock.limits\n"
        "for found in pkgutil.iter_modules(barstock.__path__):\n"
        "    importlib.import_module(f'barstock.{found.name}')\n"
        "assert barstock.limits is before\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'turn'"):
        barstock.__getattr__("turn")


def test_a_new_build_is_read_by_the_library(tmp_path: Path) -> None:
    barstock.new(tmp_path)
    build, workshop = barstock.read(tmp_path)
    assert [part.name for part in build.parts] == ["clamp block", "cover"]
    assert workshop.machines
    assert not [fault for fault in barstock.check(tmp_path) if fault.grade == "error"]


def test_faults_are_raised_whole(tmp_path: Path) -> None:
    barstock.new(tmp_path)
    path = tmp_path / "build.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("face: front", "face: frnt").replace("copies: 2", "copies: two"))
    with pytest.raises(barstock.BarstockError) as wrong:
        barstock.read(tmp_path)
    assert "frnt" in str(wrong.value)
    assert "two" in str(wrong.value)
