"""Holes of one feature that lie so far apart that no one grip does for them all."""

from __future__ import annotations

from pathlib import Path

from barstock import api
from barstock.route import Plunge, Route

BUILD = """
build: Long strips
unit: mm
general tolerance: ISO 2768-m
workshop: workshop.yaml
parts:
  stay:
    material: mild steel
    length: 280
    width: 12
    height: 3
    bar: 12 x 3
    as bought: [front, back, top, bottom]
    features:
      rivet holes:
        kind: hole
        face: top
        at:
          row: {count: 5, span: 264, along: length}
          centre: {length: centre, width: centre}
        diameter: 4
        depth: through
        far countersink: {diameter: 6}
"""
SHOP = Path(__file__).parents[1] / "drawings" / "metric_shop" / "workshop.yaml"


def planned(folder: Path) -> Route:
    """The route of the strip in an ordinary shop that has its bar."""
    shop = SHOP.read_text(encoding="utf-8")
    shop = shop.replace("    - round 16 x 330\n", "    - round 16 x 330\n    - 12 x 3 x 330\n")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    (folder / "build.yaml").write_text(BUILD, encoding="utf-8")
    api.plan(folder, pictures=False)
    return api.route(folder)


def test_a_strip_too_long_for_two_grips_is_drilled_in_three(tmp_path: Path) -> None:
    """Nothing is left, every hole has its own countersink, and is drilled where it is spotted."""
    route = planned(tmp_path)
    assert route.left == ()
    made: dict[str, list[tuple[str, float]]] = {"spot": [], "drill": [], "countersink": []}
    for setup in route.setups:
        for operation in setup.operations:
            for move in operation.moves if operation.does in made else ():
                assert isinstance(move, Plunge)
                made[operation.does].append((setup.id, move.x))
    assert len(made["countersink"]) == 5
    assert sorted(made["spot"]) == sorted(made["drill"])
    assert len({setup for setup, _ in made["drill"]}) == 3


def test_the_bore_is_checked_in_each_grip_and_the_row_when_it_is_there(tmp_path: Path) -> None:
    route = planned(tmp_path)
    checks = [c.name for s in route.setups for o in s.operations for c in o.checks]
    assert sum("span" in name for name in checks) == 1
    assert checks.count("rivet holes/bore") == 3
