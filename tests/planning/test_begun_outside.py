"""A cut that is open to the air is begun out there, whichever side of the work it opens to."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Face
from barstock.planning.plan import plan_build
from barstock.route import Does, Traverse
from barstock.workshop.shop import BarStock

from .conftest import built, find, sample

BLOCK = """
build: Block
unit: mm
parts:
  block: {material: mild steel, length: 50, width: 25, height: 20, bar: flat,
    as bought: [front, back, top, bottom], features: {
    cut: {FEATURE}}}
"""
SLOT = "kind: slot, face: top, open at: {}, along: {}, position: {{{}: centre}}, {}"
LONG = "width: 8, length: 30, depth: 5"
SHORT = "width: 8, length: 12, depth: 5"


@pytest.mark.parametrize(
    ("feature", "axis", "sign", "edge"),
    [
        # X counts from the left edge: the work is 0 to 50; Y from the jaw at the back: -25 to 0.
        (SLOT.format("left", "length", "width", LONG), 0, -1, 0),
        (SLOT.format("right", "length", "width", LONG), 0, 1, 50),
        (SLOT.format("front", "width", "length", SHORT), 1, -1, -25),
        (SLOT.format("back", "width", "length", SHORT), 1, 1, 0),
    ],
)
def test_each_pass_begins_outside_the_work(
    tmp_path: Path, feature: str, axis: int, sign: int, edge: float
) -> None:
    flat = BarStock("flat", "mild steel", "rectangle", 25, 20, 500)
    shop = replace(sample("wagon")[1], rack=(flat,))
    build = built(tmp_path, BLOCK.replace("FEATURE", feature))
    setup, mill = find(plan_build(build, shop, steps=20_000), "block/cut/mill")
    assert (setup.zero_x.find, setup.zero_y.find) == ("left", "fixed jaw")
    assert (setup.holding.up, setup.holding.fixed_jaw) == (Face.TOP, Face.BACK)
    assert {m.does for m in mill.moves if isinstance(m, Traverse)} >= {Does.ROUGH, Does.FLOOR}
    for move in mill.moves:
        assert isinstance(move, Traverse)
        first, last = (sign * (point[axis] - edge) for point in (move.points[0], move.points[-1]))
        assert first > mill.cutter.diameter / 2
        assert last < 0
