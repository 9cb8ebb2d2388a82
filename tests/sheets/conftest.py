"""A small block written as in build.yaml, and the wagon's parts, which hold every kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import pytest

from barstock.drawing.build import Build, Part
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.sheets.draw import draw_part
from barstock.sheets.sheet import Sheet

BLOCK = """
build: Bench block
unit: mm
general tolerance: ISO 2768-m
projection: {projection}
parts:
  block:
    copies: 2
    material: brass
    length: 40
    width: 24
    height: 16 ±0.1
    bar: 25 x 16
    as bought: [bottom]
    features:
      pin hole:
        kind: hole
        face: top
        at: {{left: 12 ±0.05, front: 9}}
        diameter: 6 H7
        depth: 10
        finish: reamed
      end hole:
        kind: hole
        face: right
        at: {{width: centre, bottom: 8}}
        diameter: 5
        depth: 7
        bottom: flat
"""


def _read(folder: Path) -> Build:
    reading = read_build(folder, KINDS)
    assert reading.build is not None, reading.faults
    return reading.build


@pytest.fixture
def block(tmp_path: Path) -> Callable[[str], Build]:
    """block("third angle"): a build of one block 40 x 24 x 16 mm."""

    def make(projection: str) -> Build:
        (tmp_path / "build.yaml").write_text(BLOCK.format(projection=projection), "utf-8")
        return _read(tmp_path)

    return make


@pytest.fixture(scope="session")
def wagon() -> Build:
    """The sample wagon; only read it."""
    return _read(Path(str(files("barstock") / "samples" / "wagon")))


@pytest.fixture(scope="session")
def wagon_sheets(wagon: Build) -> dict[str, list[tuple[Part, Sheet]]]:
    """Every part of the wagon with its sheet, by projection."""
    return {
        projection: [
            (part, draw_part(part, replace(wagon, projection=projection))) for part in wagon.parts
        ]
        for projection in ("third angle", "first angle")
    }
