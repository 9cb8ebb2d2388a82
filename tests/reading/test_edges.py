"""Radii and bevels have general limits of their own."""

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS

BUILD = """\
build: Edges
unit: mm
general tolerance: ISO 2768-m
parts:
  block:
    copies: 1
    material: brass
    length: 30
    width: 20
    height: 10
    features:
      rounded: {kind: edge, between: [left, front], radius: 2}
      bevelled: {kind: edge, between: [right, back], bevel: 4}
"""


def test_radii_and_bevels_take_the_limits_of_edges(tmp_path: Path) -> None:
    # ISO 2768-1 table 2, classes f and m: over 0.5 to 3 mm ±0.2, over 3 to 6 mm ±0.5.
    (tmp_path / "build.yaml").write_text(BUILD)
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    rounded, bevelled = (f.spec.checks[0].dimension for f in build.parts[0].features)
    assert (rounded.low, rounded.high) == pytest.approx((1.8, 2.2))
    assert (bevelled.low, bevelled.high) == pytest.approx((3.5, 4.5))
