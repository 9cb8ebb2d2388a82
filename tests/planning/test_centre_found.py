"""Zero half way between the sides, where a hole is held closer to the middle than the width is."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock.drawing.build import Face
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Plunge
from barstock.words.holding import setting_up
from barstock.words.reader import Reader

from .conftest import find, sample

BLOCK = """
build: Centred
unit: mm
parts:
  block: {{copies: 2, material: mild steel, length: 40, width: 20 ±0.2, height: 12, bar: 20 x 12,
    as bought: [front, back, top, bottom], features: {{pin: {{kind: hole, face: top,
    depth: through, diameter: 5, at: {{left: 12, {place}}}}}}}}}
"""


@pytest.mark.parametrize(
    ("place", "zero"),
    [
        ("width: centre +2 ±0.07", "centre"),  # half of the bar's 0.2 would eat it all
        ("width: centre +2 ±0.2", "fixed jaw"),
        ("front: 12 ±0.07", "fixed jaw"),
    ],
)
def test_the_middle_is_found_where_the_limits_ask_for_it(
    tmp_path: Path, place: str, zero: str
) -> None:
    (tmp_path / "build.yaml").write_text(BLOCK.format(place=place), encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    _, shop = sample("wagon")
    route = plan_build(build, shop)
    setup, drill = find(route, "block/pin/drill")
    assert setup.zero_y.find == zero
    # 12 from the front, 8 from the back, 2 behind the middle; readings rise away from the operator.
    behind = setup.holding.fixed_jaw is Face.BACK
    reading = (2 if behind else -2) if zero == "centre" else (-8 if behind else -12)
    assert [m.y for m in drill.moves if isinstance(m, Plunge)] == pytest.approx([reading])
    assert any("every copy" in line.words for line in setting_up(setup, Reader())) == (
        zero == "centre"
    )
    assert prove(route, build).ok
