"""A part that cannot be made from the bar with least waste is made from the next that holds it."""

from __future__ import annotations

from pathlib import Path

import pytest

from barstock import api

SHOP = Path(__file__).parents[1] / "drawings/metric_shop/workshop.yaml"
RACK = "  brass: [40 x 8 x 300, 16 x 6 x 300, 12 x 3 x 300, round 20 x 200]"
BUILD = """\
build: Trial
unit: mm
parts:
  cover:
    {material: brass, length: 290, width: 40, height: 4, features: {
    holes: {kind: hole, face: top, at: [{left: 9, width: centre}, {right: 9, width: centre}],
      depth: through, diameter: 5}}}
"""


def written(place: Path, bars: str) -> Path:
    shop = SHOP.read_text(encoding="utf-8")
    assert RACK in shop
    (place / "workshop.yaml").write_text(shop.replace(RACK, f"  brass: [{bars}]"), encoding="utf-8")
    (place / "build.yaml").write_text(BUILD, encoding="utf-8")
    return place


def test_the_next_bar_is_taken_where_the_first_cannot_be_faced(tmp_path: Path) -> None:
    # 40 x 5 leaves less to cut away, but no vise holds 290 mm of it for its top to be milled.
    made = api.plan(written(tmp_path, "40 x 5 x 600, 50 x 4 x 600"), pictures=False)
    assert made.left == ()
    assert made.proof.ok
    assert [bar.stock for bar in made.route.bars] == ["50 x 4"]


def test_where_no_bar_will_do_the_first_is_told_of(tmp_path: Path) -> None:
    made = api.plan(written(tmp_path, "40 x 5 x 600, 42 x 6 x 600"), pictures=False)
    (left,) = made.left
    assert left.features == ()
    assert left.tried[0].way.startswith("mill the")
    assert left.tried[0].way.endswith("from bar 40 x 5")


@pytest.mark.parametrize("bars", ["40 x 4 x 600, 50 x 4 x 600", "50 x 4 x 600, 40 x 4 x 600"])
def test_the_bar_with_least_waste_stays_the_first(bars: str, tmp_path: Path) -> None:
    made = api.plan(written(tmp_path, bars), pictures=False)
    assert [bar.stock for bar in made.route.bars] == ["40 x 4"]
