"""A part whose proof takes too long is left, and says so; the others are planned and proven."""

from pathlib import Path

from barstock import api
from barstock.api.proven_plan import proven_plan
from barstock.api.telling import silent
from barstock.solids.workers import Workers

SHOP = Path(__file__).parents[1] / "drawings" / "metric_shop" / "workshop.yaml"
BUILD = """\
build: Sieves
parts:
  sieve:
    material: mild steel
    length: 200
    width: 100
    height: 20
    features:
      holes: {kind: hole, face: top, diameter: 4, depth: through, at: {
        grid: {length: {count: 20, pitch: 9}, width: {count: 12, pitch: 7.5}},
        centre: {length: centre, width: centre}}}
  spacer:
    material: mild steel
    length: 20
    width: 12
    height: 12
"""


def test_it_is_left_with_that_reason(tmp_path: Path) -> None:
    (tmp_path / "build.yaml").write_text(BUILD, encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text(SHOP.read_text(encoding="utf-8"), encoding="utf-8")
    build, shop = api.read(tmp_path)
    with Workers(2, longest=2.0) as workers:
        made = proven_plan(build, shop, tell=silent, workers=workers, cache=None)
    assert made.proof.ok
    (left,) = made.route.left
    assert left.part == "sieve"
    assert any("of processor time" in tried.refusal for tried in left.tried)
    assert any(setup.work == "spacer" for setup in made.route.setups)
