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
    length: 240
    width: 12
    height: 3
    bar: 12 x 3
    as bought: [front, back, top, bottom]
    features:
      rivet holes:
        kind: hole
        face: top
        at:
          row: {count: 4, span: 224, along: length}
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


def test_a_long_strip_is_gripped_anew_for_the_holes_of_each_third(tmp_path: Path) -> None:
    """Nothing is left, every hole has its own countersink, and the jaws stand in two places."""
    route = planned(tmp_path)
    assert route.left == ()
    made: dict[str, list[float]] = {"drill": [], "countersink": []}
    gripped = set()
    for setup in route.setups:
        for operation in setup.operations:
            for move in operation.moves if operation.does in made else ():
                assert isinstance(move, Plunge)
                made[operation.does].append(move.x)
                gripped.add((setup.holding.jaws_from, setup.holding.jaws_to))
    assert len(gripped) > 1
    assert {does: len(places) for does, places in made.items()} == {"drill": 4, "countersink": 4}


def test_a_row_far_along_is_checked_once_for_its_span_and_each_bore_where_it_is_made(
    tmp_path: Path,
) -> None:
    """The span is checked when its last hole is there; the bore in every grip."""
    route = planned(tmp_path)
    checks = [c.name for s in route.setups for o in s.operations for c in o.checks]
    assert sum("span" in name for name in checks) == 1
    drilled = sum(o.does == "drill" for s in route.setups for o in s.operations)
    assert checks.count("rivet holes/bore") == drilled > 1
