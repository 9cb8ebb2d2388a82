"""Hole patterns that two parts share are made by the same readings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from barstock.drawing.build import Build
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.order.shared_patterns import holes
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.route import Route
from barstock.words.reader import Reader
from barstock.words.reasons import whys
from barstock.workshop.shop import Axis, Workshop

from .conftest import find, sample

Planned = tuple[Build, Workshop, Route]

# A box and its lid, bored alike: 20 apart along, 10 across. A third part's holes are 21 apart.
LIDDED = """
build: Lidded
unit: mm
parts:
  box: {copies: 2, material: mild steel, length: 40, width: 20, height: 12, bar: 20 x 12,
    as bought: [front, back, top, bottom], features: {screws: {kind: hole, face: top, depth: 6,
    thread: M3, drill depth: 8, at: {grid: {length: {count: 2, pitch: 20}, width: {count: 2,
    pitch: 10}}, centre: {left: 16, width: centre}}}}}
  strap: {copies: 2, material: mild steel, length: 34, width: 20, height: 12, bar: 20 x 12,
    as bought: [front, back, top, bottom], features: {holes: {kind: hole, face: top, depth: through,
    diameter: 3.2, at: {grid: {length: {count: 2, pitch: 21}, width: {count: 2, pitch: 10}},
    centre: {length: centre, width: centre}}}}}
  lid: {copies: 2, material: mild steel, length: 36, width: 20, height: 12, bar: 20 x 12,
    as bought: [front, back, top, bottom], features: {holes: {kind: hole, face: top, depth: through,
    diameter: 3.2, at: {grid: {length: {count: 2, pitch: 20}, width: {count: 2, pitch: 10}},
    centre: {length: centre, width: centre}}}}}
"""


@pytest.fixture
def lidded(tmp_path: Path) -> Build:
    """The box, the strap and the lid."""
    (tmp_path / "build.yaml").write_text(LIDDED, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    return build


def test_cover_takes_the_readings_of_the_axlebox(wagon: Planned) -> None:
    box, box_holes = find(wagon[2], "axlebox/cover screws/drill")
    cover, cover_holes = find(wagon[2], "axlebox cover/cover holes/drill")
    assert holes(box_holes) == holes(cover_holes)
    # The pattern's middle is 15 from the box's left end and 12 from the cover's; the box is 28
    # wide, the cover 20, both against the fixed jaw: the middles are 14 and 10 from it.
    shift = (cover.zero_x.set_to - box.zero_x.set_to, cover.zero_y.set_to - box.zero_y.set_to)
    assert shift == pytest.approx((15 - 12, -(14 - 10)))
    assert any(
        f"setup {box.id}" in why and "same readings" in why for why in whys(cover.why, Reader(), {})
    )


def test_parts_that_share_a_pattern_run_together(lidded: Build) -> None:
    _, shop = sample("wagon")
    route = plan_build(lidded, shop)
    numbers = [int(find(route, f"{name}/spot")[0].id) for name in ("box/screws", "lid/holes")]
    assert numbers[1] == numbers[0] + 1
    one, other = (find(route, f"{name}/spot")[1] for name in ("box/screws", "lid/holes"))
    assert holes(one) == holes(other)
    assert holes(one) != holes(find(route, "strap/holes/spot")[1])
    assert prove(route, lidded).ok


def test_a_handwheel_keeps_its_zero(lidded: Build) -> None:
    _, shop = sample("wagon")
    wheel = Axis(300.0, None, 2.0, 100, 0.0)
    machines = tuple(
        replace(m, x=wheel, y=wheel, z=wheel) if m.kind.value == "mill" else m
        for m in shop.machines
    )
    route = plan_build(lidded, replace(shop, machines=machines))
    setup = find(route, "lid/holes/spot")[0]
    assert setup.zero_x.set_to == -setup.zero_x.finder / 2
