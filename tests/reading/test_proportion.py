"""Limits out of all proportion to their size are told of, and do not stop the work."""

from pathlib import Path

import pytest

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS

NUT = """build: Nut
unit: mm
parts:
  nut:
    material: brass
    copies: 1
    length: 20
    width: 18
    height: 12
    features:
      tenon: {{kind: step, face: top, edge: front, mirrored: true, leaves: {leaves}, depth: 7}}
      eased: {{kind: edge, between: [left, bottom], bevel: 0.5 ±0.2}}
"""


@pytest.mark.parametrize(
    ("leaves", "told"), [("8 ±5", ["8 ±5"]), ("8 ±0.5", []), ("8 -0.1/-0.3", [])]
)
def test_limits_wider_than_a_quarter_of_the_size(
    tmp_path: Path, leaves: str, told: list[str]
) -> None:
    (tmp_path / "build.yaml").write_text(NUT.format(leaves=leaves))
    reading = read_build(tmp_path, KINDS)
    assert reading.build is not None
    assert [f.what.split("'")[3] for f in reading.faults if f.grade == "warning"] == told
