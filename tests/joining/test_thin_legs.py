"""Joined work is held by metal right across between the jaws, however thin it is there."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.planning.plan import plan_build
from barstock.proving.prove import prove
from barstock.workshop.shop import BarStock
from barstock.workshop.shop_reading import read_workshop

ARCH = """
build: Arch
unit: mm
parts:
  leg: {copies: 2, material: brass, length: 30, width: 16, height: 2, bar: 16 x 2,
    as bought: [front, back, top, bottom]}
  bridge: {material: brass, length: 40, width: 16, height: 6, bar: 16 x 6,
    as bought: [front, back, top, bottom]}
fabrications:
  arch:
    length: 40
    width: 16
    height: 36
    pieces:
      left leg: {part: leg, turned: {left: top, top: left},
        at: {length: centre -19, width: centre, bottom: 0}}
      right leg: {part: leg, turned: {right: top, top: left},
        at: {length: centre +19, width: centre, bottom: 0}}
      bridge: {part: bridge, at: {length: centre, width: centre}, against: {bottom: left leg/top}}
    joints:
      left: {between: [left leg, bridge], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
      right: {between: [right leg, bridge], form: butt, filler: Ag 155, gap: 0.05 to 0.10}
    features:
      feet: {kind: hole, face: top, at: {row: {count: 2, pitch: 20, along: length},
        centre: {length: centre, width: centre}}, diameter: 3, depth: 6}
"""


def test_legs_two_millimetres_thick_are_metal_right_across(tmp_path: Path) -> None:
    """A ninth of 40 mm is 4.4, and the middle of the first at 2.2 lies beside a leg 2 mm thick."""
    shop = Path(__file__).parents[1] / "drawings" / "metric_shop" / "workshop.yaml"
    owned, _ = read_workshop(shop)
    (tmp_path / "build.yaml").write_text(ARCH, encoding="utf-8")
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    assert owned is not None
    bars = (BarStock("16 x 2", "brass", "rectangle", 16, 2, 300),
            BarStock("16 x 6", "brass", "rectangle", 16, 6, 300))  # fmt: skip
    route = plan_build(build, replace(owned, rack=bars))
    (drilled,) = (s for s in route.setups if s.work == "arch")
    # The legs are gripped along the whole of the arch's width, not from leg to leg.
    assert drilled.holding.fixed_jaw in ("front", "back")
    assert [str(v) for v in prove(route, build).violations if v.severity == "error"] == []
