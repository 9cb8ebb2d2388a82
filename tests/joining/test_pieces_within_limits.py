"""A whole may be as far off as its pieces may where they were cut, and no farther."""

from pathlib import Path

from barstock import api
from barstock.api.proven_plan import ProvenPlan, proven_plan
from barstock.api.telling import silent
from barstock.drawing.build_reading import read_build
from barstock.methods import KINDS
from barstock.proving.prove import prove
from barstock.solids.workers import Workers

SHOP = Path(__file__).parents[1] / "drawings" / "inch_shop" / "workshop.yaml"
BUILD = """\
build: Tee
unit: inch
least wall: .02
parts:
  base: {material: brass, length: 1-7/8, width: 3/4, height: 1/4, features: {
    fixing: {kind: hole, face: top, at: {length: centre, width: centre}, clearance for: 6 BA,
      depth: through}}}
  upright: {material: brass, length: 7/8, width: 3/4, height: 7/16, features: {
    fixing: {kind: hole, face: left, at: {width: centre, height: centre}, thread: 6 BA,
      depth: .3}}}
fabrications:
  tee:
    length: 1-7/8
    width: 3/4
    height: 1-1/8
    pieces:
      base: {part: base, at: {left: 0, front: 0, bottom: 0}}
      upright: {part: upright, turned: {bottom: left, left: bottom},
        at: {length: centre, width: centre, bottom: 1/4}}
    joints:
      foot: {between: [base, upright], form: tee, filler: Ag 155, gap: 0.05 mm to 0.10 mm}
    fixing screws:
      foot: {through: base/fixing, into: upright/fixing, material: brass, left in: true}
    features:
      feet: {kind: hole, face: top, at: [{left: 3/16, width: centre}, {right: 3/16, width: centre}],
        starts below: 7/8, diameter: 3/16, depth: through}
"""


def made(folder: Path) -> ProvenPlan:
    shop = SHOP.read_text(encoding="utf-8").replace("brass: [", "brass: [3/4 x 1/2 x 12, ")
    (folder / "build.yaml").write_text(BUILD, encoding="utf-8")
    (folder / "workshop.yaml").write_text(shop, encoding="utf-8")
    with Workers(0) as workers:
        return proven_plan(*api.read(folder), tell=silent, workers=workers, cache=None)


def test_a_clearance_hole_may_be_of_any_drill_within_its_limits(tmp_path: Path) -> None:
    """The drill owned for 6 BA's clearance is wider than the hole drawn by more than 0.02 mm."""
    plan = made(tmp_path)
    assert not plan.route.left
    (drilled,) = [o for s in plan.route.setups for o in s.operations if o.id == "base/fixing/drill"]
    wider = drilled.cutter.diameter + 0.25  # no clearance is so wide
    worse = plan.route.model_dump(mode="json")
    for setup in worse["setups"]:
        for one in setup["operations"]:
            if one["id"] == drilled.id:
                one["cutter"]["diameter"] = wider
    build = read_build(tmp_path, KINDS).build
    assert build is not None
    assert not prove(type(plan.route).model_validate(worse), build).ok
