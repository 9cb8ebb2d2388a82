"""A pin of round bar as written in build.yaml, and a shop that can make it."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import Reading, read_build
from barstock.methods import KINDS

SAMPLES = Path(__file__).parents[2] / "src" / "barstock" / "samples"

PIN = """\
build: Pins
unit: mm
parts:
  pivot pin:
    copies: 2
    material: mild steel
    length: 48 ±0.1
    diameter: 16
    bar: round 16
    features:
"""
OIL_WAY = """\
      oil way: {kind: hole, face: left, at: {width: centre, height: centre}, diameter: 4,
        depth: 20, bottom: flat}
"""
COTTER = """\
      cotter: {kind: hole, face: front, at: {right: 8 ±0.1, height: centre}, diameter: 3,
        depth: through}
"""
FLAT = """\
      flat: {kind: step, face: top, edge: left, width: 12, depth: 2.5}
"""


def written(text: str, folder: Path) -> Reading:
    """A build read from its text."""
    (folder / "build.yaml").write_text(text)
    return read_build(folder, KINDS)


def built(text: str, folder: Path) -> Build:
    """A build that has no fault."""
    reading = written(text, folder)
    assert reading.build is not None, reading.faults
    return reading.build


@pytest.fixture
def pin(tmp_path: Path) -> Build:
    """The pin with a flat and a hole up its axis; only if you do not modify it."""
    return built(PIN + FLAT + OIL_WAY, tmp_path)
