"""Small builds of a block in its guides, written for these tests."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS

PLAIN = """
build: plain block between plain guides
parts:
  block: {material: brass, length: 40, width: 20 ±0.02, height: 16}
  guide: {material: brass, length: 90, width: 30, height: 10}
mechanism:
  guides:
    block in guide:
      block: {part: block, up: right, ahead: front}
      pair: {part: guide, up: right, inward: top, apart: 20.4 +0.1/0}
"""

HORNS = """
build: box in leaning slots
parts:
  box:
    material: brass
    length: 32
    width: 28
    height: 22
    features:
      slots:
        kind: slot
        face: front
        mirrored: true
        along: length
        position: {height: centre}
        width: 8.0 +0.05/0
        across wide end: 23.0 ±0.05
        wide end: left
        lean: 1.5 ±0.25
  horn:
    material: mild steel
    length: 42
    width: 20 +0/-0.05
    height: 12
    features:
      front rebate: {kind: step, face: top, edge: front, width: 6.1 ±0.02, depth: 7 ±0.1}
      back rebate: {kind: step, face: top, edge: back, width: 6.1 ±0.02, depth: 7 ±0.1}
mechanism:
  guides:
    box in horns:
      block: {part: box, up: right, ahead: front}
      pair: {part: horn, up: right, inward: top, apart: 23.3 +0.1/0, coat: 0.02 ±0.01}
      asked: {tilt: 0.2, pitch: 1.5}
"""

Written = Callable[[str], Build]


@pytest.fixture
def written(tmp_path: Path) -> Written:
    """Reads a build from its text."""

    def read(text: str) -> Build:
        (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
        reading = read_build(tmp_path, KINDS)
        assert reading.build, reading.faults
        return reading.build

    return read
